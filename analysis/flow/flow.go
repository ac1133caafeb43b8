// Package flow says where every place of the surface drains to, by steepest descent.
//
// Water runs straight down each facet, along valleys, walls and curbs, and stops in an outlet's
// footprint, at an open edge or in a depression.
package flow

import "github.com/paulmach/orb"

// Label is where a place drains to: an outlet (its index) or a pit (see PitLabel). Unlabelled is -1.
type Label int32

// End is what a label stands for.
type End struct {
	Outlet int32 // index into surface.Outlets; -1 for a pit
	Pit    int32 // pit vertex of the cut TIN (smallest index of its level set); -1 for an outlet
}

// Strip is a part of a facet that drains to one label; a facet's strips cover it without overlap.
type Strip struct {
	Facet int32
	Label Label
	Ring  orb.Ring // closed, counter-clockwise
}

// Network is the drainage of one surface.
type Network struct {
	Ends          []End     // by label; outlets first, in order, then pits by vertex
	Area          []float64 // per label [m2]
	TravelMax     []float64 // per label: longest travel to the footprint's edge or the pit [m]
	TravelMean    []float64 // per label: area-weighted [m]
	Indeterminate float64   // plan area of level facets, whose direction is a convention [m2]
}
