// Package mesh triangulates points and segments on an integer grid: the Delaunay triangulation and its
// constrained form, exact on every input.
//
// Points are inserted one by one along a Hilbert curve, each by a short walk and the removal of the triangles
// whose circumcircle holds it; ghost triangles outside the hull share a vertex at infinity. Segments are then forced in by
// flipping the edges that they cross (Sloan, "A fast algorithm for generating constrained Delaunay triangulations",
// Computers and Structures 47(3), 1993; from memory), and last a fixed rule settles the diagonals of cocircular points. All
// decisions are signs of integer determinants (package geometry).
package mesh

import (
	"fmt"
	"slices"

	"runnel/analysis/geometry"
	"runnel/analysis/halt"
)

// Mesh is a triangulation in flat arrays. Half-edge e = 3*f + c starts at corner c of triangle f, vertex
// V[e]; triangles are counter-clockwise; Twin[e] is the same edge seen from the neighbour, -1 on the hull.
type Mesh struct {
	X, Y, Z []int32 // per vertex, grid units
	V, Twin []int32 // per half-edge
	Flag    []uint8 // per half-edge: the flags of the segments on it, plus Tie
}

// Tie marks an edge whose two triangles are cocircular: the fixed rule chose the diagonal.
const Tie uint8 = 1 << 7

// Next returns the half-edge that follows e round its triangle.
func Next(e int32) int32 {
	if e%3 == 2 {
		return e - 2
	}
	return e + 1
}

// Prev returns the half-edge before e round its triangle.
func Prev(e int32) int32 {
	if e%3 == 0 {
		return e + 2
	}
	return e - 1
}

// Segment is an edge that must appear in the mesh, whole or in pieces. Flag is put on both half-edges
// (or-ed where segments overlap); it must not be 0 nor hold Tie.
type Segment struct {
	A, B int32
	Flag uint8
}

// Crossing says that a segment could not be inserted because it crosses, at an inner point of both, the
// constrained edge from vertex A to vertex B.
type Crossing struct {
	Segment int
	A, B    int32
}

// Triangulate returns the constrained Delaunay triangulation of the points' convex hull. len(x) == len(y) ==
// len(z); z only settles ties. No triangle's circumcircle holds a vertex that it can see past the segments.
//
// Where four or more points lie on one circle the diagonals are chosen by a fixed rule, so that the result depends neither
// on the order of the input nor on the method: see ties.go.
//
// Segments may overlap, share ends and run through points. Two that cross at an inner point of both
// come back as crossings, and the mesh is then nil: insert the point where they meet and call again.
//
// It fails on fewer than three points, equal points, points on one line, spans beyond geometry.MaxSpan and segments
// that join a point to itself or lack a flag.
func Triangulate(x, y, z []int32, segments []Segment) (*Mesh, []Crossing, error) {
	return TriangulateUntil(nil, x, y, z, segments)
}

// TriangulateUntil is Triangulate, looking at a line that may stop it.
func TriangulateUntil(line *halt.Line, x, y, z []int32, segments []Segment) (*Mesh, []Crossing, error) {
	if err := checkInput(x, y, z, segments); err != nil {
		return nil, nil, fmt.Errorf("mesh: %w", err)
	}
	b, err := newBuilder(x, y, z)
	if err != nil {
		return nil, nil, fmt.Errorf("mesh: %w", err)
	}
	b.line = line
	if err := b.delaunay(); err != nil {
		return nil, nil, fmt.Errorf("mesh: %w", err)
	}
	if crossings := b.constrain(segments); len(crossings) > 0 {
		return nil, crossings, nil
	}
	b.settleTies()
	return b.mesh(x, y, z), nil, nil
}

func checkInput(x, y, z []int32, segments []Segment) error {
	if len(y) != len(x) || len(z) != len(x) {
		return fmt.Errorf("%d, %d and %d coordinates", len(x), len(y), len(z))
	}
	for _, c := range [][]int32{x, y, z} {
		if len(c) > 0 && int64(slices.Max(c))-int64(slices.Min(c)) > geometry.MaxSpan {
			return fmt.Errorf("points span more than %d grid units", geometry.MaxSpan)
		}
	}
	for i, s := range segments {
		switch {
		case s.A < 0 || s.B < 0 || int(s.A) >= len(x) || int(s.B) >= len(x):
			return fmt.Errorf("segment %d names a point that is not there", i)
		case s.A == s.B:
			return fmt.Errorf("segment %d joins point %d to itself", i, s.A)
		case s.Flag == 0 || s.Flag&Tie != 0:
			return fmt.Errorf("segment %d has flag %#x", i, s.Flag)
		}
	}
	return nil
}

// mesh returns the real triangles in the caller's numbering.
func (b *builder) mesh(x, y, z []int32) *Mesh {
	real := int32(0)
	for t := range b.tris {
		tri := &b.tris[t]
		tri.v[3] = -1
		if v := &tri.v; v[0] != b.ghost && v[1] != b.ghost && v[2] != b.ghost {
			tri.v[3] = real
			real++
		}
	}
	m := &Mesh{X: x, Y: y, Z: z, V: make([]int32, 3*real), Twin: make([]int32, 3*real), Flag: make([]uint8, 3*real)}
	for t := range b.tris {
		tri := &b.tris[t]
		if tri.v[3] < 0 {
			continue
		}
		e := 3 * int(tri.v[3])
		v, twin, flag := m.V[e:e+3], m.Twin[e:e+3], m.Flag[e:e+3]
		for c := range 3 {
			v[c] = b.order[tri.v[c]]
			flag[c] = tri.flag[c]
			twin[c] = -1
			o := tri.twin[c]
			if n := b.tris[o>>2].v[3]; n >= 0 {
				twin[c] = 3*n + o&3
			}
		}
	}
	return m
}

// Mirror turns the triangles of a mesh about, corner 0 of each kept: those that were clockwise in its coordinates are counter-clockwise.
func (m *Mesh) Mirror() {
	for f := 0; f < len(m.V); f += 3 {
		m.V[f+1], m.V[f+2] = m.V[f+2], m.V[f+1]
		m.Twin[f], m.Twin[f+2] = m.Twin[f+2], m.Twin[f]
		m.Flag[f], m.Flag[f+2] = m.Flag[f+2], m.Flag[f]
	}
	for e, o := range m.Twin {
		if o >= 0 {
			m.Twin[e] = o - o%3 + 2 - o%3
		}
	}
}
