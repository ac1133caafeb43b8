// Package setout writes the sheet with which a crew finds places on the roof again: points with their plan distances square
// to two walls, and their elevations relative to one bench mark.
//
// The walls are the two longest that meet at a corner of the outline; of corners where they are about as long, the one nearest to the
// points. The bench mark is an outlet's inlet, or a spot. The points are
// the outlets, of each listed pond its deepest place, its lip and places on its water's edge, the places of cores to cut and of spots to shoot next, the ends of valleys and ridges, and the
// corners of curbs. Everything is read from the study; nothing is computed anew but distances in plan.
package setout

import (
	"fmt"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/place"
	"runnel/export/record"
)

// Kind says what stands at a point.
type Kind string

// The kinds of point.
const (
	OutletPoint Kind = "outlet"
	Deepest     Kind = "pond-deepest"
	Lip         Kind = "pond-lip"
	Rim         Kind = "pond-rim"
	NextCore    Kind = "next-core"
	NextSpot    Kind = "next-spot"
	ValleyEnd   Kind = "valley-end"
	RidgeEnd    Kind = "ridge-end"
	CurbCorner  Kind = "curb-corner"
)

// Point is one numbered place.
type Point struct {
	Number     int
	Kind       Kind
	ID         string // of the result or the measured thing
	What       string // in words
	Plan       orb.Point
	Surface    float64 // elevation of the roof or, on a pond's rim, of its water [m]
	HasSurface bool
	Inlet      float64 // elevation of an outlet's inlet [m]
	HasInlet   bool
	A, B       float64 // plan distances square to the lines of walls A and B, positive on the roof's side [m]
	Corner     float64 // plan distance from the corner of the two walls [m]
}

// Mark is the bench mark.
type Mark struct {
	What    string // in words
	Plan    orb.Point
	Z       float64 // [m]
	Inlet   bool    // of a drain or scupper, which its name finds
	Made    bool    // on a wall or curb before the work, level with a place that the work covers
	Assumed bool    // its elevation was not measured
}

// Sheet is all that is written.
type Sheet struct {
	Walls  [2]place.Wall // A and B
	Corner orb.Point
	Mark   Mark
	Points []Point

	book *record.Book
}

// New lays out the sheet of b. mark names the bench mark: the label or id of an outlet, or the id of a spot; empty takes the first
// primary outlet or, without one, the lowest corner of the outline. The error says that there is no such mark.
func New(b *record.Book, mark string) (*Sheet, error) {
	s := &Sheet{book: b}
	border := place.Borders(b.Study.Surface.TIN)
	s.Points = gathered(b, border)
	if err := s.walls(border); err != nil {
		return nil, err
	}
	var err error
	if s.Mark, err = findMark(b, border, mark); err != nil {
		return nil, err
	}
	for i := range s.Points {
		p := &s.Points[i]
		p.Number = i + 1
		p.A, p.B = s.Walls[0].Square(p.Plan), s.Walls[1].Square(p.Plan)
		p.Corner = vector.Distance(s.Corner, p.Plan)
	}
	return s, nil
}

// Relative returns an elevation relative to the bench mark [m].
func (s *Sheet) Relative(z float64) float64 { return z - s.Mark.Z }

// UnknownMarkError says that no outlet and no spot has the name of the bench mark that was asked for.
type UnknownMarkError struct{ Name string }

func (e *UnknownMarkError) Error() string {
	return fmt.Sprintf("bench mark %q: no outlet has that label or id, and no spot that id", e.Name)
}
