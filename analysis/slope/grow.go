package slope

import (
	"math"
	"slices"

	"runnel/analysis/geometry/regression"
	"runnel/analysis/surface"
)

// parting is the edges that planes end at while they grow: breaklines, and folds that were found. Planes on both sides of a breakline may turn out
// to be one; those beside a fold that was found are known not to.
const parting = surface.BreaklineEdge | surface.FoldEdge

// grower finds the planes of a TIN: it grows sets of facets from seeds by flooding and refitting.
type grower struct {
	t        *surface.TIN
	ox, oy   float64           // local origin of all sums
	sigma    []float64         // per vertex, nil when none is stated
	estimate float64           // scatter of the spots
	noise    float64           // the same, at most noiseLimit
	region   []int32           // per facet; -1 none
	sums     []regression.Sums // per region: over its vertices
	count    []int32           // per region: facets
	weak     []bool            // per facet: joined to a plane that it does not fit

	beside                []beside // three a facet, in an order that does not hang on whether the roof is mirrored
	around                [3]int32 // corners of a facet in the order in which they are looked at, which does not hang on whether the roof is mirrored
	sides                 [3]int32 // the same of its half-edges
	facetMark, vertexMark []int32
	stamp                 int32
	set                   []int32 // facets of the last flood, in the order reached
	corners               []int32 // vertices of the last disc, each once
}

func newGrower(t *surface.TIN) *grower {
	g := &grower{t: t, sigma: statedSigma(t), around: [3]int32{0, 1, 2}, sides: [3]int32{0, 1, 2}}
	if t.Pose.Mirrors() {
		g.around, g.sides = [3]int32{0, 2, 1}, [3]int32{2, 1, 0}
	}
	g.estimate = scatter(t)
	g.noise = math.Min(g.estimate, noiseLimit)
	n := t.Facets()
	g.region = slices.Repeat([]int32{-1}, n)
	g.weak = make([]bool, n)
	g.facetMark, g.vertexMark = make([]int32, n), make([]int32, len(t.X))
	if len(t.X) > 0 {
		g.ox, g.oy = t.X[0], t.Y[0]
	}
	g.join()
	return g
}

// beside is what lies on the other side of a half-edge: the facet, -1 where planes end, and its corner that is none of the edge's.
type beside struct{ facet, corner int32 }

// join notes what lies beside every facet.
func (g *grower) join() {
	t := g.t
	g.beside = make([]beside, len(t.V))
	for e, w := range t.Twin {
		at := int32(e) - int32(e%3) + g.sides[e%3]
		if w < 0 || t.Flag[e]&parting != 0 {
			g.beside[at].facet = -1
			continue
		}
		g.beside[at] = beside{w / 3, t.V[surface.Prev(w)]}
	}
}

// thin is how near to one line points may lie to make a plane: see regression.Sums.
const thin = 1e-12

// tolerance returns how far vertex v may lie off its plane [m].
func (g *grower) tolerance(v int32) float64 {
	tol := math.Max(planeTolerance, 2*g.noise)
	if g.sigma != nil {
		tol = math.Max(planeTolerance, 2*g.sigma[v])
	}
	return tol
}

// usualTolerance returns the median of the tolerances of all vertices [m].
func (g *grower) usualTolerance() float64 {
	if g.sigma == nil {
		return g.tolerance(0)
	}
	all := slices.Clone(g.sigma)
	slices.Sort(all)
	return math.Max(planeTolerance, 2*all[len(all)/2])
}

// What strays returns beside a number of corners.
const (
	offPlane  = 4 // a corner lies too far off
	outOfTell = 5 // the plane rests on too few points to say
)

// strays returns how many corners of facet f lie off p by more than the tolerance, but within
// strayFactor times that. A plane resting on few points is uncertain away from them: the tolerance
// widens with its leverage, and beyond a leverage of reach nothing is said.
func (g *grower) strays(f int32, p *regression.Plane, reach float64) int {
	t, n := g.t, 0
	for _, c := range g.around {
		v := t.V[3*f+c]
		x, y := t.X[v]-g.ox, t.Y[v]-g.oy
		h := p.Leverage(x, y)
		if h > reach {
			return outOfTell
		}
		r, tol := t.Z[v]-p.At(x, y), g.tolerance(v)
		rr, limit := float64(r*r), float64(tol*tol*(1+h))
		if rr <= limit {
			continue
		}
		if rr > strayFactor*strayFactor*limit {
			return offPlane
		}
		n++
	}
	return n
}

