package fold

import (
	"math"
	"slices"

	"runnel/analysis/geometry/vector"
)

// How planes are grown.
const (
	leastSigma = 0.0015 // [m] a roof is no flatter than that, however good the instrument
	leastSpots = 6      // of a plane: fewer leave nothing to judge a fit by
	strays     = 3      // standard deviations that a spot may lie off its plane
	meanStrays = 2.5    // of the mean of those around it
	reach      = 3      // farther off than this many standard deviations of a spot a plane tells nothing
	rounds     = 12     // of flooding and refitting
	mostSeeds  = 3000   // of one size
	mostTries  = 6      // seeds that reached a spot and made no plane: more would make none either
	fallAcross = 0.02   // what a fold does to a plane that runs on over it, half a spacing beyond: 4 % by half
	hopeless   = 1.12   // times the misfit of a plane that many spots may have: after early floods they bend, and more floods would only wander along the bend
	early      = 3      // floods
	manySpots  = 200    // fewer can still draw back from a fold that they ran over
	hub        = 200    // edges of a vertex that makes those at their other ends no neighbours, as the middle of a circle of spots would
	steepest   = 0.06   // change of slope at a fold of a low-slope roof that is looked for
)

// discs are the sizes of the discs of spots tried as seeds, in rings of neighbours: some 60, 37, 19 and 7 spots. Large ones average the scatter;
// what is left is tried with smaller ones. Whole rings, so that the order in which spots are numbered tells nothing.
var discs = []int{4, 3, 2, 1}

type grower struct {
	*Field
	first, next []int32 // neighbours of vertex v: next[first[v]:first[v+1]]
	sigma       []float64
	typical     float64
	mean        [][3]float64 // per vertex: mean place and elevation of the spots around it and its own, where errors are large against folds; else nil
	count       []float64    // of those spots
	label       []int32
	list        []Plane
	mark        []int32
	stamp       int32
	set         []int32
	most        []int32 // the largest set of one seed's floods
	tries       uint8   // seeds that reached a spot and made no plane: more would make none either
	tried       []uint8 // per vertex: how many seeds of this size reached it and made no plane
	bent        []uint8 // per vertex: how many seeds of any size reached it with many spots that bend: smaller ones would as well
}

// newGrower returns a grower of planes for elevations that are as good as the field states, else as the spots scatter.
func newGrower(f *Field) *grower {
	g := &grower{Field: f}
	g.join()
	typical := stated(f.Sigma)
	if typical == 0 {
		typical = g.scatter()
	}
	return g.anew(typical)
}

// anew returns a grower of the same field for elevations that are good to typical where it states nothing [m].
func (g *grower) anew(typical float64) *grower {
	n := len(g.X)
	out := &grower{
		Field: g.Field, first: g.first, next: g.next, typical: typical, tries: mostTries,
		label: make([]int32, n), mark: make([]int32, n), sigma: make([]float64, n), tried: make([]uint8, n), bent: make([]uint8, n),
	}
	for v := range out.label {
		out.label[v] = -1
	}
	for v, s := range g.Sigma {
		if s == 0 {
			s = typical
		}
		out.sigma[v] = math.Max(s, leastSigma)
	}
	if strays*typical > fallAcross*out.spacing() {
		out.average()
	}
	return out
}

// average takes the means of spots with those around them. Where the error of a single spot is as large as what a fold does from spot to spot, a
// plane would run on over the fold; the mean of seven spots stops it.
func (g *grower) average() {
	n := len(g.X)
	g.mean, g.count = make([][3]float64, n), make([]float64, n)
	for v := range g.mean {
		m := &g.mean[v]
		take := func(w int32) {
			if g.Measured[w] {
				m[0], m[1], m[2] = m[0]+g.X[w], m[1]+g.Y[w], m[2]+g.Z[w]
				g.count[v]++
			}
		}
		take(int32(v))
		for _, w := range g.around(int32(v)) {
			take(w)
		}
		for i := range m {
			m[i] /= math.Max(1, g.count[v])
		}
	}
}

// spacing returns the mean length of the mesh's edges [m].
func (g *grower) spacing() float64 {
	sum, n := 0.0, 0
	for e, t := range g.Twin {
		if t > int32(e) {
			a, b := g.V[e], g.end(int32(e))
			sum += vector.Norm(g.X[a]-g.X[b], g.Y[a]-g.Y[b])
			n++
		}
	}
	return sum / math.Max(1, float64(n))
}

