package catchment

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/flow"
)

// tail is the way that water goes on from the lip of a pond.
type tail struct {
	known  bool
	travel float64
	outlet int32 // where it ends; -1 when the way is not known
}

// way is a path being put together from legs.
type way struct {
	line       orb.LineString
	elevations []float64
	travel     float64
}

// to goes straight on to a point.
func (w *way) to(p orb.Point, z float64) {
	if last := len(w.line) - 1; last >= 0 {
		if w.line[last] == p {
			return
		}
		w.travel += planar.Distance(w.line[last], p)
		z = math.Min(z, w.elevations[last])
	}
	w.line = append(w.line, p)
	w.elevations = append(w.elevations, z)
}

// along goes on along a path down to where it meets water standing at level, and stops there.
func (w *way) along(p flow.Path, level float64) {
	for i, at := range p.Line {
		if z := p.Elevations[i]; z >= level || i == 0 {
			w.to(at, z)
			continue
		}
		a, za, zb := p.Line[i-1], p.Elevations[i-1], p.Elevations[i]
		if za > level {
			s := (za - level) / (za - zb)
			w.to(orb.Point{a[0] + float64(s*(at[0]-a[0])), a[1] + float64(s*(at[1]-a[1]))}, level)
		}
		return
	}
}

// end returns the last point.
func (w *way) end() orb.Point { return w.line[len(w.line)-1] }

// longest returns the longest dry path to every outlet, and the longest with ponds full where that is
// another: it comes from a pond's basin, crosses the pond to where it spills and goes on from there.
func (g *grouping) longest() ([]Path, error) {
	best := make([]Path, 2*g.outlets())
	for o := range g.outlets() {
		if at := g.n.Farthest[o]; at.Facet >= 0 {
			p, err := g.n.PathFrom(at)
			if err != nil {
				return nil, err
			}
			best[2*o] = newPath(int32(o), false, &way{p.Line, p.Elevations, p.Travel})
		}
	}
	if err := g.longestFull(best); err != nil {
		return nil, err
	}
	var paths []Path
	for i, p := range best {
		if len(p.Line) > 1 && (i%2 == 0 || p.Travel > best[i-1].Travel) {
			paths = append(paths, p)
		}
	}
	return paths, nil
}

func newPath(outlet int32, full bool, w *way) Path {
	z := w.elevations
	return Path{outlet, full, w.line, z, w.travel, z[0] - z[len(z)-1]}
}

// longestFull fills in the odd places of best.
func (g *grouping) longestFull(best []Path) error {
	tails := make([]tail, len(g.ponds.Ponds))
	from, travel := make([]int, g.outlets()), make([]float64, g.outlets())
	for label := g.outlets(); label < len(g.n.Ends); label++ {
		w, pond, err := g.head(label)
		if err != nil {
			return err
		}
		if w == nil || g.ponds.Ponds[pond].Undrained {
			continue
		}
		end := g.cross(w, pond)
		if end < 0 {
			t, err := g.tail(tails, pond)
			if err != nil {
				return err
			}
			end = t.outlet
			w.travel += t.travel
		}
		if end >= 0 && w.travel > travel[end] {
			from[end], travel[end] = label, w.travel
		}
	}
	for o, label := range from {
		if label == 0 {
			continue
		}
		w, pond, err := g.head(label)
		if err != nil {
			return err
		}
		for g.cross(w, pond) < 0 {
			if pond, _, err = g.leg(w, pond); err != nil {
				return err
			}
			if pond < 0 {
				break
			}
		}
		best[2*o+1] = newPath(int32(o), true, w)
	}
	return nil
}

// head returns the longest way of a pit's basin, down to the water of its pond; nil when it has none.
func (g *grouping) head(label int) (*way, int32, error) {
	pond, err := g.pondOf(g.n, label)
	if err != nil || g.n.Farthest[label].Facet < 0 {
		return nil, pond, err
	}
	p, err := g.n.PathFrom(g.n.Farthest[label])
	if err != nil {
		return nil, pond, err
	}
	w := &way{}
	w.along(p, g.ponds.Ponds[pond].Level)
	return w, pond, nil
}

// cross takes the way straight over a full pond to where water leaves it: its lip, or the nearest
// footprint of the outlets that hold it. It returns that outlet, -1 at a lip.
func (g *grouping) cross(w *way, pond int32) int32 {
	t, p := g.s.Cut, &g.ponds.Ponds[pond]
	if p.HeldBy < 0 {
		w.to(orb.Point{t.X[p.Lip], t.Y[p.Lip]}, p.Level)
		return -1
	}
	outlet, at, least := p.HeldBy, w.end(), math.Inf(1)
	for _, o := range g.holders(pond) {
		for _, v := range g.s.Outlets[o].Vertices {
			q := orb.Point{t.X[v], t.Y[v]}
			if d := planar.Distance(w.end(), q); d < least {
				outlet, at, least = o, q, d
			}
		}
	}
	w.to(at, p.Level)
	return outlet
}

// leg takes the way from a pond's lip on to the next pond's water, which it returns, or to an outlet: -1.
// It returns false when no way from the lip leads there.
func (g *grouping) leg(w *way, pond int32) (int32, bool, error) {
	p := &g.ponds.Ponds[pond]
	path, ok, err := g.n.Spill(p.Lip, func(x flow.Path) bool {
		end := g.n.Ends[x.Label]
		if end.Outlet >= 0 {
			return end.Outlet == p.ToOutlet
		}
		return p.ToPond >= 0 && g.ponds.OfPit[end.Pit] == p.ToPond
	})
	if err != nil || !ok {
		return -1, false, err
	}
	level := math.Inf(-1)
	if p.ToPond >= 0 {
		level = g.ponds.Ponds[p.ToPond].Level
	}
	w.along(path, level)
	return p.ToPond, true, nil
}

// tail returns the way on from the lip of a pond, and notes that of every pond further down.
func (g *grouping) tail(tails []tail, pond int32) (tail, error) {
	var chain []int32
	var steps []float64
	t := tail{known: true, outlet: -1}
	for at := pond; ; {
		if tails[at].known {
			t = tails[at]
			break
		}
		p := &g.ponds.Ponds[at]
		w := &way{}
		w.to(orb.Point{g.s.Cut.X[p.Lip], g.s.Cut.Y[p.Lip]}, p.Level)
		next, ok, err := g.leg(w, at)
		if err != nil {
			return t, err
		}
		chain = append(chain, at)
		if next < 0 {
			steps = append(steps, w.travel)
			if ok {
				t.outlet = p.ToOutlet
			}
			break
		}
		end := int32(-1)
		if !g.ponds.Ponds[next].Undrained {
			end = g.cross(w, next)
		}
		steps = append(steps, w.travel)
		if end >= 0 || g.ponds.Ponds[next].Undrained {
			t.outlet = end
			break
		}
		at = next
	}
	for i := len(chain) - 1; i >= 0; i-- {
		t.travel += steps[i]
		tails[chain[i]] = t
	}
	return t, nil
}
