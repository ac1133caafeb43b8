package change

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/bounds"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// State says what became of a pond.
type State string

// What becomes of ponds.
const (
	Gone   State = "gone"
	New    State = "new"
	Deeper State = "deeper"
	Less   State = "less deep"
	Same   State = "as before"
)

// Pond is a listed pond of one survey or both. Indices are into Study.Listed, -1 where there is none.
type Pond struct {
	Before, After int
	State         State
	Depths        [2]float64 // before and after [m], 0 where there is none
	Unsure        bool       // gone or new, but the survey that does not list it could not have shown it: its error is too large or it has no spots there
}

// ponds matches the listed ponds of both surveys: two are one where one's lowest place lies in the other's water.
func (c *comparison) ponds() []Pond {
	var out []Pond
	matched := make([]bool, len(c.after.Listed))
	for i := range c.before.Listed {
		k := c.match(i)
		if k < 0 {
			out = append(out, Pond{Before: i, After: -1, State: Gone, Depths: [2]float64{depth(c.before, i), 0}, Unsure: c.unsure(i)})
			continue
		}
		matched[k] = true
		p := Pond{Before: i, After: k, State: Same, Depths: [2]float64{depth(c.before, i), depth(c.after, k)}}
		old, now := depths(c.before, i), depths(c.after, k)
		switch {
		case now.Low > old.High:
			p.State = Deeper
		case now.High < old.Low:
			p.State = Less
		}
		out = append(out, p)
	}
	for k := range c.after.Listed {
		if !matched[k] {
			out = append(out, Pond{Before: -1, After: k, State: New, Depths: [2]float64{0, depth(c.after, k)}})
		}
	}
	slices.SortStableFunc(out, func(a, b Pond) int { return cmp.Compare(rank(b.State), rank(a.State)) })
	return out
}

// rank puts what an owner asks about first.
func rank(s State) int { return slices.Index([]State{Same, Less, Gone, Deeper, New}, s) }

// match returns the later pond that earlier pond i is, -1 where there is none.
func (c *comparison) match(i int) int {
	old := c.inLater(c.before.Ponds.Outline(c.before.Listed[i].Pond))
	oldPit := c.toAfter(pit(c.before, i))
	for k := range c.after.Listed {
		if planar.MultiPolygonContains(old, pit(c.after, k)) || planar.MultiPolygonContains(c.after.Ponds.Outline(c.after.Listed[k].Pond), oldPit) {
			return k
		}
	}
	return -1
}

// unsure reports whether the later survey has no spot in the water of earlier pond i: it could not have shown it.
func (c *comparison) unsure(i int) bool {
	water := c.inLater(c.before.Ponds.Outline(c.before.Listed[i].Pond))
	return !slices.ContainsFunc(c.result.Spots, func(s Spot) bool { return planar.MultiPolygonContains(water, s.Plan) })
}

func (c *comparison) toAfter(p orb.Point) orb.Point {
	return c.after.Roof.Frame.From(c.before.Roof.Frame, p)
}

func (c *comparison) inLater(m orb.MultiPolygon) orb.MultiPolygon {
	out := m.Clone()
	for _, polygon := range out {
		for _, ring := range polygon {
			for i := range ring {
				ring[i] = c.toAfter(ring[i])
			}
		}
	}
	return out
}

// pit returns the lowest place of a listed pond.
func pit(s *study.Study, i int) orb.Point {
	v := s.Ponds.Ponds[s.Listed[i].Pond].Pits[0]
	return orb.Point{s.Surface.Cut.X[v], s.Surface.Cut.Y[v]}
}

func depth(s *study.Study, i int) float64 { return s.Ponds.Ponds[s.Listed[i].Pond].Depth }

// depths returns between what figures the depth of a listed pond lies: as tried, else by the typical error of its two ends.
func depths(s *study.Study, i int) bounds.Range {
	if s.Bounds != nil && s.Bounds.Ponds[i].Trials > 0 {
		return s.Bounds.Ponds[i].Depth
	}
	d := standard.SureError * math.Sqrt2 * s.Errors.Typical
	return bounds.Range{Low: math.Max(0, depth(s, i)-d), High: depth(s, i) + d}
}
