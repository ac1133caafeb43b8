package catchment

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/atonce"
	"runnel/analysis/geodesic"
)

// mean sums the ways over the water of one taker: their lengths by area [m3], and the area [m2].
type mean struct{ sum, area float64 }

// means measures the ways that begin in the water: per pond those of each of its takers.
func (v *travels) means() [][]mean {
	out := make([][]mean, len(v.pools))
	atonce.Each(len(v.pools), pondsAtATime, func() func(from, to int) {
		return func(from, to int) {
			for i := from; i < to; i++ {
				if v.pools[i] != nil {
					v.s.Cut.Halt.Look()
					out[i] = v.pools[i].means()
				}
			}
		}
	})
	return out
}

// means returns of each taker the ways from the places that are nearest to it.
func (p *pool) means() []mean {
	out, views := make([]mean, len(p.fields)), make([]*geodesic.View, len(p.fields))
	for k, f := range p.fields {
		views[k] = f.View()
	}
	nearest := func(tri int32, at orb.Point) (k int, far, reach float64) {
		far = math.Inf(1)
		for j, f := range views {
			if d, r := f.At(tri, at); d < far {
				k, far, reach = j, d, r
			}
		}
		return k, far, reach
	}
	p.region.Cells(nearest, func(c geodesic.Cell) {
		m := &out[c.Target]
		m.sum, m.area = m.sum+float64(c.Far*c.Area), m.area+c.Area
	})
	return out
}

// addWet adds the ways that begin in the water.
func (v *travels) addWet(means [][]mean) {
	for i, p := range v.pools {
		if p != nil {
			v.addPool(int32(i), p, means[i])
		}
	}
}

func (v *travels) addPool(i int32, p *pool, means []mean) {
	first := v.first[i]
	for k, m := range means {
		x := v.takers[first+int32(k)]
		o, more := x.outlet, 0.0
		if o < 0 {
			o, more = v.legs[i].outlet, v.legs[i].travel
		}
		if o < 0 || m.area == 0 {
			continue
		}
		v.sum[o] += float64(v.wet[first+int32(k)] * (m.sum/m.area + more))
	}
	v.cornersOf(i, p)
}

// cornersOf looks for the longest way among those from the corners of a pond's water.
func (v *travels) cornersOf(i int32, p *pool) {
	done := make([]bool, len(p.region.X))
	for e, x := range p.region.V {
		if done[x] {
			continue
		}
		done[x] = true
		k := 0
		for j := range p.fields {
			if p.fields[j].Vertex(x) < p.fields[k].Vertex(x) {
				k = j
			}
		}
		far, o, more := p.fields[k].Vertex(x), v.takers[v.first[i]+int32(k)].outlet, 0.0
		if o < 0 {
			o, more = v.legs[i].outlet, v.legs[i].travel
		}
		if o >= 0 && !math.IsInf(far, 1) {
			at := orb.Point{p.region.X[x], p.region.Y[x]}
			v.longer(o, farthest{travel: far + more, pool: i, tri: int32(e) / 3, taker: k, point: at})
		}
	}
}
