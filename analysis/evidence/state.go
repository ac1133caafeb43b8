package evidence

import (
	"math"
	"slices"
)

// state is a ground as changed so far, and when which part of it was.
type state struct {
	at      []element
	inlet   []float64 // per outlet: its invert [m]
	lowered []float64 // per door: elevation to which it was lowered, +Inf when it was not [m]

	turn []int32   // per element: number of the last change of it or of a neighbour
	now  int32     // number of the last change
	into [][]int32 // per outlet: elements with a door into it
}

// element is what a search looks at together: an elevation as changed so far and as measured [m], and the prices of lowering and raising it.
type element struct{ h, z, low, high float64 }

// moved returns what it costs in all to have the element at level.
func (e *element) moved(level float64) float64 {
	d := level - e.z
	if d < 0 {
		return float64(e.low * float64(d*d))
	}
	return float64(e.high * float64(d*d))
}

// newState returns the state of a ground of which nothing is changed.
func newState(g *ground) *state {
	s := &state{
		at: make([]element, len(g.z)), inlet: slices.Clone(g.invert), lowered: make([]float64, len(g.doors)),
		turn: make([]int32, len(g.z)), into: make([][]int32, len(g.invert)),
	}
	for d := range s.lowered {
		s.lowered[d] = math.Inf(1)
	}
	for i := range s.at {
		s.at[i] = element{g.z[i], g.z[i], g.low[i], g.high[i]}
		for _, d := range g.doorsOf(int32(i)) {
			s.into[d.outlet] = append(s.into[d.outlet], int32(i))
		}
	}
	return s
}

// changedIn reports whether any of some elements was changed after a turn.
func (s *state) changedIn(list []int32, turn int32) bool {
	return slices.ContainsFunc(list, func(v int32) bool { return s.turn[v] > turn })
}

// touch notes that element v was changed, which whoever looks at it or at a neighbour sees.
func (s *state) touch(g *ground, v int32) {
	s.note(v)
	for _, w := range g.around(v) {
		s.note(w)
	}
}

func (s *state) note(v int32) { s.turn[v] = s.now }

// apply makes the change of an offer.
func (s *state) apply(g *ground, o *offer) {
	s.now++
	for _, v := range o.raise {
		s.at[v].h = o.level
		s.touch(g, v)
	}
	for _, v := range o.path {
		s.at[v].h = math.Min(s.at[v].h, o.level)
		s.touch(g, v)
	}
	if o.door < 0 {
		return
	}
	s.lowered[o.door] = math.Min(s.lowered[o.door], o.level)
	out := g.doors[o.door].outlet
	s.inlet[out] = math.Min(s.inlet[out], o.level)
	for _, v := range s.into[out] {
		s.note(v)
	}
}
