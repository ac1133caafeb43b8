// Package flow says where every place of the surface drains to, by steepest descent.
//
// Water runs straight down each facet, along valleys, walls and curbs, and stops in an outlet's
// footprint, at an open edge or in a depression.
//
// The method: every side of a facet over which water leaves it carries a list of intervals, each with
// one label (the outlet or pit reached) and a travel that is linear along it. The list of a side is
// pulled up through the facet below it: the corner opposite splits the side, each part maps linearly
// onto one of the sides below, and the intervals found there are carried back. On a valley or a wall
// the side takes the label of its lower end; a vertex takes that of its steepest way down. Lines
// through the interval ends along the fall cut each facet in strips, whose areas have a closed form.
// Which side water leaves over, and which edge is a valley, is decided by the exact signs in
// surface.TIN.Run and by comparing elevations; the rest is monotone arithmetic, so rounding moves a
// line by a hair but never changes what is connected to what. The idea of interval lists is that of
// implicit tracing (de Berg, Haverkort, Tsirogiannis: Implicit flow routing on terrains, 2011).
//
// Labels are exact. Travel is thinned: neighbouring intervals of one label are merged while the
// accumulated error stays below Options.Tolerance.
//
// Level areas (vertices of equal elevation connected by edges) are one node: without a lower
// neighbour a pit, otherwise drained along edges to the nearest vertex that has a way down. Where
// they lie is known, which way they drain is a convention: their area is Network.Indeterminate.
package flow

import (
	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// Label is where a place drains to: an index into Network.Ends. Unlabelled is -1.
type Label int32

// Unlabelled marks a place whose end is not known.
const Unlabelled Label = -1

// End is what a label stands for.
type End struct {
	Outlet int32 // index into surface.Outlets; -1 for a pit
	Pit    int32 // pit vertex of the cut TIN (smallest index of its level set); -1 for an outlet
}

// Place is a point of a facet.
type Place struct {
	Facet int32
	Point orb.Point
}

// defaultTolerance is the largest error of a travel unless Options says otherwise [m].
const defaultTolerance = 0.010

// Options steers Trace; the zero value is the usual run.
type Options struct {
	Tolerance  float64 // largest error of a travel [m]; 0 stands for DefaultTolerance, below 0 nothing is merged
	LabelsOnly bool    // travel is not computed: TravelMax and TravelMean stay zero, Farthest empty
	TravelOnly bool    // labels of places and borders are not kept: neither At, LabelOf nor Borders may be called
	Taken      []int32 // per facet of the cut TIN: label of the outlet or water that takes all water there, -1 none; nil for dry flow
	Waters     int     // standing waters that take what runs into them; their labels follow those of the outlets
	Shore      []int32 // per vertex: Wet of the surface.Shore whose TIN is traced; nil: a facet that is taken takes at every corner
}

// Landing is where water comes to what takes it: a side of a facet, or a vertex.
type Landing struct {
	Side   int32 // half-edge over which it leaves the last dry facet, -1 at a vertex
	Vertex int32 // -1 on a side
	Point  orb.Point
}

// Onward returns how far water goes on, in its label's outlet or water, from where it comes to that [m].
type Onward func(Label, Landing) float64

// Network is the drainage of one surface.
type Network struct {
	Ends          []End     // by label; outlets first, in order, then waters, whose ends are neither outlet nor pit, then pits by vertex
	Area          []float64 // per label [m2]
	TravelMax     []float64 // per label: longest travel to the footprint's edge or the pit [m]
	TravelMean    []float64 // per label: area-weighted [m]
	Farthest      []Place   // per label: where TravelMax starts; Facet is -1 where nothing drains to it
	Level         []float64 // per label: its level area, whose direction is a convention [m2]
	Indeterminate float64   // sum of Level [m2]

	t       *surface.TIN
	outlets int
	roof    float64 // its area [m2]
	options Options
	sinks   sinks
	kind    []kind
	way     []int32         // per vertex, see ways.go
	far     []float64       // per vertex: straight way to the exit inside its level area, 0 where it has its own way [m]
	aims    map[int32]int32 // per level facet: vertex that its water runs straight to, where its corners see different ones; looked up only
	level   []float64       // per vertex: way to the exit inside its level area, 0 where it has its own way [m]
	fans    []fan           // further fans of vertices where the roof touches itself
	vertex  []Label         // per vertex
	lists   labelLists
	index   *index
}

// Trace labels the whole surface. It returns a *fault.Error when one of its own checks fails.
func Trace(s *surface.Surface, o Options) (*Network, error) {
	n, err := Prepare(s, o)
	if err != nil {
		return nil, err
	}
	return n, n.Finish(nil)
}

// Measured reports whether the travel was computed.
func (n *Network) Measured() bool { return !n.options.LabelsOnly }

// Prepare finds the ways of water: Spill and PathFrom follow them. Areas, travels and labels of places come with Finish.
func Prepare(s *surface.Surface, o Options) (*Network, error) {
	n := &Network{t: s.Cut, outlets: len(s.Outlets), roof: s.Area, options: o, fans: findFans(s.Cut)}
	for _, step := range []func(){
		func() { n.sinks = findSinks(s, o.Taken, o.Shore) },
		func() { n.kind = findKinds(n.t, &n.sinks) },
		n.findWays, n.settleLevel, n.straighten,
	} {
		step()
		n.t.Halt.Ask()
	}
	return n, n.checkWays()
}

// Finish labels the whole surface. Travel goes on in outlets and waters as onward says; nil: it ends there.
func (n *Network) Finish(onward Onward) error {
	v := newSolver(n, n.options)
	v.land(onward)
	n.t.Halt.Ask()
	v.solve()
	n.t.Halt.Ask()
	n.measure(v)
	n.t.Halt.Ask()
	if !n.options.TravelOnly {
		n.lists = v.labels()
		n.index = &index{t: n.t}
	}
	n.t.Halt.Ask()
	return n.checkArea(n.roof)
}

// length returns the plan distance between two vertices.
func (n *Network) length(a, b int32) float64 {
	return vector.Norm(n.t.X[b]-n.t.X[a], n.t.Y[b]-n.t.Y[a])
}

// cross returns the cross product of two plan vectors, products rounded as in norm.
func cross(ax, ay, bx, by float64) float64 { return float64(ax*by) - float64(ay*bx) }

// dot returns the scalar product of two plan vectors, products rounded as in norm.
func dot(ax, ay, bx, by float64) float64 { return float64(ax*bx) + float64(ay*by) }

// between returns a + s*(b-a), and exactly b at s = 1.
func between(a, b, s float64) float64 {
	if s == 1 {
		return b
	}
	return a + float64(s*(b-a))
}
