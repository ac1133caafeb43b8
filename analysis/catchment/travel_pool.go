package catchment

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/atonce"
	"runnel/analysis/geodesic"
)

// means measures the ways that begin in the water: per pond those of each of its takers.
func (v *travels) means() [][]geodesic.Sum {
	out := make([][]geodesic.Sum, len(v.pools))
	atonce.Each(len(v.pools), pondsAtATime, func() func(from, to int) {
		return func(from, to int) {
			for i := from; i < to; i++ {
				if v.pools[i] != nil {
					v.s.Cut.Halt.Look()
					out[i] = geodesic.Sums(v.pools[i].fields)
				}
			}
		}
	})
	return out
}

// addWet adds the ways that begin in the water.
func (v *travels) addWet(means [][]geodesic.Sum) {
	for i, p := range v.pools {
		if p != nil {
			v.addPool(int32(i), p, means[i])
		}
	}
}

func (v *travels) addPool(i int32, p *pool, means []geodesic.Sum) {
	first := v.first[i]
	for k, m := range means {
		x := v.takers[first+int32(k)]
		o, more := x.outlet, 0.0
		if o < 0 {
			o, more = v.legs[i].outlet, v.legs[i].travel
		}
		if o < 0 || m.Area == 0 {
			continue
		}
		v.sum[o] += float64(v.wet[first+int32(k)] * (m.Ways/m.Area + more))
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
