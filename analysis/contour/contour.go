// Package contour draws lines of equal elevation on the surface.
package contour

import "github.com/paulmach/orb"

// Line is one contour, higher ground on its left. A closed line repeats its first point.
type Line struct {
	Elevation float64 // [m]
	Plan      orb.LineString
}
