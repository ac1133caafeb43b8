package slope

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// joinCover is the least share of a joined line's length that the chains it joins cover: what lies between is not another plane's.
const joinCover = 0.5

// valleyIn adds the valley in which two planes meet where errors hide on which edges of facets it runs, and reports whether it did; false leaves the chains of edges
// between them to be told one by one.
//
// What two spots on either side of a valley differ by, a quarter of the change of slope over their spacing, is then less than the tolerance: the border between the
// planes runs to and fro over the valley, breaks up, and rises and falls by the errors of single spots. Where the planes meet is known from all of theirs.
func (l *liner) valleyIn(chains []chain) bool {
	a, b := int32(chains[0].key>>32), int32(chains[0].key&(1<<32-1))
	p, q := &l.slopes.Planes[a], &l.slopes.Planes[b]
	s := newStretch(p, q)
	if l.sigma == nil || p.Inner == 0 || q.Inner == 0 || p.Loose || q.Loose || float64(s.fold*l.surface.Spacing)/4 > l.slopes.Tolerance || l.meeting(a, b, s.nx, s.ny) != gathers ||
		!l.higher(s, a) {
		return false
	}
	at, covered := l.stretchOver(s, chains)
	if s.to-s.from < leastRun || covered < joinCover*(s.to-s.from) || l.passes(s) {
		return false
	}
	line := Line{Breakline: -1, Left: b, Right: a, Inferred: true, Hidden: true}
	if float64(s.nx*s.ty)-float64(s.ny*s.tx) < 0 { // p, that stands higher along (nx, ny), lies to the left of the way down
		line.Left, line.Right = a, b
	}
	for v := range at {
		line.Vertices = append(line.Vertices, v)
	}
	slices.SortFunc(line.Vertices, func(v, w int32) int { return cmp.Or(cmp.Compare(at[v], at[w]), cmp.Compare(v, w)) })
	start, end := s.along(s.from), s.along(s.to)
	line.Plan, line.Levels = orb.LineString{start, end}, []float64{p.At(start), p.At(end)}
	l.finish(line, gathers)
	return true
}

// stretchOver lays the stretch over the chains between its planes. It returns the vertices near it, with where along it they stand, and how much of it the chains cover [m].
func (l *liner) stretchOver(s *stretch, chains []chain) (at map[int32]float64, covered float64) {
	reach := l.surface.Spacing + 2*l.slopes.Tolerance/s.fold
	at = map[int32]float64{}
	for _, c := range chains {
		last := math.NaN()
		for i := range len(c.edges) + 1 {
			v := l.vertexAt(c.edges, i)
			place := orb.Point{l.t.X[v], l.t.Y[v]}
			off := s.off(place)
			if math.Abs(off) > reach {
				last = math.NaN()
				continue
			}
			if len(at) == 0 {
				s.foot = orb.Point{place[0] - float64(off*s.nx), place[1] - float64(off*s.ny)}
			}
			d := float64((place[0]-s.foot[0])*s.tx) + float64((place[1]-s.foot[1])*s.ty)
			if at[v] = d; !math.IsNaN(last) {
				covered += math.Abs(d - last)
			}
			last = d
			s.from, s.to = math.Min(s.from, d), math.Max(s.to, d)
		}
	}
	return at, covered
}

// passes reports whether the stretch passes an outlet that drains first, or one stands on it before its lower end: a valley ends at its outlet. What two planes of a bay, or of
// a row of bays, have in common across their drains is where the ground between should be.
func (l *liner) passes(s *stretch) bool {
	for i := range l.surface.Outlets {
		o := &l.surface.Outlets[i]
		if o.Duty == roof.Overflow || o.Type == roof.EdgeOutlet || math.Abs(s.off(o.Plan)) > l.surface.Spacing+l.radius(o) {
			continue
		}
		d := float64((o.Plan[0]-s.foot[0])*s.tx) + float64((o.Plan[1]-s.foot[1])*s.ty)
		if d > s.from-leastRun && d < s.to-2*l.surface.Spacing {
			return true
		}
	}
	return false
}

// higher reports whether plane a lies, in the mean, where it is the higher of two planes: at a valley the roof is the higher one, at a ridge the lower.
func (l *liner) higher(s *stretch, a int32) bool {
	sum := 0.0
	for _, f := range l.slopes.Planes[a].Facets {
		x, y, _ := corners(l.t, f, 0, 0)
		sum += float64(l.t.FacetArea(f) * s.off(orb.Point{(x[0] + x[1] + x[2]) / 3, (y[0] + y[1] + y[2]) / 3}))
	}
	return sum > 0
}

// meet returns the slope of the line on which the planes beside a line meet, and its standard error, doubled: planes are not sure to be the right ones.
//
// Along the line t both planes fall alike, s; square to it they rise by a and b to either side. Where errors turn them, the line turns as well: s moves by
// (b d1 + a d2)/(a + b), with d1 and d2 what the slopes of the planes along t are off.
func (l *liner) meet(line *Line) (slope, sigma float64) {
	p, q := &l.slopes.Planes[line.Left], &l.slopes.Planes[line.Right]
	s := newStretch(p, q)
	a := math.Abs(float64(p.Gradient[0]*s.nx) + float64(p.Gradient[1]*s.ny))
	b := math.Abs(float64(q.Gradient[0]*s.nx) + float64(q.Gradient[1]*s.ny))
	return ValleySlope(p.Gradient, q.Gradient), foundDoubt * vector.Norm(b*p.Error(), a*q.Error()) / math.Max(a+b, leastFold)
}
