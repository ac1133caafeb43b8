package taper

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/taper/domain"
)

// beside answers which places stand beside the new corners and folds of a design.
type beside struct {
	step float64
	at   map[[2]int][]mark
}

// mark is a new corner, or a piece of a line that bounds a new facet: then a and b are the whole line's ends.
type mark struct {
	a, b orb.Point
	line bool
}

// newBeside sorts new corners and lines into squares, long lines square by square.
func newBeside(d *Design) *beside {
	n := &beside{step: 0.5, at: map[[2]int][]mark{}}
	for i := range d.Vertices {
		if d.fresh[i] {
			p := d.Vertices[i].Plan
			k := n.square(p)
			n.at[k] = append(n.at[k], mark{a: p})
		}
	}
	for _, l := range d.Lines {
		if !d.isNew(l) {
			continue
		}
		m := mark{a: d.Vertices[l.A].Plan, b: d.Vertices[l.B].Plan, line: true}
		steps := int(vector.Length(vector.Minus(m.b, m.a))/n.step) + 1
		last := [2]int{math.MinInt, 0}
		for i := range steps + 1 {
			if k := n.square(vector.Along(m.a, m.b, float64(i)/float64(steps))); k != last {
				n.at[k] = append(n.at[k], m)
				last = k
			}
		}
	}
	return n
}

func (n *beside) square(p orb.Point) [2]int {
	return [2]int{int(math.Floor(p[0] / n.step)), int(math.Floor(p[1] / n.step))}
}

// holds reports whether p stands nearer than keep to a new corner or line.
func (n *beside) holds(p orb.Point) bool {
	k := n.square(p)
	for x := k[0] - 1; x <= k[0]+1; x++ {
		for y := k[1] - 1; y <= k[1]+1; y++ {
			for i := range n.at[[2]int{x, y}] {
				if n.at[[2]int{x, y}][i].near(p) {
					return true
				}
			}
		}
	}
	return false
}

func (m *mark) near(p orb.Point) bool {
	if !m.line {
		v := vector.Minus(m.a, p)
		return math.Abs(v[0]) < keep && math.Abs(v[1]) < keep
	}
	if domain.OffLine(p, m.a, m.b) >= keep {
		return false
	}
	v := vector.Minus(m.b, m.a)
	t := vector.Dot(vector.Minus(p, m.a), v)
	return t > 0 && t < vector.Dot(v, v)
}
