// Package catchment draws the areas whose water reaches one outlet, dry and with every pond full.
package catchment

import "github.com/paulmach/orb"

// Catchment is an area that drains to one end.
type Catchment struct {
	Outlet                int32   // index into surface.Outlets; -1 when it ends in a pond (dry) or nowhere
	Pond                  int32   // index into ponding.Ponds.Ponds; -1 when it ends in an outlet
	Area                  float64 // [m2]
	Outline               orb.MultiPolygon
	TravelMax, TravelMean float64 // [m]; dry only
	Indeterminate         float64 // area of it whose direction is a convention [m2]
}

// Path is a way that water takes.
type Path struct {
	Outlet     int32
	Full       bool
	Line       orb.LineString
	Elevations []float64 // one per vertex of Line
	Travel     float64   // plan length [m]
	Drop       float64   // [m]
}

// Catchments is both views of one surface.
type Catchments struct {
	Dry, Full []Catchment      // by outlet, then pond
	Longest   []Path           // longest dry path of every outlet, and its continuation with ponds full where it differs
	Undrained float64          // area with no way out at any level [m2]
	Undrawn   orb.MultiPolygon // that area
}