// join lists the neighbours of every vertex.
func (g *grower) join() {
	g.first = make([]int32, len(g.X)+1)
	each := func(visit func(a, b int32)) {
		for e, t := range g.Twin {
			a, b := g.V[e], g.end(int32(e))
			visit(a, b)
			if t < 0 {
				visit(b, a)
			}
		}
	}
	each(func(a, _ int32) { g.first[a+1]++ })
	for v := range g.X {
		g.first[v+1] += g.first[v]
	}
	g.next = make([]int32, g.first[len(g.X)])
	at := slices.Clone(g.first)
	each(func(a, b int32) { g.next[at[a]] = b; at[a]++ })
}

func (g *grower) end(e int32) int32 {
	if e%3 == 2 {
		return g.V[e-2]
	}
	return g.V[e+1]
}

func (g *grower) around(v int32) []int32 { return g.next[g.first[v]:g.first[v+1]] }

// stated returns the root mean square of the stated standard deviations, 0 where there are none.
func stated(sigma []float64) float64 {
	sum, n := 0.0, 0
	for _, s := range sigma {
		if s > 0 {
			sum += float64(s * s)
			n++
		}
	}
	return math.Sqrt(sum / math.Max(1, float64(n)))
}

// scatter estimates the standard deviation of the spots from how far each lies off the plane of its neighbours. Those beside a fold lie
// farther off, so the lower quartile is taken, which is 0.3186 standard deviations of normal errors.
func (g *grower) scatter() float64 {
	const sample = 5000
	var off []float64
	for v := 0; v < len(g.X); v += max(1, len(g.X)/sample) {
		var m moments
		for _, w := range g.around(int32(v)) {
			if g.Measured[w] {
				m.add(g.X[w]-g.X[v], g.Y[w]-g.Y[v], g.Z[w]-g.Z[v], 1)
			}
		}
		if p, ok := m.fit(); ok && m.n >= 4 && g.Measured[v] && !g.Coded[v] {
			s := p.sigma(0, 0)
			off = append(off, math.Abs(p.At(0, 0))/math.Sqrt(1+float64(s*s)))
		}
	}
	if len(off) < 12 {
		return 0
	}
	slices.Sort(off)
	return off[len(off)/4] / 0.3186
}

// tooDense reports whether no fold of a low-slope roof could stand off the mesh by more than the scatter.
func (g *grower) tooDense() bool {
	return steepest*g.spacing()/4 < leastGain*math.Max(g.typical, leastSigma)
}

func (g *grower) planes() {
	g.fromDiscs(discs)
	g.narrow()
}

// fromDiscs grows planes from discs of free spots of these sizes.
func (g *grower) fromDiscs(sizes []int) {
	for _, rings := range sizes {
		clear(g.tried)
		for _, s := range g.seeds(rings) {
			if !g.free(s.v) || g.givenUp(s.v) {
				continue
			}
			g.disc(s.v, rings)
			m := g.sums(g.set)
			if p, ok := m.fit(); ok {
				g.grow(s.v, p)
			}
		}
	}
}

// narrow grows the planes of two rows of spots, on which no whole ring stands: from pairs of triangles.
func (g *grower) narrow() {
	clear(g.tried)
	for _, s := range g.quads() {
		if g.givenUp(s.v) {
			continue
		}
		if set := g.quad(s.e); set != nil {
			m := g.sums(set)
			if p, ok := m.fit(); ok {
				g.grow(s.v, p)
			}
		}
	}
}

// givenUp reports whether enough seeds have reached vertex v.
func (g *grower) givenUp(v int32) bool { return max(g.tried[v], g.bent[v]) >= g.tries }

func (g *grower) free(v int32) bool { return g.Measured[v] && g.label[v] < 0 }

// sums returns the moments of spots.
func (g *grower) sums(set []int32) moments {
	var m moments
	for _, v := range set {
		s := g.sigma[v]
		m.add(g.X[v], g.Y[v], g.Z[v], 1/float64(s*s))
	}
	return m
}

