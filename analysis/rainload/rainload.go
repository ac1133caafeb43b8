// Package rainload says how deep and how heavy water stands on the surveyed roof while some outlets are blocked.
//
// Two heads make the load, as codes define it. The static head ds is the depth of the water that stands when it
// reaches the inlets of the outlets that still work: the greatest over the whole connected water, which on a sloped
// roof is far more than the height of the overflow over the primary. The hydraulic head dh is how far the water rises
// over those inlets until they carry the flow that comes to them. The load is the weight of ds + dh.
//
// The method: the ponds of the surface with the working outlets alone give the static levels. Outlets that stand in
// one water share one level, found by halving so that the sum of their laws is the sum of their flows; the water is
// then what lies below that level and is joined to their inlets along the mesh. A water that would rise over a saddle
// stands at the saddle and passes the rest on to the outlet beyond; where the water there stands as high, the two
// become one. Water never stands above an open edge that it reaches: the edge's own head is not added.
//
// The surface is taken as rigid. Sag under the water and snow are not included, so every depth and load is an
// "at least": standard.AtLeast says so and stands beside each figure.
package rainload

import (
	"runnel/analysis/fault"
	"runnel/analysis/ponding"
	"runnel/analysis/surface"
)

// Law is the flow of an outlet [m3/s] at a head over its invert [m]. It never falls as the head rises.
type Law func(head float64) float64

// Input is one state of a roof: the outlets that work, and what comes to them.
type Input struct {
	TIN     *surface.TIN
	Outlets []surface.Outlet // that work; edges among them
	Ponds   *ponding.Ponds   // of TIN with these outlets

	Inflow []float64 // per outlet: flow that reaches it with every pond full [m3/s]; nil: no rain given, the static head alone
	Laws   []Law     // per outlet; nil where its sizes are not known, and for edges
}

// Water is one connected water.
type Water struct {
	Outlets []int32 // that take from it, ascending
	Inflow  float64 // that comes to them [m3/s], 0 where no rain is given

	Static float64 // level at the inlets [m]: the lowest invert of Outlets
	Level  float64 // Static and the hydraulic head [m]

	StaticHead float64 // ds: greatest depth below Static [m]
	Head       float64 // dh: Level less Static [m]
	Depth      float64 // greatest depth, ds + dh [m]
	Load       float64 // of it [Pa]

	Area   float64 // plan area [m2]
	Volume float64 // [m3]
	Weight float64 // [kg]

	HeadKnown bool // the head was computed: rain is given and every outlet that water comes to has a law
	OverEdge  bool // the water reaches an open edge and stands no higher than that
}

// Load is the water on the roof in one state.
type Load struct {
	Level  []float64 // per vertex of the TIN: level of the water, the vertex's own elevation where dry [m]
	Waters []Water   // at outlets, deepest first

	Depth   float64 // greatest depth of any water, ponds short of outlets included [m]
	Deepest int32   // vertex of it; -1 where the roof is dry
	Load    float64 // of it [Pa]
	Area    float64 // under water [m2]
	Volume  float64 // [m3]
	Weight  float64 // [kg]

	Enclosed bool // some water has no way out at any level: it rises to the top of what holds it, and no load can be said
	Complete bool // the hydraulic head is known for every water that rain comes to

	facets []wet
}

// Of returns the water of one state. The error is a *fault.Error: lists of different lengths.
func Of(in Input) (*Load, error) {
	if in.Inflow != nil && len(in.Inflow) != len(in.Outlets) || in.Laws != nil && len(in.Laws) != len(in.Outlets) {
		return nil, fault.New("rain load", "%d flows and %d laws for %d outlets", len(in.Inflow), len(in.Laws), len(in.Outlets))
	}
	b := newBuilder(in)
	b.gather()
	b.settle()
	return b.load(), nil
}
