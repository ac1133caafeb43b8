package bounds

import (
	"math"
	"math/rand/v2"
)

// catchments makes replicates of the whole surface and returns the bounds of the area that each outlet takes with ponds full, and the area that it
// takes on the surface itself. The flood says which outlet each vertex drains to; a vertex stands for a third of its facets. nil where the surface
// has too many vertices for that.
func (m *model) catchments() (replicas []Range, self []float64) {
	n := len(m.t.X)
	if n > mostWhole || len(m.sinks) == 0 {
		return nil, nil
	}
	trials := min(mostTrials/2, max(leastTrials, wholeWork/max(1, n)))
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
	f := newFiller(newReplica(m, p))
	sum := func() []float64 {
		out := make([]float64, len(m.sinks))
		for i := range f.filled {
			if o := f.filled[i].from; o >= 0 {
				out[o] += weight[i]
			}
		}
		return out
	}
	f.replicate(0)
	f.fill()
	self = sum()
	series := make([][]float64, len(m.sinks))
	e := &dice{rand.NewPCG(uint64(p.own), uint64(len(m.sinks)))}
	for range trials / 2 {
		f.draw(e)
		for _, sign := range [2]float64{1, -1} {
			f.replicate(sign)
			f.fill()
			for o, a := range sum() {
				series[o] = append(series[o], a)
			}
		}
	}
	replicas = make([]Range, len(m.sinks))
	for o := range replicas {
		replicas[o] = rangeOf(series[o], self[o], self[o], false, math.Inf(1))
	}
	return replicas, self
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
