package capacity

import (
	"fmt"
	"math"
	"strconv"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// PipeCapacity returns what a horizontal pipe takes, by one of PipeMethods; empty for the usual one. Sizes and slopes
// between those of the table count as the next lower; a pipe flatter than the flattest column is given that column's flow times
// the root of the slopes' ratio, and Outside. Errors as of LeaderCapacity.
func PipeCapacity(diameter quantity.Length, slope quantity.Slope, method string) (Link, error) {
	method, err := pick("horizontal pipe", method, PipeMethods())
	if err != nil {
		return Link{}, err
	}
	l, err := pipeBy(diameter, slope, method)
	if err != nil || method != PipeTable {
		return l, err
	}
	if lower, err := pipeBy(diameter, slope, OlderAreas); err == nil { // those tables begin at 3 in
		l.Lower = &lower
	}
	return l, nil
}

func pipeBy(diameter quantity.Length, slope quantity.Slope, method string) (Link, error) {
	l := Link{Name: "horizontal pipe", Method: method}
	if method == Rainwater {
		l.Source, l.Capacity = standard.RainwaterDrainSource, settled(drainFlow(float64(diameter), float64(slope)))
		return l, nil
	}
	slopes := choose.If(method == OlderAreas, standard.SlopedAreaSlopes, standard.PipeSlopes)
	column := 0
	for i, s := range slopes {
		if s <= float64(slope)+1e-9 {
			column = i
		}
	}
	var err error
	if method == OlderAreas {
		l.Source, l.Note = standard.SlopedAreaSource, "area at 1 in/h"
		err = l.fromAreas(diameter, standard.SlopedAreaRows[column])
	} else {
		err = l.fromPipes(diameter, func(r standard.PipeRow) float64 { return r.SlopedGPM[column] })
	}
	if err != nil {
		return l, err
	}
	switch used := slopes[column]; {
	case float64(slope) < used-1e-9:
		l.Capacity *= math.Sqrt(float64(slope) / used)
		l.Outside = fmt.Errorf("the horizontal pipe falls %s, under the %s at which its table begins", slopeText(float64(slope)), slopeText(used))
	case float64(slope) > used+1e-9:
		l.Note = joined(l.Note, "the slope is not tabulated: the next flatter, "+slopeText(used)+", stands for it")
	}
	l.Capacity = settled(l.Capacity)
	return l, nil
}

// drainFlow is what a horizontal pipe [m] of a slope takes when it runs RainwaterDrainFill full [m3/s], by Colebrook and White.
func drainFlow(diameter, slope float64) float64 {
	// Of a circle filled to the share h of its diameter: the angle that the water's surface spans, its area and wetted edge.
	angle := 2 * math.Acos(1-2*standard.RainwaterDrainFill)
	area := diameter * diameter / 8 * (angle - math.Sin(angle))
	across := 4 * area / (diameter / 2 * angle) // four times the hydraulic radius
	root := math.Sqrt(2 * standard.Gravity * across * slope)
	speed := -2 * root * math.Log10(standard.RainwaterDrainRoughness/(3.71*across)+2.51*standard.WaterViscosity/(across*root))
	return area * speed
}

// slopeText writes a slope: 0.25 in per ft.
func slopeText(s float64) string {
	return strconv.FormatFloat(quantity.Round(s*12, 4), 'f', -1, 64) + " in per ft"
}