// misfit returns the scatter of g.set about p in standard deviations of a spot.
func (g *grower) misfit(p *Plane) float64 {
	sum := 0.0
	for _, v := range g.set {
		r := g.off(p, v)
		sum += float64(r * r)
	}
	return math.Sqrt(sum / float64(max(1, len(g.set)-3)))
}

// off returns how far vertex v lies off p, in its standard deviations.
func (g *grower) off(p *Plane, v int32) float64 { return (g.Z[v] - p.At(g.X[v], g.Y[v])) / g.sigma[v] }

// fits reports whether vertex v lies on p, which must be known there.
func (g *grower) fits(p *Plane, v int32) bool { return g.fitsTo(p, v, strays) }

// fitsTo is fits to so many standard deviations.
func (g *grower) fitsTo(p *Plane, v int32, most float64) bool {
	x, y, e := g.X[v], g.Y[v], g.sigma[v]
	own, r := float64(e*e), g.Z[v]-p.At(x, y)
	if off := float64(r * r); off <= float64(most*most)*(1+reach*reach)*own { // what is farther off fits no plane that is known there
		s := p.Leverage(x, y)
		return s <= reach*reach*own && off <= float64(most*most)*(own+s)
	}
	return false
}

// keeps reports whether vertex v lies on p, and the spots around it do in the mean where errors are large.
func (g *grower) keeps(p *Plane, v int32) bool {
	if !g.fits(p, v) {
		return false
	}
	if g.mean == nil {
		return true
	}
	m := &g.mean[v]
	r, e := m[2]-p.At(m[0], m[1]), g.sigma[v]
	return float64(r*r) <= meanStrays*meanStrays*(float64(e*e)/g.count[v]+p.Leverage(m[0], m[1]))
}

// grow makes the spots that lie on p and are connected with v a plane if there are enough. Where there are not, seeds among those reached at first
// lead to much the same, so a few of them are enough.
func (g *grower) grow(v int32, p Plane) {
	if settled, bends := g.settles(v, &p); !settled {
		g.giveUp(g.tried)
		if bends {
			g.giveUp(g.bent)
		}
		return
	}
	for _, w := range g.set {
		if !g.Coded[w] {
			g.label[w] = int32(len(g.list))
		}
	}
	g.list = append(g.list, p)
}

// giveUp counts a try for what the largest flood reached and for what stands next to that: beside a part that bends, each spot that lies off would else
// be a seed that leads there again.
func (g *grower) giveUp(tried []uint8) {
	g.stamp++
	count := func(w int32) {
		if g.mark[w] != g.stamp {
			g.mark[w] = g.stamp
			tried[w] = min(g.tries, tried[w]+1)
		}
	}
	for _, v := range g.most {
		count(v)
		for _, w := range g.around(v) {
			count(w)
		}
	}
}

// settles floods from v, refits and floods again until the set stands still, and reports whether it lies on the plane, and if not whether it is many spots
// that bend.
func (g *grower) settles(v int32, p *Plane) (settled, bends bool) {
	last := 0
	g.most = g.most[:0]
	for round := range rounds {
		g.Halt.Look()
		g.flood(v, p)
		if len(g.set) > len(g.most) {
			g.most = append(g.most[:0], g.set...)
		}
		if len(g.set) < leastSpots {
			return false, false
		}
		m := g.sums(g.set)
		q, ok := m.fit()
		if !ok {
			return false, false
		}
		*p = q
		if n := len(g.set); round+1 >= early && n >= manySpots && g.misfit(p) > hopeless*mostMisfit(n-3) {
			return false, true
		}
		if len(g.set) == last {
			break
		}
		last = len(g.set)
	}
	return g.misfit(p) <= mostMisfit(len(g.set)-3), false
}

// flood collects into g.set the free spots on p that are connected with v.
func (g *grower) flood(v int32, p *Plane) {
	g.stamp++
	g.set = append(g.set[:0], v)
	g.mark[v] = g.stamp
	for i := 0; i < len(g.set); i++ {
		if g.Coded[g.set[i]] {
			continue
		}
		for _, w := range g.around(g.set[i]) {
			if g.mark[w] == g.stamp || !g.free(w) {
				continue
			}
			g.mark[w] = g.stamp
			if g.keeps(p, w) {
				g.set = append(g.set, w)
			}
		}
	}
}
