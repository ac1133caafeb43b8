// Package taper finds the least corrective surface of a roof: the lowest one that stays a minimum thickness above
// what it is laid on and from each of whose points a way falls to an outlet at a stated slope.
//
// Distance is measured with a gauge, N(v) = max over k of n_k·v, a polygon round the unit circle turned along the roof's main
// edge. The least surface over a set of sources (outlets, each with its elevation) is then
//
//	S(x) = min over sources o of z_o + s*N(o, x),
//
// N(o, x) the length of the shortest way on the roof, round curbs and re-entrant corners. Every piece of S is a plane of slope s, and
// valleys between equal directions fall at s*cos(pi/K): a surface that a crew can build from boards. Shortest ways
// bend only at corners, so the corners that a straight line from a source sees become sources themselves (a visibility graph and
// Dijkstra's method on it), and S is the lower envelope of one cone of K planes a source over the part of the roof it
// sees. The envelope is kept as convex cells with one plane each; cells of one plane that touch are one Facet, and the lines between
// facets are the design's ridges, valleys and hips.
//
// Where the base (an existing surface, a deck) is not level, sources are raised until S clears it by the minimum
// thickness: a cone clears the base everywhere if and only if its elevation is at least the largest of base + thickness -
// s*N. That keeps every facet a plane. Lower surfaces exist that follow the base's humps; Clear computes the lowest on the vertices of a
// mesh, as the bound that a design is compared with and as a fill in its own right.
package taper

import (
	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/taper/domain"
)

// Base is what a new surface is laid on: an elevation for each vertex of a TIN [m], linear on its facets.
type Base struct {
	TIN *surface.TIN
	Z   []float64 // len == len(TIN.X)

	over *overlay // made once by Prepared; nil: made for each design
}

// Prepared returns b with its planes worked out, for many designs over it.
func (b Base) Prepared() Base {
	if b.over != nil {
		return b
	}
	own := b
	b.over = newOverlay(&own)
	return b
}

// overlay returns the planes of b.
func (b *Base) overlay() *overlay {
	if b.over != nil {
		return b.over
	}
	return newOverlay(b)
}

// Existing returns the measured surface as base.
func Existing(t *surface.TIN) Base { return Base{TIN: t, Z: t.Z} }

// Source is where water leaves: an outlet's place, or the line of a gutter or free edge.
type Source struct {
	Outlet int            // index into Surface.Outlets
	Plan   orb.Point      // place [m]; for a line its first point
	Line   orb.LineString // of an edge outlet, else nil
	Z      float64        // lowest elevation that it may be given [m]
}

// Problem is what a design has to meet.
type Problem struct {
	Domain    *domain.Domain
	Base      Base
	Sources   []Source
	Gauge     domain.Gauge
	Slope     float64 // fall per unit of the gauge [rise/run], > 0
	Thickness float64 // least height of the new surface above the base [m]
}

// Design is a new surface in planes.
type Design struct {
	Gauge     domain.Gauge
	Slope     float64 // [rise/run]
	Thickness float64 // the least asked for [m]
	Outlets   []Level
	Vertices  []Vertex
	Lines     []Line  // ridges, valleys, hips and folds, by first and second vertex
	Facets    []Facet // by lowest cell
	Fill      Fill
	Leveller  Leveller // of it, under boards of stock
	Fall      float64  // to which low places are levelled under them, in the gauge [rise/run]

	cells  []cell
	planes []plane
	facet  []int32 // per cell
	fresh  []bool  // per vertex: a corner of a new facet
	mesh   bool    // facets are those of the base: only elevations change
	find   *finder
	near   *beside  // made when it is first asked
	news   []Line   // likewise: those that bound new planes
	over   *overlay // over what it is laid on
	stock  *stock   // of the facets that are boards of stock; nil: planes of their own, whatever they are laid on
}

// Level is the elevation that a design gives a source.
type Level struct {
	Source // Z is what was allowed
	Top    float64
}

// Vertex is a corner of the design.
type Vertex struct {
	Plan orb.Point
	Z    float64 // of the new surface [m]
	Base float64 // of what it is laid on [m]
}

// Thickness returns the height of the new surface above its base [m].
func (v Vertex) Thickness() float64 { return v.Z - v.Base }

// Line is a fold between two facets, from vertex A to vertex B.
type Line struct {
	A, B        int
	Kind        roof.BreaklineType // Ridge or Hip where water parts, Valley where it meets, GradeBreak where it crosses
	Left, Right int                // facets
	Slope       float64            // fall along the line [rise/run], never negative
	Length      float64            // in plan [m]
}

// Facet is one plane of a design: z = Z + DX*(x - Plan[0]) + DY*(y - Plan[1]).
type Facet struct {
	Plan     orb.Point // a place on the plane; the source or corner that it rises from
	Z        float64
	DX, DY   float64     // uphill gradient [rise/run]
	Taper    orb.Point   // uphill gradient of the boards' thickness where stock is laid; else 0 [rise/run]
	Along    orb.Point   // of stock beyond a cut line: unit vector along which courses are counted from Plan; else 0
	Existing bool        // the surface stays as it is here
	Area     float64     // plan area [m2]
	Polygon  orb.Polygon // outer ring counter-clockwise, then holes clockwise; closed; nil where it is thinner than can be drawn
	Fill     float64     // volume above the base less volume below [m3]
	Thinnest float64     // least and greatest thickness on it [m]
	Thickest float64

	moved bool // a facet of the base with corners moved
	stock bool // a section of stock boards
}

// Moved reports whether f is a facet of what it is laid on with corners moved, and no plane of its own.
func (f *Facet) Moved() bool { return f.moved }

// ofMesh reports whether the facet's sides are those of what it is laid on: they need no lines of their own.
func (f *Facet) ofMesh() bool { return f.Existing || f.moved }

// Fill is what lies between a design and its base. A cut is negative thickness; what a Solution leaves has none.
type Fill struct {
	Volume   float64   // above the base [m3]
	Cut      float64   // below it [m3]
	Area     float64   // plan area of the facets that are new [m2]
	Thinnest float64   // least thickness, the deepest cut where negative [m]
	Thickest float64   // [m]
	At       orb.Point // where it is thickest
}
