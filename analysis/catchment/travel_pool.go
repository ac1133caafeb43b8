package catchment

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/flow"
	"runnel/analysis/geodesic"
)

// addWet adds the ways that begin in the water.
func (v *travels) addWet() {
	for i, p := range v.pools {
		if p != nil {
			v.s.Cut.Halt.Look()
			v.addPool(int32(i), p)
		}
	}
}

func (v *travels) addPool(i int32, p *pool) {
	first := v.first[i]
	sum, area := make([]float64, len(p.fields)), make([]float64, len(p.fields))
	nearest := func(tri int32, at orb.Point) (k int, far, reach float64) {
		far = math.Inf(1)
		for j, f := range p.fields {
			if d, r := f.At(tri, at); d < far {
				k, far, reach = j, d, r
			}
		}
		return k, far, reach
	}
	p.region.Cells(nearest, func(c geodesic.Cell) {
		sum[c.Target], area[c.Target] = sum[c.Target]+float64(c.Far*c.Area), area[c.Target]+c.Area
	})
	for k := range p.fields {
		x := v.takers[first+int32(k)]
		o, more := x.outlet, 0.0
		if o < 0 {
			o, more = v.legs[i].outlet, v.legs[i].travel
		}
		if o < 0 || area[k] == 0 {
			continue
		}
		v.sum[o] += float64(v.wet[first+int32(k)] * (sum[k]/area[k] + more))
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
			v.longer(o, farthest{travel: far + more, label: flow.Unlabelled, pool: i, tri: int32(e) / 3, taker: k, point: at})
		}
	}
}
