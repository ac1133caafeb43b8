// Package shape is test support: roofs with closed answers, and random roofs for property tests.
//
// Every constructor returns a roof.Roof as the importer would hand it over, in metres in a local frame
// whose file unit is the metre. The doc comment of each shape gives its answers in closed form, so that
// a test states them as formulas and never copies a number from the program's own output. Lengths that
// are multiples of a millimetre stand exactly on the surface's integer grid.
package shape

import (
	"fmt"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// At returns a position with an elevation.
func At(x, y, z float64) roof.Position { return roof.Position{Plan: orb.Point{x, y}, Z: z, HasZ: true} }

// Bare returns a position without an elevation.
func Bare(x, y float64) roof.Position { return roof.Position{Plan: orb.Point{x, y}} }

// New returns a walled roof with the given outline corners, counter-clockwise and not closed.
func New(name string, corners ...roof.Position) *roof.Roof {
	r := &roof.Roof{Name: name, Units: quantity.Metres}
	r.Frame.Metres = 1
	r.Outline.Rings = [][]roof.Position{closed(corners)}
	r.Outline.Origin = roof.Origin{File: name, Feature: 1}
	return r
}

// Spot adds a spot to r.
func Spot(r *roof.Roof, x, y, z float64) {
	n := len(r.Spots) + 1
	s := roof.Spot{Position: At(x, y, z)}
	s.ID = fmt.Sprintf("P%d", n)
	s.Origin = roof.Origin{File: r.Name, Line: n, ID: s.ID}
	r.Spots = append(r.Spots, s)
}

// feature names the next thing of a role, of which there are n, by a letter and its number.
func feature(r *roof.Roof, letter string, first, n int) roof.Feature {
	id := letter + strconv.Itoa(n+1)
	return roof.Feature{ID: id, Origin: roof.Origin{File: r.Name, Feature: first + n + 1, ID: id}}
}

// Breakline adds a breakline to r.
func Breakline(r *roof.Roof, t roof.BreaklineType, line ...roof.Position) {
	b := roof.Breakline{Feature: feature(r, "B", 100, len(r.Breaklines)), Line: line, Type: t}
	r.Breaklines = append(r.Breaklines, b)
}

// Curb adds a curb to r; corners counter-clockwise and not closed.
func Curb(r *roof.Roof, corners ...roof.Position) {
	c := roof.Curb{Feature: feature(r, "C", 200, len(r.Curbs)), Ring: closed(corners)}
	r.Curbs = append(r.Curbs, c)
}

// Edge adds a stretch of outline of its own type to r.
func Edge(r *roof.Roof, t roof.EdgeType, line ...roof.Position) {
	e := roof.Edge{Feature: feature(r, "G", 300, len(r.Edges)), Line: line, Type: t}
	r.Edges = append(r.Edges, e)
}

// Drain adds a drain with the given bowl diameter and no invert.
func Drain(r *roof.Roof, x, y, bowl float64) *roof.Outlet {
	return outlet(r, roof.Outlet{Plan: orb.Point{x, y}, Type: roof.Drain, Bowl: quantity.Length(bowl)})
}

// Scupper adds a scupper with the given width and no invert.
func Scupper(r *roof.Roof, x, y, width float64) *roof.Outlet {
	return outlet(r, roof.Outlet{Plan: orb.Point{x, y}, Type: roof.Scupper, Width: quantity.Length(width)})
}

func outlet(r *roof.Roof, o roof.Outlet) *roof.Outlet {
	o.Feature = feature(r, "O", 400, len(r.Outlets))
	r.Outlets = append(r.Outlets, o)
	return &r.Outlets[len(r.Outlets)-1]
}

// Grid adds spots at every crossing of a grid over the rectangle (x0,y0)-(x1,y1), borders included, with
// nx by ny equal steps and elevations from height.
func Grid(r *roof.Roof, x0, y0, x1, y1 float64, nx, ny int, height func(x, y float64) float64) {
	for j := 0; j <= ny; j++ {
		for i := 0; i <= nx; i++ {
			x := x0 + (x1-x0)*float64(i)/float64(nx)
			y := y0 + (y1-y0)*float64(j)/float64(ny)
			Spot(r, x, y, height(x, y))
		}
	}
}

func closed(corners []roof.Position) []roof.Position {
	ring := append([]roof.Position(nil), corners...)
	return append(ring, corners[0])
}
