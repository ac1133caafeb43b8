// Package ponding finds every depression of the surface and what it holds when full.
package ponding

import "github.com/paulmach/orb"

// Pond is water held by a low place, full to its lip. Only outermost full ponds are Ponds; the pits
// that merged into one are listed in Pits.
type Pond struct {
	Pits   []int32 // lowest vertex of every depression in it (smallest index of a level set), deepest first
	Level  float64 // elevation of the full pond [m]
	Depth  float64 // Level less the lowest point [m]
	Area   float64 // plan area of the water [m2]
	Volume float64 // [m3]

	Lip       int32 // vertex where it spills; -1 when an outlet holds the level or there is no way out
	HeldBy    int32 // outlet whose invert is the level; -1 otherwise
	ToPond    int32 // pond it spills to; -1 when none
	ToOutlet  int32 // outlet it spills to; -1 when none
	Undrained bool  // no way out at any level

	Facets []int32 // facets of the cut TIN under water, wholly or in part, ascending
}

// Ponds is every depression of one surface.
type Ponds struct {
	Ponds []Pond          // outermost full ponds of any depth, by (Volume falling, Pits[0])
	OfPit map[int32]int32 // pit vertex -> index of the pond it is part of
	Level []float64       // per vertex: water level with every pond full; the vertex's own elevation where dry
	Of    []int32         // per vertex: pond that covers it, -1 where dry
}

// Outline is a pond's water edge: outer rings counter-clockwise, islands clockwise.
type Outline = orb.MultiPolygon
