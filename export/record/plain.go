package record

import (
	"fmt"
	"math"
	"strconv"
)

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
