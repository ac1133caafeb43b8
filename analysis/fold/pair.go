package fold

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
)

// When two planes meet in a fold.
const (
	leastGain   = 0.25  // standard deviations of a spot by which they must meet off some edge that joins them: less moves nothing
	leastKnown  = 3     // standard deviations of their own by which they must do so
	leastTurn   = 0.005 // change of slope: 1/16 in per ft
	leastEdges  = 3     // edges that join spots of both
	sameSide    = 0.6   // of the spots beside it, by height, must stand where the fold has them
	settleTimes = 8
	third       = 4   // standard deviations by which a spot must lie off both planes to speak of a third part: errors alone take three of a thousand spots beyond strays, and one of sixteen thousand so far
	farApart    = 2.5 // spacings of the spots that an edge may be long: over a wider gap there is room for a third plane
	within      = 3   // rings of neighbours of an edge that joins two planes that say how they meet
)

type shape int8

const (
	apart  shape = iota
	valley       // the roof is the higher of the two
	ridge        // the roof is the lower of the two
)

// pair is two planes that adjoin, a < b.
type pair struct {
	a, b  int32
	shape shape
	known bool // the fold stands off the mesh by more than the scatter makes

	doubted bool // they meet in a fold, but rest on too few spots to tell where
}

// pairs is all planes that adjoin, in the order of their keys.
type pairs struct {
	*grower
	keys []int64
	list []pair
	gap  float64 // length of an edge from which it tells nothing of how planes meet [m]
}

// side returns the side of the square that each spot has to itself [m].
func (g *grower) side() float64 {
	twice, n := 0.0, 0
	for e := 0; e < len(g.V); e += 3 {
		a, b, c := g.V[e], g.V[e+1], g.V[e+2]
		twice += float64((g.X[b]-g.X[a])*(g.Y[c]-g.Y[a])) - float64((g.X[c]-g.X[a])*(g.Y[b]-g.Y[a]))
	}
	for _, m := range g.Measured {
		if m {
			n++
		}
	}
	return math.Sqrt(math.Abs(twice) / float64(2*max(1, n)))
}

func key(a, b int32) int64 { return int64(min(a, b))<<32 | int64(max(a, b)) }

// of returns the pair of two planes, nil where they do not adjoin.
func (p *pairs) of(a, b int32) *pair {
	if i, ok := slices.BinarySearch(p.keys, key(a, b)); ok {
		return &p.list[i]
	}
	return nil
}

// settle finds how planes meet and moves spots to the side on which they stand, until nothing moves.
func (p *pairs) settle() {
	if p.mean != nil { // planes stop short of folds
		p.meet()
		p.takeRest(strays)
	}
	for range settleTimes {
		p.meet()
		if !p.moveSpots() {
			break
		}
		p.refit()
	}
	p.takeRest(third)
	p.meet()
}

// joining visits every edge of the mesh between vertices of two planes.
func (p *pairs) joining(visit func(e, u, v int32)) {
	for e, t := range p.Twin {
		if t >= 0 && t < int32(e) {
			continue
		}
		if u, v := p.V[e], p.end(int32(e)); p.label[u] != p.label[v] && p.label[u] >= 0 && p.label[v] >= 0 {
			visit(int32(e), u, v)
		}
	}
}

// vote is what an edge says about how two planes meet.
type vote struct {
	key         int64
	u, v        int32
	gain, doubt float64 // height of the fold off the edge, in standard deviations of a spot and of the planes
}

// meet lists the pairs of planes that edges join, and how they meet.
func (p *pairs) meet() {
	var votes []vote
	p.joining(func(e, u, v int32) { votes = append(votes, p.vote(e, u, v)) })
	slices.SortStableFunc(votes, func(a, b vote) int { return cmp.Compare(a.key, b.key) })
	p.keys, p.list = p.keys[:0], p.list[:0]
	for i := 0; i < len(votes); {
		j := i
		for j < len(votes) && votes[j].key == votes[i].key {
			j++
		}
		p.keys, p.list = append(p.keys, votes[i].key), append(p.list, p.judge(votes[i:j]))
		i = j
	}
}

