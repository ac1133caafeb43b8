package draft

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"
)

// Bounds of what is taken for a coordinate or an elevation. No roof stands lower than the Dead Sea's shore
// or higher than the highest mountain; beyond lie signs for "no data" and wrong units.
const (
	maxCoordinate = 1e8     // in the file's unit: wider than any national grid
	minElevation  = -1000.0 // m
	maxElevation  = 10000.0 // m
)

// CheckPlace returns the rule that a place breaks and the mend, or nothing.
func (s Setting) CheckPlace(p orb.Point) (rule, mend string) {
	switch {
	case !finite(p[0]) || !finite(p[1]):
		return "a coordinate is not a finite number", "write a number"
	case s.Geographic && math.Abs(p[1]) > 90:
		return fmt.Sprintf("latitude %.10g is over 90", p[1]), "longitude comes first; for a site grid say --frame local"
	case s.Geographic && math.Abs(p[0]) > 180:
		return fmt.Sprintf("longitude %.10g is over 180", p[0]), "for a site grid say --frame local"
	case math.Abs(p[0]) > maxCoordinate || math.Abs(p[1]) > maxCoordinate:
		return "a coordinate is too large for any site grid", "correct the coordinate"
	}
	return "", ""
}

// CheckElevation returns the rule that an elevation in metres breaks and the mend, or nothing.
func CheckElevation(z float64) (rule, mend string) {
	switch {
	case !finite(z):
		return "the elevation is not a finite number", "write the measured elevation, or take the point out"
	case z < minElevation || z > maxElevation:
		return fmt.Sprintf("no roof stands at an elevation of %.6g m", z), "correct the elevation or its unit; take out points whose elevation was not measured"
	}
	return "", ""
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// Listing writes up to ten names, and how many more there are.
func Listing(names []string) string {
	const most = 10
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}
