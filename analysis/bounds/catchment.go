package bounds

import (
	"math"
	"math/rand/v2"
)

// catchments makes replicates of the whole surface and returns the bounds of the area that each outlet takes with ponds full. The flood says
// which outlet each vertex drains to; a vertex stands for a third of its facets. The scatter of those areas, as a share of that of
// the surface itself, is laid on the exact areas. nil where the surface has too many vertices for that.
func (m *model) catchments() []Range {
	n := len(m.t.X)
	trials := min(mostTrials/2, wholeWork/max(1, n))
	if trials < fewTrials || len(m.sinks) == 0 {
		return nil
	}
	all := make([]int32, m.t.Facets())
	m.stamp++
	for f := range all {
		all[f] = int32(f)
		m.facet[f] = m.stamp
	}
	p := m.patchOf(all)
	p.base = make([]float64, len(p.vertex))
	for k, v := range p.vertex {
		p.base[k] = m.t.Z[v] + m.shift[v]
	}
	weight := p.thirds()
	f := newFiller(m, p)
	f.trace()
	sum := func() []float64 {
		out := make([]float64, len(m.sinks))
		for i, o := range f.from {
			if o >= 0 {
				out[o] += weight[i]
			}
		}
		return out
	}
	f.fill(0)
	self := sum()
	series := make([][]float64, len(m.sinks))
	e := &dice{rand.NewPCG(uint64(n), uint64(len(m.sinks)))}
	for range trials / 2 {
		f.draw(e)
		for _, sign := range [2]float64{1, -1} {
			f.fill(sign)
			for o, a := range sum() {
				series[o] = append(series[o], a)
			}
		}
	}
	out := make([]Range, len(m.sinks))
	for o := range out {
		exact := m.Catchments[o]
		r := rangeOf(series[o], self[o], self[o], false)
		out[o] = Range{math.Max(0, exact+r.Low-self[o]), math.Min(m.Surface.Area, exact+r.High-self[o])}
	}
	return out
}

// thirds returns for each vertex a third of the area of its facets [m2].
func (p *patch) thirds() []float64 {
	weight := make([]float64, len(p.vertex))
	for k, c := range p.facets {
		for _, i := range c {
			weight[i] += p.area[k] / 3
		}
	}
	return weight
}