// vote asks where the planes of the ends of half-edge e meet.
func (p *pairs) vote(e, u, v int32) vote {
	a, b := &p.planesOf(u)[0], &p.planesOf(v)[0]
	out := vote{key: key(p.label[u], p.label[v]), u: u, v: v}
	du, dv := a.At(p.X[u], p.Y[u])-b.At(p.X[u], p.Y[u]), b.At(p.X[v], p.Y[v])-a.At(p.X[v], p.Y[v])
	if (du > 0) != (dv > 0) {
		return out
	}
	t := du / (du + dv)
	x, y := p.X[u]+float64(t*(p.X[v]-p.X[u])), p.Y[u]+float64(t*(p.Y[v]-p.Y[u]))
	za, zb := a.At(p.X[u], p.Y[u]), b.At(p.X[v], p.Y[v])
	over := za + float64(t*(zb-za)) - a.At(x, y)
	if p.denied(e, over > 0) {
		return out
	}
	gain := math.Abs(over)
	out.gain = gain / math.Max(p.sigma[u], p.sigma[v])
	out.doubt = gain / math.Max(a.sigma(x, y), b.sigma(x, y))
	return out
}

// denied reports whether a spot opposite half-edge e, which joins two planes, lies on neither and over both, where they would meet in a valley, or under both,
// at a ridge: there the roof is a third part, of too few spots to be a plane. A spot next to an outlet is none: valleys lead to outlets, and the roof about one may
// stand high. So it is where half-edge e reaches over a gap between spots that has room for such a part.
func (p *pairs) denied(e int32, valley bool) bool {
	if u, v := p.V[e], p.end(e); vector.Norm(p.X[u]-p.X[v], p.Y[u]-p.Y[v]) > p.gap {
		return true
	}
	a, b := &p.planesOf(p.V[e])[0], &p.planesOf(p.end(e))[0]
	for _, e := range [2]int32{e, p.Twin[e]} {
		if e < 0 {
			continue
		}
		w := p.before(e)
		if !p.Measured[w] || p.label[w] >= 0 || p.Coded[w] || p.fits(a, w) || p.fits(b, w) || p.atOutlet(w) {
			continue
		}
		sign := choose.If(valley, 1, -1.0)
		if math.Min(sign*p.off(a, w), sign*p.off(b, w)) > third {
			return true
		}
	}
	return false
}

// atOutlet reports whether an outlet stands at vertex w or next to it.
func (p *pairs) atOutlet(w int32) bool {
	if p.Outlet == nil {
		return false
	}
	return p.Outlet[w] || slices.ContainsFunc(p.around(w), func(v int32) bool { return p.Outlet[v] })
}

func (p *pairs) planesOf(v int32) []Plane { return p.grower.list[p.label[v]:] }

// judge sums up the edges that join two planes.
func (p *pairs) judge(votes []vote) pair {
	out := pair{a: int32(votes[0].key >> 32), b: int32(votes[0].key & (1<<32 - 1))}
	clear := func(v vote) float64 { return math.Min(v.gain/leastGain, v.doubt/leastKnown) }
	best := slices.MaxFunc(votes, func(a, b vote) int { return cmp.Compare(clear(a), clear(b)) })
	out.shape = p.shapeOf(&out, votes)
	a, b := &p.grower.list[out.a], &p.grower.list[out.b]
	meets := out.shape != apart && len(votes) >= leastEdges && best.gain >= leastGain && vector.Norm(a.DX-b.DX, a.DY-b.DY) >= leastTurn && !p.bends()
	out.known = meets && best.doubt >= leastKnown
	out.doubted = meets && !out.known
	return out
}

// shapeOf says how two planes meet: the spots beside the edges that join them, a few rings deep, stand on the higher of the two at a valley
// and on the lower at a ridge. By height, so that those few count little that stand on the wrong side of the fold as yet.
func (p *pairs) shapeOf(q *pair, votes []vote) shape {
	p.stamp++
	p.set = p.set[:0]
	take := func(v int32) {
		if p.grower.mark[v] != p.stamp && (p.label[v] == q.a || p.label[v] == q.b) {
			p.grower.mark[v] = p.stamp
			p.set = append(p.set, v)
		}
	}
	for _, v := range votes {
		take(v.u)
		take(v.v)
	}
	for from, ring := 0, 0; ring < within; ring++ {
		to := len(p.set)
		for _, u := range p.set[from:to] {
			for _, w := range p.around(u) {
				take(w)
			}
		}
		from = to
	}
	a, b := &p.grower.list[q.a], &p.grower.list[q.b]
	sum, most := 0.0, 0.0
	for _, v := range p.set {
		d := a.At(p.X[v], p.Y[v]) - b.At(p.X[v], p.Y[v])
		if most += math.Abs(d); p.label[v] == q.b {
			d = -d
		}
		sum += d
	}
	switch {
	case sum > sameSide*most:
		return valley
	case sum < -sameSide*most:
		return ridge
	}
	return apart
}

