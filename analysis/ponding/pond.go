// Package ponding finds every depression of the surface and what it holds when full.
//
// On a surface that is linear on each facet, the parts below a level h join only at vertices. One sweep
// over the vertices by (elevation, index) with a union-find therefore gives the tree of depressions
// exactly (Carr, Snoeyink and Axen, "Computing contour trees in all dimensions", Computational Geometry
// 24, 2003; the depression hierarchy of Barnes, Callaghan and Wickert, Earth Surface Dynamics 8, 2020, on
// a triangulated surface). Outlets are sinks that never fill. Elevations are compared as they are given:
// no tolerance, no jitter.
//
// A full pond is a connected part of the surface that lies below its water; parts that only touch at their
// common level are ponds of their own, one spilling into the other. Vertices at exactly the level are dry.
//
// Every run checks itself: a flood inwards from the sinks (Barnes, Lehman and Mulla, "Priority-flood",
// Computers & Geosciences 62, 2014) must give the same level at every vertex, and every volume must equal
// the integral of the depth over the cut facets.
package ponding

import (
	"github.com/paulmach/orb"

	"runnel/analysis/surface"
)

// Pond is water held by a low place, full to its lip. Only outermost full ponds are Ponds; the pits
// that merged into one are listed in Pits.
type Pond struct {
	Pits   []int32 // lowest vertex of every depression in it (smallest index of a level set), deepest first
	Level  float64 // elevation of the full pond [m]
	Depth  float64 // Level less the lowest point [m]; 0 only for a pit that lies at an invert, or a level region with no way out
	Area   float64 // plan area of the water [m2]
	Volume float64 // [m3]

	Lip       int32 // vertex where it spills; -1 when an outlet holds the level or there is no way out
	HeldBy    int32 // outlet whose invert is the level; -1 otherwise
	ToPond    int32 // pond it spills to; -1 when none
	ToOutlet  int32 // outlet it spills to; -1 when none
	Undrained bool  // no way out at any level: Level is that of the highest vertex of the region

	Facets []int32 // facets of the cut TIN under water, wholly or in part, ascending

	node int32 // of the tree
}

// Ponds is every depression of one surface. Outlets are indices into the outlets that Find was given.
//
// A pit is a vertex, or a level set of vertices joined by edges, with no lower neighbour, unless it touches
// a dry outlet or an open edge. OfPit and Of are indexed by vertex of the TIN.
type Ponds struct {
	Ponds []Pond    // outermost full ponds of any depth, by (Volume falling, Pits[0])
	OfPit []int32   // per vertex: pond that a pit vertex is part of (its smallest index stands for a level set); -1 for all other vertices
	Level []float64 // per vertex: water level with every pond full; the vertex's own elevation where dry
	Of    []int32   // per vertex: pond that covers it, -1 where dry
	Tree  []Node    // every depression; children stand before their parents

	t      *surface.TIN
	z      []float64
	star   *star
	sinks  *sinks
	nodeOf []int32 // per vertex: innermost node whose own part it is in, -1 when it had a way out
}

// Node is one depression of the tree: a pit, or two depressions that are one above Base.
type Node struct {
	Pit         int32   // its lowest vertex
	Parent      int32   // depression it merges into when full; -1 for an outermost pond
	Left, Right int32   // depressions it is made of; -1 for a pit
	Base        float64 // elevation where it begins: the pit's, or the level at which Left and Right merge [m]
	Level       float64 // elevation where it is full [m]
	Lip         int32   // vertex where it spills; -1 when an outlet holds it or there is no way out
	HeldBy      int32   // outlet whose invert is Level; -1 otherwise
	Pond        int32   // outermost pond it is part of

	turn int32 // order in which ponds of one level found a way out
}

// Outline is a pond's water edge: outer rings counter-clockwise, islands clockwise.
type Outline = orb.MultiPolygon
