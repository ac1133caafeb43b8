// Package fold finds the ridges, hips and valleys that nobody coded.
//
// A triangulation through spots runs its edges across a fold that no spot marks: across a valley they make a dam, across a ridge a notch, and the
// facets between are planes that the roof does not have. The planes themselves are known from their spots, and so is the line on which they
// meet. So: planes are grown over the spots, from discs of neighbours that lie on one, best first, each flooded and refitted until it
// stands still. Spots where two planes meet go to the side of the line on which they stand. Wherever an edge of the mesh then joins spots of
// two planes, the place where the planes are equal is a point of the fold; points of one triangle are joined, so that folds come out as
// chains from edge to edge, ending where an edge of the roof, a coded line or an end of a plane stops them.
//
// A fold is kept only if it is more than the scatter can make: at some edge the planes must meet farther off the edge than three standard
// deviations of the planes there, which rest on many spots, and than a quarter of a single spot's; and the spots beside it must lie nearer the
// two planes than a smooth bowl or dome, which has as many coefficients: a dish bends and does not fold. Coded lines bound planes, so where lines were coded nothing is found.
package fold

import "runnel/analysis/halt"

// Field is a mesh of measured places round an origin near its middle. Half-edge e = 3*f + c starts at corner c of triangle f, as in package mesh.
type Field struct {
	X, Y, Z  []float64 // per vertex [m]
	Sigma    []float64 // per vertex: standard deviation of its elevation [m], 0 unknown
	Measured []bool    // per vertex: a plane may rest on it
	Coded    []bool    // per vertex: it lies on a coded line, which bounds planes
	Outlet   []bool    // per vertex: it stands at an outlet, and a fold that passes it leads there; nil: none
	V, Twin  []int32   // per half-edge
	Halt     *halt.Line
}

// Point is a place on a fold.
type Point struct {
	X, Y, Z float64 // [m]
	Vertex  int32   // of the mesh, where the fold runs through one; else -1
	Edge    int32   // half-edge of the mesh that it lies on; -1 inside a triangle
	Sigma   float64 // of its elevation [m]: nobody measured it, so no less than it stands off the mesh
	Below   float64 // the same downwards [m]: a blunt valley lies higher than its planes meet, up to the mesh, and never lower, so there it is the error of the planes
}

// Folds is what was found.
type Folds struct {
	Planes []Plane
	Label  []int32 // per vertex: its plane; -1 none
	Points []Point

	// Elsewhere marks the vertices that nobody measured and whose plane is that of another part of the roof, which reaches there along the border only. Nil
	// where no plane was looked for.
	Elsewhere []bool
	Links     [][2]int32 // pairs of points that a fold joins, straight
	Lines     int        // pairs of planes that meet in a fold
	Open      []float64  // per vertex: how far the mesh may stand off the roof beside it where two planes meet in no fold that could be shown [m]
	Sigma     float64    // standard deviation of a spot: as stated, or estimated [m]
	Scatter   float64    // the same about the planes, where no spot states any and the planes tell it; else 0
}

// Find returns the folds of a field. It is empty, and not nil, where there are none.
func Find(f *Field) *Folds {
	g := newGrower(f)
	scatter := 0.0
	if stated(f.Sigma) == 0 && len(f.X) <= mostScattered {
		if scatter = g.aboutPlanes(); scatter > 0 {
			g = g.anew(scatter)
		}
	}
	out := &Folds{Label: g.label, Open: make([]float64, len(f.X)), Sigma: g.typical, Scatter: scatter}
	if g.tooDense() {
		return out
	}
	g.planes()
	p := &pairs{grower: g, gap: farApart * g.side()}
	p.settle()
	out.Planes = g.list
	p.mark(out)
	return out
}