// beyond reports whether a vertex on plane own at (x, y) stands on the other side of the fold between it and plane c.
func (p *pairs) beyond(own, c int32, x, y float64) bool {
	q := p.of(own, c)
	if q == nil || q.shape == apart {
		return false
	}
	d := p.grower.list[c].At(x, y) - p.grower.list[own].At(x, y)
	return q.shape == valley && d > 0 || q.shape == ridge && d < 0
}

// beside returns the planes of the neighbours of vertex v, ascending.
func (p *pairs) beside(v int32) []int32 {
	p.set = p.set[:0]
	for _, w := range p.around(v) {
		if c := p.label[w]; c >= 0 && !slices.Contains(p.set, c) {
			p.set = append(p.set, c)
		}
	}
	slices.Sort(p.set)
	return p.set
}

// moveSpots gives spots beside folds the plane on whose side they stand, and those off their plane one that they lie on.
func (p *pairs) moveSpots() (moved bool) {
	next := slices.Clone(p.label)
	for v := range p.label {
		if own := p.label[v]; own < 0 {
			continue
		}
		for _, c := range p.beside(int32(v)) {
			if c == next[v] || !p.fits(&p.grower.list[c], int32(v)) {
				continue
			}
			if !p.fits(&p.grower.list[next[v]], int32(v)) || p.beyond(next[v], c, p.X[v], p.Y[v]) {
				next[v], moved = c, true
			}
		}
	}
	p.label = next
	return moved
}

// refit fits every plane to its spots anew; one that lost too many keeps its fit.
func (p *pairs) refit() {
	sums := make([]moments, len(p.grower.list))
	for v, l := range p.label {
		if l >= 0 {
			s := p.sigma[v]
			sums[l].add(p.X[v], p.Y[v], p.Z[v], 1/float64(s*s))
		}
	}
	for l := range sums {
		if q, ok := sums[l].fit(); ok && q.Spots >= leastSpots {
			p.grower.list[l] = q
		}
	}
}

// takeRest gives a plane to the vertices that have none but stand next to one: spots that lie on it, and what was not measured, from its
// nearest measured neighbour first, then, as at corners, from what was so given one. Each goes to the side of a fold on which it stands. Spots lie on a plane
// to so many standard deviations.
func (p *pairs) takeRest(most float64) {
	for pass := range 3 {
		next := slices.Clone(p.label)
		for v := range p.label {
			if p.label[v] >= 0 || p.Coded[v] || pass > 0 && p.Measured[v] && p.mean == nil {
				continue
			}
			if next[v] = p.nearest(int32(v), pass == 0 || p.Measured[v], most); next[v] < 0 {
				continue
			}
			for _, c := range p.beside(int32(v)) {
				if c != next[v] && p.beyond(next[v], c, p.X[v], p.Y[v]) && (!p.Measured[v] || p.fitsTo(&p.grower.list[c], int32(v), most)) {
					next[v] = c
				}
			}
		}
		p.label = next
	}
}

// nearest returns the plane of the nearest neighbour of vertex v, a measured one if so asked. It is -1 where that has none, or where v was
// measured and lies on no neighbour's plane.
func (p *pairs) nearest(v int32, measured bool, most float64) int32 {
	best, far := int32(-1), math.Inf(1)
	for _, w := range p.around(v) {
		c, d := p.label[w], vector.Norm(p.X[w]-p.X[v], p.Y[w]-p.Y[v])
		switch {
		case measured && !p.Measured[w], d > far, d == far && c >= best, !measured && c < 0, p.Measured[v] && (c < 0 || !p.fitsTo(&p.grower.list[c], v, most)):
			continue
		}
		best, far = c, d
	}
	return best
}
