// Package contour draws lines of equal elevation on the surface.
//
// On each facet a contour is straight. It is followed from edge to edge, so that lines come out whole:
// from border to border, or closed. A vertex exactly at a level counts as above it; so no line ends
// inside the surface, runs twice along one edge or forks, and of a level area only the lower rim is drawn.
package contour

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/surface"
)

// MostPoints is how many points the contours of one surface may have.
const MostPoints = 10_000_000

// Line is one contour, higher ground on its left. A closed line repeats its first point.
type Line struct {
	Elevation float64 // [m]
	Plan      orb.LineString
}

// IntervalError says that a surface cannot be contoured at an interval.
type IntervalError struct {
	Interval float64 // [m]
	Points   float64 // that the contours would have; 0 when the interval is no positive number
}

// Error returns what is wrong with the interval.
func (e *IntervalError) Error() string {
	if e.Points == 0 {
		return fmt.Sprintf("contour: the interval is %g m, it must be above zero", e.Interval)
	}
	return fmt.Sprintf("contour: an interval of %g m makes %.0f points, more than %d: take a wider one", e.Interval, e.Points, MostPoints)
}

// Refuse returns the *IntervalError with which Of refuses an interval; nil where it draws contours.
func Refuse(t *surface.TIN, interval quantity.Length) error {
	if !(interval > 0) || math.IsInf(float64(interval), 1) {
		return &IntervalError{Interval: float64(interval)}
	}
	w := &walker{t: t, interval: float64(interval)}
	if n := w.crossings(); n > MostPoints {
		return &IntervalError{Interval: float64(interval), Points: n}
	}
	return nil
}

// Of returns the contours at whole multiples of the interval above the site datum, by elevation, rising.
//
// interval: height from one contour to the next, > 0. An interval so narrow that the lines would
// have more than MostPoints points is refused with an *IntervalError. Contours that are one point (the
// tip of a summit at a level) are left out.
func Of(t *surface.TIN, interval quantity.Length) ([]Line, error) {
	if err := Refuse(t, interval); err != nil {
		return nil, err
	}
	w := &walker{t: t, interval: float64(interval)}
	t.Halt.Ask()
	w.prepare()
	t.Halt.Ask()
	w.all()
	t.Halt.Ask()
	slices.SortStableFunc(w.lines, func(a, b Line) int { return cmp.Compare(a.Elevation, b.Elevation) })
	return w.lines, nil
}
