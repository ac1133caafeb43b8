package record

import (
	"fmt"
	"math"
	"strconv"
)

// Unit is a unit of the reader's: how it is written, and how large it is in SI.
type Unit struct {
	Name string
	Size float64
}

// DepthUnit is the unit of short lengths.
func (u Units) DepthUnit() Unit {
	if u == US {
		return Unit{"in", inch}
	}
	return Unit{"mm", 0.001}
}

// AreaUnit is that of plan areas.
func (u Units) AreaUnit() Unit {
	if u == US {
		return Unit{"ft2", foot * foot}
	}
	return Unit{"m2", 1}
}

// MassUnit is that of what water weighs.
func (u Units) MassUnit() Unit {
	if u == US {
		return Unit{"lb", pound}
	}
	return Unit{"kg", 1}
}

// VolumeUnit is the unit of volumes of water.
func (u Units) VolumeUnit() Unit {
	if u == US {
		return Unit{"gal", gallon}
	}
	return Unit{"litres", 0.001}
}

// FlowUnit is the unit of flows of water.
func (u Units) FlowUnit() Unit {
	if u == US {
		return Unit{"gpm", gallon / 60}
	}
	return Unit{"L/s", 0.001}
}

// SayTime writes a time: "45 min", "1 h 20 min".
func SayTime(seconds float64) string {
	minutes := int(math.Round(seconds / 60))
	switch {
	case minutes < 1 && seconds > 0:
		return "under 1 min"
	case minutes < 60:
		return strconv.Itoa(minutes) + " min"
	case minutes%60 == 0:
		return strconv.Itoa(minutes/60) + " h"
	}
	return fmt.Sprintf("%d h %d min", minutes/60, minutes%60)
}
