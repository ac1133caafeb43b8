// Package board lays insulation boards over the planes of a taper: which tapered board lies where, on which
// flat fill, cut how, and how many there are of each.
//
// Boards lie in courses. A course is a strip one board long, counted from the line where the plane is
// thinnest, so that the courses of neighbouring planes that fall to the same outlet meet at the valley or hip
// with equal thickness and only a mitre cut lies between them. Thickness grows by rate times length from one
// course to the next; after as many boards as stay within the greatest thickness of one layer the set is
// repeated on flat fill (fill step = rate x length x boards in the set).
//
// A board is named by the thicknesses of its two edges. Pieces are counted, not nested: an off-cut that
// fits elsewhere saves a board that this count does not know of, and breakage costs one; the user's waste
// stands for the difference.
package board

import (
	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// Stock is what a supplier has.
type Stock struct {
	Rates         []quantity.Slope // of taper, rising
	Length, Width quantity.Length  // in plan: along the fall and along the level line
	Thin          quantity.Length  // thin edge of the thinnest tapered board
	Greatest      quantity.Length  // thickness of one layer, flat or tapered
	FillStep      quantity.Length  // flat boards come in steps of it
}

// Usual returns the boards of standard.BoardRates and the figures beside it.
func Usual() Stock {
	s := Stock{
		Length: quantity.Length(standard.BoardLength), Width: quantity.Length(standard.BoardWidth),
		Thin: quantity.Length(standard.BoardThinEdge), Greatest: quantity.Length(standard.BoardThickest),
		FillStep: quantity.Length(standard.BoardFillStep),
	}
	for _, r := range standard.BoardRates {
		s.Rates = append(s.Rates, quantity.Slope(r))
	}
	return s
}

// Field is one plane of a taper: its thickness at (x, y) is Thickness + DX*(x - Low[0]) + DY*(y - Low[1]).
type Field struct {
	Polygon   orb.Polygon
	Low       orb.Point // where courses begin, such as the outlet
	Thickness float64   // there [m]
	DX, DY    float64   // gradient of the thickness [rise/run]
	Along     orb.Point // of a level field: unit vector along which courses are counted; 0: east
}

// rate returns the taper of the field, rise over run.
func (f *Field) rate() float64 { return vector.Norm(f.DX, f.DY) }

// Kind is a board by the thicknesses of its edges [m]: Thin equals Thick where it is flat.
type Kind struct{ Thin, Thick float64 }

// Flat reports whether the board is flat.
func (k Kind) Flat() bool { return k.Thin == k.Thick }

// Piece is a board or a part of one where it lies.
type Piece struct {
	Field, Course int
	Kind          Kind
	Fill          []float64        // flat layers under it, bottom first [m]
	Plan          orb.MultiPolygon // its outline after cutting
	Area          float64          // [m2]
	Whole         bool             // nothing is cut off

	tapered float64 // volume of the board without the fill [m3]
}

// Row is one line of the schedule.
type Row struct {
	Kind       Kind
	Whole, Cut int     // pieces
	Boards     int     // to order: whole and cut pieces and the waste
	Area       float64 // covered [m2]
	Volume     float64 // covered [m3]
}

// Layout is the boards of a taper.
type Layout struct {
	Stock    Stock
	Waste    float64
	Pieces   []Piece // by field, course, then along the course
	Schedule []Row   // tapered by thickness, then flat by thickness
	Odd      []int   // fields that the stock cannot lay
	Short    float64 // greatest thickness that flat fill in steps leaves out below a board [m]
	Volume   float64 // of all boards as laid [m3]
	Cuts     float64 // length of the cuts at the fields' borders [m]
}
