package flow

import (
	"github.com/paulmach/orb"

	"runnel/analysis/atonce"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// sums gathers areas and travels per label, of some facets.
type sums struct {
	*Network
	part     solver    // with buffers of its own
	areas    []float64 // per label [m2]
	levels   []float64 // per label: its level area [m2]
	travels  []float64 // per label: travel summed over its area [m3]
	longest  []float64 // per label: longest travel [m]
	farthest []Place   // per label: where that starts; Facet is -1 where nothing drains to it
}

// Facets are measured in up to mostParts parts of leastPart or more, whatever the number of processors: the sums are those of the parts, in their
// order, so that they come out the same everywhere.
const (
	leastPart = 1 << 16
	mostParts = 8
)

// measure fills the areas and travels from the settled lists.
func (n *Network) measure(v *solver) {
	facets := n.t.Facets()
	size := max(leastPart, (facets+mostParts-1)/mostParts)
	parts := make([]*sums, max(1, (facets+size-1)/size))
	atonce.Each(len(parts), 1, func() func(from, to int) {
		return func(i, _ int) {
			parts[i] = n.newSums(v)
			parts[i].add(int32(i*size), int32(min(facets, (i+1)*size)))
		}
	})
	all := parts[0]
	for _, s := range parts[1:] {
		all.join(s)
	}
	n.Area, n.Level, n.TravelMax, n.Farthest = all.areas, all.levels, all.longest, all.farthest
	n.TravelMean = make([]float64, len(n.Ends))
	for i, area := range n.Area {
		if area > 0 {
			n.TravelMean[i] = all.travels[i] / area
		}
		n.Indeterminate += n.Level[i]
	}
}

// newSums returns sums over nothing.
func (n *Network) newSums(v *solver) *sums {
	count := len(n.Ends)
	s := &sums{Network: n, part: *v, farthest: make([]Place, count)}
	s.part.buf, s.part.pending = nil, nil
	for _, list := range []*[]float64{&s.areas, &s.levels, &s.travels, &s.longest} {
		*list = make([]float64, count)
	}
	for i := range s.farthest {
		s.farthest[i].Facet = -1
	}
	return s
}

// add takes in the facets from..to.
func (s *sums) add(from, to int32) {
	for f := from; f < to; f++ {
		s.t.Halt.Look()
		switch {
		case s.sinks.facet[f] >= 0:
			s.areas[s.sinks.facet[f]] += s.t.FacetArea(f)
		case pooled(s.t, f):
			s.addPooled(f)
		default:
			s.addFacet(f)
		}
	}
}

// join takes in what comes after.
func (s *sums) join(next *sums) {
	for i := range s.areas {
		s.areas[i] += next.areas[i]
		s.levels[i] += next.levels[i]
		s.travels[i] += next.travels[i]
		if at := next.farthest[i]; at.Facet >= 0 {
			s.farther(Label(i), at.Facet, next.longest[i], func() orb.Point { return at.Point })
		}
	}
}

// upperPart is a part and the upper side it enters over.
type upperPart struct {
	t      int32
	across float64 // how wide that side is across the fall [m]
	part
}

// uppers returns the parts of all upper sides of facet f; no facet has more than two.
func (n *Network) uppers(f int32) (list [2]upperPart, count int) {
	for t := 3 * f; t < 3*f+3; t++ {
		if n.t.Run[t] < 0 {
			q := n.square(t)
			parts, k := n.partsOf(t, &q)
			for i := range k {
				list[count] = upperPart{t, q.across, parts[i]}
				count++
			}
		}
	}
	return list, count
}

// addFacet adds the pieces of a facet that drain to one label each. Their areas are those of the pieces as
// drawn: they tile the facet to the last bit, also where a corner that was rounded to the grid leaves a
// side a hair off the fall it is said to run along.
func (s *sums) addFacet(f int32) {
	v := &s.part
	uppers, count := s.uppers(f)
	for i := range count {
		p := &uppers[i]
		v.buf = v.buf[:0]
		q := stretch(p.part)
		q.s0, q.s1, q.l0, q.l1 = p.w0, p.w1, 0, 0
		if p.w0 == p.w1 {
			q.s0, q.s1 = p.s0, p.s1
		}
		v.pull(q)
		start, drawn := q.s0, q.s0
		for i, x := range v.buf {
			if v.travel {
				s.addTravel(p, start, x)
			}
			start = x.end
			if i == len(v.buf)-1 || v.buf[i+1].label != x.label {
				s.areas[x.label] += s.tile(p, drawn, start)
				drawn = start
			}
		}
	}
}

// ends returns the stretches of both sides of a part that lie between two positions: of the lower side,
// or of the upper one where all of it drains to one point of the lower.
func (p *part) ends(from, to float64) (s0, s1, w0, w1 float64) {
	if p.w0 == p.w1 {
		return from, to, p.w0, p.w1
	}
	return p.up(from), p.up(to), from, to
}

// addTravel adds the travel of the water behind one interval of a lower side, which starts at from.
func (s *sums) addTravel(p *upperPart, from float64, x interval) {
	s0, s1, w0, w1 := p.ends(from, x.end)
	l0, l1 := p.through(w0), p.through(w1)
	width := float64(p.across * (s1 - s0))
	d := (float64(2*x.d0*l0) + float64(x.d0*l1) + float64(x.d1*l0) + float64(2*x.d1*l1)) / 6
	own := (float64(l0*l0) + float64(l0*l1) + float64(l1*l1)) / 6
	s.travels[x.label] += float64(width * (d + own))
	if width < hairline {
		return
	}
	s.farther(x.label, p.t/3, x.d0+l0, func() orb.Point { return s.behind(p, w0, w1, width) })
	s.farther(x.label, p.t/3, x.d1+l1, func() orb.Point { return s.behind(p, w1, w0, width) })
}

// tile returns the area of a part between two positions.
func (n *Network) tile(p *upperPart, from, to float64) float64 {
	s0, s1, w0, w1 := p.ends(from, to)
	a, b, c, d := n.on(p.side, w0), n.on(p.side, w1), n.onUpper(p.t, s1), n.onUpper(p.t, s0)
	return cross(c[0]-a[0], c[1]-a[1], d[0]-b[0], d[1]-b[1]) / 2
}

// hairline is how far the place of a longest travel is kept from the sides of its strip, where water may
// fork; narrower strips have none [m].
const hairline = 1e-7

// behind returns the point at the upper end of the line through position w of a lower side, moved a
// little into the strip of the given width that ends at position other.
func (n *Network) behind(p *upperPart, w, other, width float64) orb.Point {
	w += float64(min(0.5, hairline/width) * (other - w))
	upper, lower := n.onUpper(p.t, p.up(w)), n.on(p.side, w)
	in := min(0.5, hairline/max(hairline, vector.Norm(lower[0]-upper[0], lower[1]-upper[1])))
	return orb.Point{between(upper[0], lower[0], in), between(upper[1], lower[1], in)}
}

// on returns the point at position w of side e.
func (n *Network) on(e int32, w float64) orb.Point {
	return n.onLine(n.t.V[e], n.t.V[surface.Next(e)], w)
}

// onUpper returns the point at position s of upper side t, which is counted from its end.
func (n *Network) onUpper(t int32, s float64) orb.Point {
	return n.onLine(n.t.V[surface.Next(t)], n.t.V[t], s)
}

func (n *Network) onLine(a, b int32, s float64) orb.Point {
	return orb.Point{between(n.t.X[a], n.t.X[b], s), between(n.t.Y[a], n.t.Y[b], s)}
}

// farther keeps the place of the longest travel; of equals the first in the pose of the roof.
func (s *sums) farther(label Label, f int32, travel float64, where func() orb.Point) {
	const equal = 1e-9
	best := &s.farthest[label]
	if best.Facet >= 0 && travel < s.longest[label]-equal {
		return
	}
	at := where()
	if best.Facet >= 0 && travel <= s.longest[label]+equal && s.t.Pose.Before(at, best.Point) >= 0 {
		return
	}
	s.longest[label] = travel
	*best = Place{f, at}
}

// addPooled adds a level facet: all of it runs straight to one vertex.
func (s *sums) addPooled(f int32) {
	v, c := &s.part, s.poolCorner(f)
	label, _, _ := v.at(c)
	area := s.t.FacetArea(f)
	s.areas[label] += area
	s.levels[label] += area
	if s.way[c] == wayPit || !v.travel {
		return
	}
	s.travels[label] += float64(area * s.meanPooled(f))
	s.fartherWithin(label, f)
	for _, w := range s.t.V[3*f : 3*f+3] {
		at := s.inside(f, w)
		target := s.poolTarget(f, at[0], at[1])
		_, d, _ := v.at(target)
		s.farther(label, f, d+s.length(w, target), func() orb.Point { return at })
	}
}

// fartherWithin looks at the middle of level facet f, which may lie farther off than its corners.
func (s *sums) fartherWithin(label Label, f int32) {
	c := s.t.V[3*f : 3*f+3]
	x, y := (s.t.X[c[0]]+s.t.X[c[1]]+s.t.X[c[2]])/3, (s.t.Y[c[0]]+s.t.Y[c[1]]+s.t.Y[c[2]])/3
	target := s.poolTarget(f, x, y)
	_, d, _ := s.part.at(target)
	s.farther(label, f, d+vector.Norm(x-s.t.X[target], y-s.t.Y[target]), func() orb.Point { return orb.Point{x, y} })
}

// meanPooled returns the mean travel of a level facet's points.
func (s *sums) meanPooled(f int32) float64 {
	v := &s.part
	c := s.t.V[3*f : 3*f+3]
	if !s.t.Level(f) {
		_, d, _ := v.at(s.poolCorner(f))
		return d + s.meanDistance(f, s.poolCorner(f))
	}
	if q := s.common(c...); q >= 0 && s.together(q, s.poolCorner(f)) {
		_, d, _ := v.at(q)
		return d + s.meanDistance(f, q)
	}
	const parts = 8 // of each side; the middles of 64 like triangles
	sum := 0.0
	for i := range parts {
		for j := range parts - i {
			for k := range 2 {
				if i+j+k >= parts {
					continue
				}
				a := (float64(i) + 1.0/3 + float64(k)/3) / parts
				b := (float64(j) + 1.0/3 + float64(k)/3) / parts
				x := s.t.X[c[0]] + float64(a*(s.t.X[c[1]]-s.t.X[c[0]])) + float64(b*(s.t.X[c[2]]-s.t.X[c[0]]))
				y := s.t.Y[c[0]] + float64(a*(s.t.Y[c[1]]-s.t.Y[c[0]])) + float64(b*(s.t.Y[c[2]]-s.t.Y[c[0]]))
				target := s.poolTarget(f, x, y)
				_, d, _ := v.at(target)
				sum += d + vector.Norm(x-s.t.X[target], y-s.t.Y[target])
			}
		}
	}
	return sum / (parts * parts)
}

// inside returns corner w of facet f moved a little towards the centroid.
func (n *Network) inside(f, w int32) orb.Point {
	t := n.t
	c := t.V[3*f : 3*f+3]
	x := (t.X[c[0]] + t.X[c[1]] + t.X[c[2]]) / 3
	y := (t.Y[c[0]] + t.Y[c[1]] + t.Y[c[2]]) / 3
	in := min(0.5, hairline/max(hairline, vector.Norm(x-t.X[w], y-t.Y[w])))
	return orb.Point{between(t.X[w], x, in), between(t.Y[w], y, in)}
}

// meanDistance returns the mean distance of facet f's points from vertex q. The facet is the sum of the triangles over its
// sides with q, with their signs; of each the mean is two thirds of that of the side, here by Simpson's rule.
func (n *Network) meanDistance(f, q int32) float64 {
	sum := 0.0
	for e := 3 * f; e < 3*f+3; e++ {
		a, b := n.t.V[e], n.t.V[surface.Next(e)]
		if a == q || b == q {
			continue
		}
		area := cross(n.t.X[a]-n.t.X[q], n.t.Y[a]-n.t.Y[q], n.t.X[b]-n.t.X[q], n.t.Y[b]-n.t.Y[q]) / 2
		sum += float64(area * n.sideMean(a, b, q))
	}
	return 2 * sum / (3 * n.t.FacetArea(f))
}

// sideMean returns the mean distance of the line from a to b from vertex q.
func (n *Network) sideMean(a, b, q int32) float64 {
	const steps = 32
	sum := 0.0
	for i := 0; i <= steps; i++ {
		p := n.onLine(a, b, float64(i)/steps)
		weight := float64(2 + 2*(i%2))
		if i == 0 || i == steps {
			weight = 1
		}
		sum += float64(weight * vector.Norm(p[0]-n.t.X[q], p[1]-n.t.Y[q]))
	}
	return sum / (3 * steps)
}
