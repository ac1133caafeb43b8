package cause

import (
	"math"
	"slices"

	"runnel/analysis/ponding"
	"runnel/analysis/queue"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// Model is what the rules read: the surface with its results, and tables by vertex made once.
type model struct {
	s  *surface.Surface
	t  *surface.TIN // the cut one
	sl *slope.Slopes
	ps *ponding.Ponds
	c  standard.Criteria

	noise float64 // standard deviation of a measured elevation [m]
	scale float64 // distance over which the surface is known: typical spacing of the spots [m]

	sink   []int32 // per vertex: outlet whose footprint or open edge it lies on, -1 none
	valley []int32 // per vertex: valley line through it, -1 none
	ridge  []int32 // per vertex: ridge line through it, -1 none

	mark  []int32 // per vertex: stamp of the last search that reached it
	stamp int32
	from  []int32   // per vertex: where that search came from
	dist  []float64 // per vertex: how far
	seen  []int32   // per facet: stamp
	queue queue.Queue
	z     []float64 // elevations under a what-if; equal to t.Z between two
	probe probe
}

// Levels and total stations give 1 to 3 mm on a roof (recalled). Where no spot carries a standard deviation,
// the scatter of the spots about their planes stands for it, but no more than mostScatter, because the
// scatter holds the roof's own unevenness too; where the planes are too few to show one, the middle.
const sigmaUnstated = 0.002

func newModel(s *surface.Surface, sl *slope.Slopes, ps *ponding.Ponds, c standard.Criteria) *model {
	n := len(s.Cut.X)
	m := &model{
		s: s, t: s.Cut, sl: sl, ps: ps, c: c,
		noise: noiseOf(s.TIN, sl.Noise), scale: math.Max(s.Spacing, 0.3),
		sink: none(n), valley: none(n), ridge: none(n),
		mark: make([]int32, n), from: make([]int32, n), dist: make([]float64, n),
		seen: make([]int32, s.Cut.Facets()),
		z:    append([]float64(nil), s.Cut.Z...),
	}
	m.probe.t = s.Cut
	for o := range s.Outlets {
		for _, v := range s.Outlets[o].Vertices {
			if b := m.sink[v]; b < 0 || s.Outlets[o].Invert < s.Outlets[b].Invert {
				m.sink[v] = int32(o)
			}
		}
	}
	lines(m.valley, sl.Valleys)
	lines(m.ridge, sl.Ridges)
	return m
}

// lines writes for every vertex the first line through it, but prefers one that was measured as such.
func lines(of []int32, ls []slope.Line) {
	for i := range ls {
		for _, v := range ls[i].Vertices {
			if of[v] < 0 || ls[i].Named && !ls[of[v]].Named {
				of[v] = int32(i)
			}
		}
	}
}

// mostScatter is the most that an estimated scatter counts as error of measurement: what levels and total
// stations give (recalled). Physical reason: the scatter about planes also holds the roof's own unevenness,
// dishes above all, which is what is looked for and must not hide itself. A coarser method must be stated.
const mostScatter = 0.003

// noiseOf returns the root mean square of the stated standard deviations; where none is stated, the scatter
// of the spots about their planes, but no more than mostScatter.
func noiseOf(t *surface.TIN, scatter float64) float64 {
	sum, n := 0.0, 0
	for _, s := range t.Sigma {
		if s > 0 {
			sum += float64(s * s)
			n++
		}
	}
	switch {
	case n == 0 && scatter > 0:
		return math.Min(scatter, mostScatter)
	case n == 0:
		return sigmaUnstated
	}
	return math.Sqrt(sum / float64(n))
}

// none returns n marks of nothing, -1.
func none(n int) []int32 {
	a := slices.Repeat([]int32{-1}, n)
	return a
}

// around calls visit for every vertex joined to v by an edge.
func (m *model) around(v int32, visit func(w int32)) {
	t := m.t
	first := t.Out[v]
	if first < 0 {
		return
	}
	for e := first; ; {
		visit(t.V[surface.Next(e)])
		p := surface.Prev(e)
		if t.Twin[p] < 0 { // a border: the last neighbour is the start of p
			visit(t.V[p])
			return
		}
		e = t.Twin[p]
		if e == first {
			return
		}
	}
}
