// Package storm routes a storm over the surface: how deep water stands while it rains, what every outlet
// takes, and what is left afterwards.
//
// Rain runs off at once: nothing delays it between where it falls and the low place it runs to. The low
// places are those of the bare surface, on which only open edges take water; they form the tree of
// depressions of package ponding, each with its exact stage-volume curve. A drain or a scupper takes water
// from the depression that covers the lowest vertex of its footprint, by its law of flow against head, once
// the water stands above its invert (or above its footprint's lowest surface, where that is higher). An
// outlet that is blocked is left out; its water follows the surface.
//
// A depression that is full spills what it gains over its lip to the pit below; where that is full too and
// gives water back, the two become one; when the joint water falls below the saddle between them they are
// two again. Water on a roof without a way out rises above its highest vertex as between upright walls.
//
// An outlet on a slope, below which water runs on, catches what runs into its footprint up to what it takes
// when water stands as high as the footprint's upper side; the rest passes on to the pit below, and is not
// caught by another outlet on its way.
//
// Flows between low places change only at events: rain changes, a place is full, two merge or part, an
// outlet starts. Between events the water in each is an ordinary differential equation of its own with
// constant inflow, dV/dt = Q - D(L), and is integrated as t = integral of A dL / (Q - D). Volumes come from
// the curve and flows are whole numbers of Quantum, so no water is lost to the integration.
package storm

// Law is the flow that an outlet takes [m3/s] at a head above its invert [m]. It must not fall below zero and
// should not fall as head rises. A nil Law takes all that comes.
type Law func(head float64) float64

// Steps is a rate in time that is constant between moments: Rate[i] from Time[i] to Time[i+1]. Times rise
// and start at or after zero [s]; there is one more than there are rates. Outside it is zero.
type Steps struct {
	Time []float64
	Rate []float64
}

// Inflow is water that is let onto the roof at a place, as from a roof above.
type Inflow struct {
	X, Y float64 // [m]
	Flow Steps   // [m3/s]
}

// Storm is what comes down and what goes up.
type Storm struct {
	Rain        Steps // on the whole net roof area [m/s]
	Inflows     []Inflow
	Evaporation float64 // from water's surface while it does not rain [m/s]
	After       float64 // how long to go on after the last rain and inflow [s]; 0 stands for 48 h
	Step        float64 // step of the storage-indication method [s], to follow a hand calculation; 0: the exact way
}

// Case is one state of the outlets.
type Case struct {
	Name    string
	Blocked []bool    // per outlet of the surface; nil when all work. An edge cannot be blocked: water goes over it
	Wet     bool      // ponds stand as they do with every outlet working, before the rain begins
	Moments []float64 // times at which the level of every vertex is wanted, rising [s]
	Watch   []int32   // vertices at which the level is wanted through time
}

// trickle is the flow below which an outlet counts as run dry [m3/s]: a hundredth of a litre a second.
const trickle = 1e-5

// Sample is one moment of an outlet.
type Sample struct{ Time, Flow float64 }

// Outlet is what one outlet of the surface did. An edge has no head: it takes all that reaches it.
type Outlet struct {
	PeakHead    float64 // above the invert [m]; of a catch on a slope the head that its law needs
	PeakFlow    float64 // [m3/s]
	PeakTime    float64 // of PeakFlow [s]
	Volume      float64 // taken in all [m3]
	Passed      float64 // ran over its footprint on a slope without being caught [m3]
	Start, Stop float64 // when it first and last took more than Trickle [s]; -1 when it never did
	Samples     []Sample
	Blocked     bool
}

// Moment is a level at a time.
type Moment struct{ Time, Level float64 }

// Deepest is the deepest water of a case.
type Deepest struct {
	Depth, Level float64 // [m]
	Time         float64 // when first [s]
	Vertex       int32   // where: the lowest vertex under it, -1 when there never was any water
}

// Result is what a storm did in one case.
type Result struct {
	Name     string
	Outlets  []Outlet // by outlet of the surface
	Deepest  Deepest
	Envelope []float64   // per vertex of Cut: greatest level; the vertex's own elevation where it stayed dry
	Levels   [][]float64 // per moment asked for: level per vertex
	Watched  [][]Moment  // per vertex watched

	Fallen     float64 // rain on the roof [m3]
	Let        float64 // inflow [m3]
	Before     float64 // stood there at the start [m3]
	Out        float64 // taken by outlets and edges [m3]
	Evaporated float64 // [m3]
	HeldAtEnd  float64 // on the roof when rain and inflow end [m3]
	Left       float64 // on the roof at the end of the time after [m3]
	MassError  float64 // what does not add up, beyond the rounding of flows to Quantum, as a part of all that came

	Ended     float64 // when rain and inflow end [s]
	DrainTime float64 // from then until no outlet takes more than Trickle [s]
	Covered   bool    // water stood over the highest point of a part of the roof that has no way out
}
