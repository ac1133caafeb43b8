// Package mesh triangulates points and segments on an integer grid: the Delaunay triangulation and its
// constrained form, exact on every input.
package mesh

// Mesh is a triangulation in flat arrays. Half-edge e = 3*f + c starts at corner c of triangle f, vertex
// V[e]; triangles are counter-clockwise; Twin[e] is the same edge seen from the neighbour, -1 on the hull.
type Mesh struct {
	X, Y, Z []int32 // per vertex, grid units
	V, Twin []int32 // per half-edge
	Flag    []uint8 // per half-edge: the flags of the segments on it, plus Tie
}

// Tie marks an edge whose two triangles are cocircular: the fixed rule chose the diagonal.
const Tie uint8 = 1 << 7

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
