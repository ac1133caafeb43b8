package cause

import (
	"math"

	"runnel/analysis/surface"
)

// Basin is the ground about a pond, fitted by a plane and by a bent surface.
type basin struct {
	ok          bool
	plane       bend
	bend        bend
	big, small  float64    // principal curvatures, greater first [1/m]
	axis        [2]float64 // direction of the greater
	explained   float64    // share of what the plane leaves that the bent surface takes away
	planeSlope  float64
	curbs, edge bool
}

// basinOf fits the pond and the ground round it as far as half the pond's width.
func (m *model) basinOf(st *site) basin {
	var b basin
	reach := math.Max(0.3, st.wide/2)
	samples := m.ground(st, reach)
	var ok bool
	if b.plane, ok = fitPlane(samples); !ok {
		return b
	}
	b.planeSlope = math.Hypot(b.plane.gx, b.plane.gy)
	if b.bend, ok = fitBend(samples); !ok {
		return b
	}
	b.ok = true
	b.big, b.small, b.axis = eigen(b.bend.xx, b.bend.xy, b.bend.yy)
	if b.plane.rms > 0 {
		k := b.bend.rms / b.plane.rms
		b.explained = 1 - k*k
	}
	return b
}

// maxGround bounds the facets that a basin is fitted on.
const maxGround = 200000

// ground samples the facets of the pond and those beyond it within reach of its water, each by its
// three edge midpoints, which give a plane's and a bent surface's mean without bias.
func (m *model) ground(st *site, reach float64) []sample {
	m.stamp++
	ox, oy := st.centre[0], st.centre[1]
	limit := func(f int32) bool { return m.beside(st, f, reach) }
	queue := make([]int32, 0, 4*len(st.p.Facets))
	for _, f := range st.p.Facets {
		m.seen[f] = m.stamp
		queue = append(queue, f)
	}
	for i := 0; i < len(queue) && len(queue) < maxGround; i++ {
		for c := range int32(3) {
			e := m.t.Twin[3*queue[i]+c]
			if e < 0 || m.seen[e/3] == m.stamp || !limit(e/3) {
				continue
			}
			m.seen[e/3] = m.stamp
			queue = append(queue, e/3)
		}
	}
	samples := make([]sample, 0, 3*len(queue))
	for _, f := range queue {
		a := m.facetArea(f) / 3
		for c := range int32(3) {
			p, q := m.t.V[3*f+c], m.t.V[surface.Next(3*f+c)]
			samples = append(samples, sample{
				(m.t.X[p]+m.t.X[q])/2 - ox, (m.t.Y[p]+m.t.Y[q])/2 - oy, (m.t.Z[p] + m.t.Z[q]) / 2, a,
			})
		}
	}
	return samples
}

// beside reports whether the middle of facet f lies within reach of the rectangle that stands for the pond.
func (m *model) beside(st *site, f int32, reach float64) bool {
	t := m.t
	a, b, c := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
	x := (t.X[a]+t.X[b]+t.X[c])/3 - st.centre[0]
	y := (t.Y[a]+t.Y[b]+t.Y[c])/3 - st.centre[1]
	u := math.Abs(x*st.axis[0] + y*st.axis[1])
	v := math.Abs(y*st.axis[0] - x*st.axis[1])
	return u <= st.long/2+reach && v <= st.wide/2+reach
}
