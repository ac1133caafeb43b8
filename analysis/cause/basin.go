package cause

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// Basin is the ground about a pond, fitted by a plane and by a bent surface.
type basin struct {
	ok         bool
	plane      bend
	bend       bend
	big, small float64 // principal curvatures, greater first [1/m]
	explained  float64 // share of what the plane leaves that the bent surface takes away
	typical    float64 // median slope of the facets in a wider stretch round the pond, by area
}

// basinOf fits the pond and the ground round it as far as half the pond's width.
func (m *model) basinOf(st *site) basin {
	b := basin{typical: m.typicalSlope(m.ground(st, wideReach*m.scale))}
	samples := m.sampled(st, m.ground(st, math.Max(0.3, st.wide/2)))
	var ok bool
	if b.plane, ok = fitPlane(samples); !ok {
		return b
	}
	if b.bend, ok = fitBend(samples); !ok {
		return b
	}
	b.ok = true
	b.big, b.small, _ = eigen(b.bend.xx, b.bend.xy, b.bend.yy)
	if b.plane.rms > 0 {
		k := b.bend.rms / b.plane.rms
		b.explained = 1 - float64(k*k)
	}
	return b
}

// maxGround bounds the facets that a basin is fitted on.
const maxGround = 200000

// wideReach is how far round a pond the roof is looked at to say whether it has slope at all, in spacings of
// the spots: a facet is about one spacing wide, so that two rows of facets lie round the pond.
const wideReach = 2

// typicalSlope returns the median slope of facets by area.
func (m *model) typicalSlope(facets []int32) float64 {
	sorted := slices.Clone(facets)
	steep := func(f int32) float64 { return vector.Norm(m.t.DX[f], m.t.DY[f]) }
	slices.SortFunc(sorted, func(a, b int32) int { return cmp.Or(cmp.Compare(steep(a), steep(b)), cmp.Compare(a, b)) })
	total := 0.0
	for _, f := range sorted {
		total += m.t.FacetArea(f)
	}
	sum := 0.0
	for _, f := range sorted {
		if sum += m.t.FacetArea(f); sum >= total/2 {
			return steep(f)
		}
	}
	return 0
}

// ground returns the facets of the pond and those beyond it within reach of its water.
func (m *model) ground(st *site, reach float64) []int32 {
	m.stamp++
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
	return queue
}

// sampled reads facets at their three edge midpoints, which give the mean of a plane and of a surface of
// the second degree over a facet without bias.
func (m *model) sampled(st *site, facets []int32) []sample {
	ox, oy := st.centre[0], st.centre[1]
	samples := make([]sample, 0, 3*len(facets))
	for _, f := range facets {
		a := m.t.FacetArea(f) / 3
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
	u := math.Abs(float64(x*st.axis[0]) + float64(y*st.axis[1]))
	v := math.Abs(float64(y*st.axis[0]) - float64(x*st.axis[1]))
	return u <= st.long/2+reach && v <= st.wide/2+reach
}