// flood collects into g.set the free facets on p that are connected with seed and not cut off by a
// breakline. It reports whether facets were left because p does not reach so far.
func (g *grower) flood(seed int32, p *regression.Plane) (far bool) {
	g.stamp++
	g.set = g.set[:0]
	reach := math.Max(1, 10.5/p.N)
	if g.strays(seed, p, reach) > 1 {
		return false
	}
	g.facetMark[seed] = g.stamp
	g.set = append(g.set, seed)
	for i := 0; i < len(g.set); i++ {
		f := g.set[i]
		for _, b := range g.beside[3*f : 3*f+3] {
			k := b.facet
			if k < 0 || g.facetMark[k] == g.stamp || g.region[k] >= 0 {
				continue
			}
			g.facetMark[k] = g.stamp
			switch g.strays(k, p, reach) {
			case 0, 1:
				g.set = append(g.set, k)
			case outOfTell:
				far = true
			}
		}
	}
	return far
}

// disc collects into g.set up to n free facets around seed, nearest first by steps, and their vertices into g.corners.
func (g *grower) disc(seed int32, n int) {
	t := g.t
	g.stamp++
	g.set = append(g.set[:0], seed)
	g.corners = append(g.corners[:0], t.V[3*seed:3*seed+3]...)
	g.facetMark[seed] = g.stamp
	for _, v := range g.corners {
		g.vertexMark[v] = g.stamp
	}
	for i := 0; i < len(g.set) && len(g.set) < n; i++ {
		f := g.set[i]
		for _, b := range g.beside[3*f : 3*f+3] {
			if b.facet < 0 || g.facetMark[b.facet] == g.stamp || g.region[b.facet] >= 0 {
				continue
			}
			g.facetMark[b.facet] = g.stamp
			g.set = append(g.set, b.facet)
			if g.vertexMark[b.corner] != g.stamp { // the other two are corners of f
				g.vertexMark[b.corner] = g.stamp
				g.corners = append(g.corners, b.corner)
			}
			if len(g.set) == n {
				return
			}
		}
	}
}

func (g *grower) ofCorners() regression.Sums {
	t := g.t
	var m regression.Sums
	for _, v := range g.corners {
		m.Add(t.X[v]-g.ox, t.Y[v]-g.oy, t.Z[v])
	}
	return m
}

// vertices returns the sums over the vertices of g.set, each once.
func (g *grower) vertices() regression.Sums {
	t := g.t
	var m regression.Sums
	g.stamp++
	for _, f := range g.set {
		for e := 3 * f; e < 3*f+3; e++ {
			if v := t.V[e]; g.vertexMark[v] != g.stamp {
				g.vertexMark[v] = g.stamp
				m.Add(t.X[v]-g.ox, t.Y[v]-g.oy, t.Z[v])
			}
		}
	}
	return m
}

// grow floods from seed, refits and floods again until the set stands still, and makes it a region.
// p is the plane to start from. It reports false, and changes nothing, when seed does not fit.
func (g *grower) grow(seed int32, p regression.Plane) bool {
	const rounds = 12
	last := -1
	var m regression.Sums
	for range rounds {
		g.t.Halt.Look()
		far := g.flood(seed, &p)
		if len(g.set) == 0 {
			return false
		}
		m = g.vertices()
		change := len(g.set) - last
		last = len(g.set)
		if change == 0 || !far && change*change < last*last/40000 {
			break
		}
		q, ok := m.Plane(thin)
		if !ok {
			break
		}
		p = q
	}
	id := int32(len(g.sums))
	for _, f := range g.set {
		g.region[f] = id
	}
	g.sums, g.count = append(g.sums, m), append(g.count, int32(len(g.set)))
	return true
}
