package palette

import (
	"fmt"
	"math"
	"strconv"
)

// Tint mixes a share of a colour with white.
func Tint(colour string, share float64) string {
	n, err := strconv.ParseUint(colour[1:], 16, 32)
	if err != nil {
		return colour
	}
	mixed := uint64(0)
	for shift := 16; shift >= 0; shift -= 8 {
		part := float64(n >> shift & 255)
		mixed |= uint64(math.Round(255-float64((255-part)*share))) << shift
	}
	return fmt.Sprintf("#%06X", mixed)
}
