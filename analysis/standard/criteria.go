// Package standard holds the published limits and coefficients that results are compared with, each
// with its source and whether that source was read or remembered. It holds no formulas.
package standard

import "runnel/analysis/choose"

// Criteria are the limits a check compares with. Lengths in metres, slopes as rise over run, areas in m2.
type Criteria struct {
	Practice       Practice // that gave what nobody stated
	MinSlope       float64  // planes, as found; see MinSlopeFound
	MinSlopeNew    float64  // new work and corrections; see MinSlopeNew
	MinValleySlope float64
	PondDepth      float64 // a pond is listed from this depth
	PondDepthWide  float64 // and from this depth where it covers WideArea or more
	WideArea       float64
	NearOutlet     float64 // a small pond this near an outlet is less severe
	MaxTravel      float64 // 0: none
	Contour        float64 // interval
	RainPrimary    float64 // m/s; 0: none given, capacity is not checked
	RainOverflow   float64 // m/s; 0: none given
	OverflowStated float64 // of an overflow over its primary outlet at most, as an engineer states it; 0: none given
}

// OverflowMost is how far an overflow may stand over its primary outlet [m]: the engineer's figure, else OverflowHeight.
func (c *Criteria) OverflowMost() float64 {
	return choose.If(c.OverflowStated > 0, c.OverflowStated, OverflowHeight)
}

// ListedFrom is the depth from which a pond of that area [m2] is listed [m].
func (c *Criteria) ListedFrom(area float64) float64 {
	return choose.If(area >= c.WideArea, min(c.PondDepth, c.PondDepthWide), c.PondDepth)
}

// Overrides are criteria that somebody stated: by name ("min_slope", "pond_depth", ...; see Names), in SI.
// Later sources win: defaults, then the outline's properties, then a criteria file, then flags.
type Overrides map[string]float64
