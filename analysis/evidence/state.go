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

	tile []tile    // per element
	wide int32     // tiles from west to east
	turn []int32   // per tile: number of the last change in it
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

// tile is a square of the ground, by its numbers from the west and from the south.
type tile struct{ x, y int16 }

// A tile holds so many elements on average; there are so many at most along either axis.
const (
	perTile   = 16
	mostTiles = 2000
)

// newState returns the state of a ground of which nothing is changed, with so many elements a tile.
func newState(g *ground, each float64) *state {
	s := &state{
		at: make([]element, len(g.z)), inlet: slices.Clone(g.invert), lowered: make([]float64, len(g.doors)),
		tile: make([]tile, len(g.z)), into: make([][]int32, len(g.invert)),
	}
	for d := range s.lowered {
		s.lowered[d] = math.Inf(1)
	}
	x0, y0 := slices.Min(g.x), slices.Min(g.y)
	wide, high := slices.Max(g.x)-x0, slices.Max(g.y)-y0
	side := max(math.Sqrt(wide*high*each/float64(len(g.z))), max(wide, high)/mostTiles, math.SmallestNonzeroFloat64)
	for i := range s.tile {
		s.at[i] = element{g.z[i], g.z[i], g.low[i], g.high[i]}
		s.tile[i] = tile{int16((g.x[i] - x0) / side), int16((g.y[i] - y0) / side)}
		for _, d := range g.doorsOf(int32(i)) {
			s.into[d.outlet] = append(s.into[d.outlet], int32(i))
		}
	}
	s.wide = int32(wide/side) + 1
	s.turn = make([]int32, s.wide*(int32(high/side)+1))
	return s
}

// box is the tiles from one to another.
type box struct{ x0, y0, x1, y1 int16 }

var nowhere = box{math.MaxInt16, math.MaxInt16, -1, -1}

func (b *box) add(t tile) {
	b.x0, b.y0, b.x1, b.y1 = min(b.x0, t.x), min(b.y0, t.y), max(b.x1, t.x), max(b.y1, t.y)
}

// changedIn reports whether anything in a box was changed after a turn.
func (s *state) changedIn(b box, turn int32) bool {
	for y := int32(b.y0); y <= int32(b.y1); y++ {
		for _, t := range s.turn[y*s.wide+int32(b.x0) : y*s.wide+int32(b.x1)+1] {
			if t > turn {
				return true
			}
		}
	}
	return false
}

// touch notes that element v was changed, which whoever looks at it or at a neighbour sees.
func (s *state) touch(g *ground, v int32) {
	s.note(v)
	for _, w := range g.around(v) {
		s.note(w)
	}
}

func (s *state) note(v int32) { s.turn[int32(s.tile[v].y)*s.wide+int32(s.tile[v].x)] = s.now }

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
