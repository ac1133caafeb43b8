package catchment

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/flow"
)

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

// along goes on along a path.
func (w *way) along(p flow.Path) {
	for i, at := range p.Line {
		w.to(at, p.Elevations[i])
	}
}

// longest returns the longest dry way to every outlet, and the longest with ponds full where that is another.
func (v *travels) longest() ([]Path, error) {
	var paths []Path
	for o := range int32(v.g.outlets()) {
		dry := 0.0
		if at := v.n.Farthest[o]; at.Facet >= 0 {
			p, err := v.n.PathFrom(at)
			if err != nil {
				return nil, err
			}
			if len(p.Line) > 1 {
				paths, dry = append(paths, newPath(o, false, &way{p.Line, p.Elevations, p.Travel})), p.Travel
			}
		}
		if v.most[o].travel <= dry+1e-6 {
			continue
		}
		w, err := v.wayFrom(&v.most[o])
		if err != nil {
			return nil, err
		}
		if len(w.line) > 1 {
			paths = append(paths, newPath(o, true, w))
		}
	}
	return paths, nil
}

func newPath(outlet int32, full bool, w *way) Path {
	z := w.elevations
	return Path{outlet, full, w.line, z, w.travel, z[0] - z[len(z)-1]}
}

// wayFrom puts the longest way together: over the roof, over ponds and on from their lips.
func (v *travels) wayFrom(x *farthest) (*way, error) {
	w := &way{}
	at := x.pool
	if at >= 0 {
		v.overWater(w, at, v.pools[at].fields[x.taker].Way(x.tri, x.point))
	} else {
		p, err := v.n.PathFrom(x.place)
		if err != nil {
			return nil, err
		}
		w.along(p)
		at = v.enter(w, p)
	}
	for at >= 0 && v.g.ponds.Ponds[at].Lip >= 0 && v.legs[at].open {
		p := v.legs[at].path
		w.along(p)
		at = v.enter(w, p)
	}
	return w, nil
}

// enter takes the way over the pond that a path comes to, which it returns; -1 where it came to an outlet.
func (v *travels) enter(w *way, p flow.Path) int32 {
	at := v.pondAt(p.Label)
	if x, ok := v.takerOf(p.Label); ok && v.pools[x.pond] != nil {
		v.overWater(w, x.pond, v.pools[x.pond].over(v.shore.TIN, x.place, p.Landing))
	}
	return at
}

// overWater takes the way over the water of pond i.
func (v *travels) overWater(w *way, i int32, line orb.LineString) {
	for _, p := range line {
		w.to(p, v.g.ponds.Ponds[i].Level)
	}
}
