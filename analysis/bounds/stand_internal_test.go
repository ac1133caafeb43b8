package bounds

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/evidence"
	"runnel/analysis/ponding"
	"runnel/analysis/slope"
	"runnel/analysis/surface"
)

// net is a patch that is no surface: vertices joined at will, with elevations in whole units, of which some let water go.
type net struct {
	joined [][]bool
	p      *patch
	r      *replica
}

// newNet draws a net of n vertices: about two sides a vertex, one vertex on an open edge, one beside water beyond the border, one with an outlet; the numbers of these are drawn too.
func newNet(rnd *rand.Rand, n int) *net {
	g := &net{joined: make([][]bool, n), p: &patch{vertex: make([]int32, n), base: make([]float64, n), open: make([]bool, n), beyond: make([]float64, n)}}
	for i := range n {
		g.joined[i] = make([]bool, n)
		g.p.beyond[i] = math.Inf(1)
	}
	for range 2 * n {
		if a, b := rnd.IntN(n), rnd.IntN(n); a != b {
			g.joined[a][b], g.joined[b][a] = true, true
		}
	}
	g.p.first = []int32{0}
	for _, row := range g.joined {
		for b, joined := range row {
			if joined {
				g.p.near = append(g.p.near, int32(b))
			}
		}
		g.p.first = append(g.p.first, int32(len(g.p.near)))
	}
	at := rnd.Perm(n)
	g.p.open[at[0]] = rnd.IntN(2) == 0
	g.p.beyond[at[1]] = float64(rnd.IntN(12))
	g.p.sinks, g.p.feet = []int32{0}, [][]int32{{int32(at[2]), int32(at[3])}}
	for range n {
		p := rnd.Perm(n)
		g.p.facets, g.p.area = append(g.p.facets, [3]int32{int32(p[0]), int32(p[1]), int32(p[2])}), append(g.p.area, 1+rnd.Float64())
	}
	g.r = &replica{m: &model{t: &surface.TIN{}}, p: g.p, z: make([]float64, n), limit: make([]float64, 1)}
	return g
}

// elevate draws the elevations of a replicate and the level of the outlet.
func (g *net) elevate(rnd *rand.Rand) {
	for i := range g.r.z {
		g.r.z[i] = float64(rnd.IntN(12))
	}
	g.r.limit[0] = float64(rnd.IntN(12))
}

// levels returns how high water stands over each vertex: the least, over all ways to one that lets it go, of the highest place on the way; by trying every vertex between every two.
func (g *net) levels() []float64 {
	n := len(g.r.z)
	over := make([][]float64, n)
	for a := range n {
		over[a] = make([]float64, n)
		for b := range n {
			over[a][b] = math.Inf(1)
			if a == b || g.joined[a][b] {
				over[a][b] = max(g.r.z[a], g.r.z[b])
			}
		}
	}
	for k := range n {
		for a := range n {
			for b := range n {
				over[a][b] = min(over[a][b], max(over[a][k], over[k][b]))
			}
		}
	}
	out := make([]float64, n)
	for a := range n {
		out[a] = math.Inf(1)
		for b := range n {
			leaves := g.p.beyond[b]
			if g.p.open[b] {
				leaves = math.Inf(-1)
			}
			for _, foot := range g.p.feet[0] {
				if int(foot) == b {
					leaves = min(leaves, g.r.limit[0])
				}
			}
			if !math.IsInf(leaves, 1) {
				out[a] = min(out[a], max(over[a][b], leaves))
			}
		}
	}
	return out
}

// covered returns the vertices that hang together below a level with one of them.
func (g *net) covered(from int, level float64) map[int]bool {
	in, queue := map[int]bool{from: true}, []int{from}
	for len(queue) > 0 {
		a := queue[0]
		queue = queue[1:]
		for b, joined := range g.joined[a] {
			if joined && !in[b] && g.r.z[b] < level {
				in[b] = true
				queue = append(queue, b)
			}
		}
	}
	return in
}

// TestWaterRisesToItsWayOut: on replicates of nets, one after another, what stands over each vertex is as high as the lowest way out, and what is told of all is the greatest of these waters by volume: its depth from its lowest vertex, area and volume over the facets that it touches. Where there is no way out nothing is told.
func TestWaterRisesToItsWayOut(t *testing.T) {
	rnd := rand.New(rand.NewPCG(41, 3))
	stood, shut := 0, 0
	for range 400 {
		n := 6 + rnd.IntN(9)
		g := newNet(rnd, n)
		g.elevate(rnd)
		copy(g.p.base, g.r.z)
		var wet []int32
		for _, i := range rnd.Perm(n)[:1+rnd.IntN(n)] {
			wet = append(wet, int32(i))
		}
		s := newStander(g.r, wet)
		for range 6 {
			got := s.standing()
			want, volume := water{}, 0.0
			for i, level := range g.levels() {
				if !contains(wet, i) {
					continue
				}
				if k := s.pool[i]; math.IsInf(level, 1) || level == g.r.z[i] {
					if k >= 0 && s.waters[k].level != g.r.z[i] {
						t.Fatalf("water stands at %g over vertex %d at %g, whose lowest way out is %g", s.waters[k].level, i, g.r.z[i], level)
					}
					if math.IsInf(level, 1) {
						shut++
					}
					continue
				} else if k < 0 || s.waters[k].level != level {
					t.Fatalf("over vertex %d at %g: water %d, want %g", i, g.r.z[i], k, level)
				}
				stood++
				in := g.covered(i, level)
				w := water{level: level}
				for v := range in {
					w.depth = max(w.depth, level-g.r.z[v])
				}
				for f, c := range g.p.facets {
					if in[int(c[0])] || in[int(c[1])] || in[int(c[2])] {
						a, v := ponding.Under(level-g.r.z[c[0]], level-g.r.z[c[1]], level-g.r.z[c[2]], g.p.area[f])
						w.area, w.volume = w.area+a, w.volume+v
					}
				}
				if w.volume > volume+1e-9 {
					want, volume = w, w.volume
				}
			}
			if !(math.Abs(got.volume-want.volume) <= 1e-9) || !(math.Abs(got.area-want.area) <= 1e-9) || got.depth != want.depth || got.level != want.level {
				t.Fatalf("%+v, want %+v", got, want)
			}
			g.elevate(rnd)
		}
	}
	if stood < 2000 || shut < 100 {
		t.Errorf("%d vertices under water, %d without a way out", stood, shut)
	}
}

func contains(list []int32, i int) bool {
	for _, v := range list {
		if int(v) == i {
			return true
		}
	}
	return false
}

// TestReplicateOfAnOutlet: by hand. Errors of the vertices come on top of what replicates are made about, with either sign; an outlet takes water at its inlet with the error of that, never below its lowest vertex; where nobody measured the inlet it keeps its height over that vertex, none below it.
func TestReplicateOfAnOutlet(t *testing.T) {
	for _, c := range []struct {
		name string
		s    sink
		sign float64
		want float64
	}{
		{"above the roof", sink{invert: 3}, 1, 3.5},
		{"with the other sign", sink{invert: 3}, -1, 2.5},
		{"itself", sink{invert: 3}, 0, 3},
		{"below the roof", sink{invert: 0.5}, 1, 1.2},
		{"assumed", sink{invert: 9, assumed: true, over: 0.25}, 1, 1.45},
		{"assumed, below its lowest vertex", sink{assumed: true, over: -0.25}, 1, 1.2},
	} {
		r := &replica{
			m: &model{sinks: []sink{{}, c.s}}, p: &patch{base: []float64{1, 1.4, 7}, sinks: []int32{1}, feet: [][]int32{{0, 1}}},
			z: make([]float64, 3), off: []float64{0.3, -0.2, 1}, limit: make([]float64, 1), in: []float64{0.5},
		}
		if c.sign < 0 {
			r.off[0], r.off[1] = -r.off[0], -r.off[1]
		}
		r.replicate(c.sign)
		if !(math.Abs(r.limit[0]-c.want) <= 1e-12) {
			t.Errorf("%s: takes water at %g, want %g", c.name, r.limit[0], c.want)
		}
		if !(math.Abs(r.z[2]-7-c.sign) <= 1e-12) {
			t.Errorf("%s: a vertex stands at %g", c.name, r.z[2])
		}
	}
}

// TestErrorsOfAReplicate: what is drawn has the standard errors of the vertices and of inlets; a vertex that a footprint made has the weighted errors of its facet's corners, of those that lie in the patch.
func TestErrorsOfAReplicate(t *testing.T) {
	r := newReplica(&model{Input: &Input{Errors: &evidence.Errors{Sigma: []float64{0.002, 0, 0.01}, Typical: 0.004}}}, &patch{
		vertex: []int32{2, 0, 1, 3, 4}, own: 3, sinks: []int32{0, 1}, made: [][3]int32{{0, 1, 2}, {-1, 1, 0}}, weight: [][3]float64{{0.5, 0.25, 0.25}, {0.5, 0.2, 0.3}},
	})
	e := &dice{rand.NewPCG(3, 9)}
	const n = 20000
	var squares [4]float64
	for range n {
		r.draw(e)
		for k, v := range [4]float64{r.off[0], r.off[1], r.in[0], r.in[1]} {
			squares[k] += v * v / n
		}
		if r.off[2] != 0 || !(math.Abs(r.off[3]-0.5*r.off[0]-0.25*r.off[1]) <= 1e-15) || !(math.Abs(r.off[4]-0.2*r.off[1]-0.3*r.off[0]) <= 1e-15) {
			t.Fatalf("errors %v", r.off)
		}
	}
	for k, want := range [4]float64{0.01, 0.002, 0.004, 0.004} {
		if got := math.Sqrt(squares[k]); !(math.Abs(got/want-1) <= 0.02) {
			t.Errorf("standard error %d: %g, want %g", k, got, want)
		}
	}
}

// TestOpenCatchments: an outlet's catchment is open where its range is wider than a fifth of the roof, or than a twentieth and its own figure; of a roof of 100 m2. Bounds that nobody asked for leave nothing open.
func TestOpenCatchments(t *testing.T) {
	for _, c := range []struct {
		low, high, figure float64
		want              bool
	}{{40, 60, 50, false}, {40, 60.1, 50, true}, {2, 7, 4, false}, {2, 7.1, 4, true}, {2, 7.1, 5.2, false}, {0, 6, 5.9, true}} {
		b := &Bounds{Catchments: []Range{{0, 1}, {c.low, c.high}}}
		if got := b.OpenCatchment(1, c.figure, 100); got != c.want {
			t.Errorf("%g to %g about %g: open %v", c.low, c.high, c.figure, got)
		}
	}
	var none *Bounds
	if none.OpenCatchment(0, 1, 1) || (&Bounds{}).OpenCatchment(0, 1, 1) {
		t.Error("bounds that nobody asked for leave something open")
	}
}

// TestCatchmentsLieAboutTheirAreas: replicates say how far an area scatters about what they have of the surface itself; laid on the exact area it stays between nothing and the whole roof.
func TestCatchmentsLieAboutTheirAreas(t *testing.T) {
	b := &Bounds{replicas: []Range{{8, 14}, {1, 30}, {70, 99}}, self: []float64{10, 20, 80}}
	b.About([]float64{12, 15, 90}, 100)
	for o, want := range []Range{{10, 16}, {0, 25}, {80, 100}} {
		if b.Catchments[o] != want {
			t.Errorf("outlet %d: %+v, want %+v", o, b.Catchments[o], want)
		}
	}
	none := &Bounds{}
	if none.About(nil, 100); none.Catchments != nil {
		t.Errorf("%+v", none.Catchments)
	}
}

// TestBarelyShown: evidence under twice the threshold shows a pond barely.
func TestBarelyShown(t *testing.T) {
	r := &evidence.Result{Threshold: 3, Ponds: []evidence.Verdict{{Evidence: 5.9}, {Evidence: 6}}}
	if !Barely(r, 0) || Barely(r, 1) {
		t.Errorf("%v, %v", Barely(r, 0), Barely(r, 1))
	}
}

// TestBoundsOfASurface: a pond that is not listed has none; with ponds alone asked for, planes and catchments are left out; else catchments have one for each outlet. The worst of more than fifty ponds alone are tried.
func TestBoundsOfASurface(t *testing.T) {
	m := modelOf(t, bumpy(4, 0.02))
	in := *m.Input
	in.Slopes = &slope.Slopes{Planes: []slope.Plane{{Slope: 0.02, Sigma: 0.001}}}
	for i := range in.Ponds.Ponds {
		if !in.Ponds.Ponds[i].Undrained && len(in.Listed) < 2 {
			in.Listed = append(in.Listed, int32(i))
		}
	}
	whole := Of(&in)
	whole.About(whole.self, 384)
	if len(whole.Ponds) != 2 || whole.Ponds[0].Trials < leastTrials || len(whole.Catchments) != len(in.Surface.Outlets) || !whole.Planes[0].Known {
		t.Errorf("%+v", whole)
	}
	sum := 0.0
	for o, a := range whole.self {
		sum += a
		if c := whole.Catchments[o]; c.Low > a || c.High < a {
			t.Errorf("outlet %d: %g lies outside %+v", o, a, c)
		}
	}
	if !(math.Abs(sum-384) <= 1e-6) { // every part of the roof runs to some outlet
		t.Errorf("all outlets take %g m2 of 384", sum)
	}
	in.PondsOnly = true
	alone := Of(&in)
	alone.About(nil, 384)
	if alone.Planes[0].Known || alone.Catchments != nil || alone.Ponds[1] != whole.Ponds[1] {
		t.Errorf("%+v", alone)
	}
	for len(in.Listed) < mostPonds+1 {
		in.Listed = append(in.Listed, in.Listed[0])
	}
	many := Of(&in)
	if many.Ponds[mostPonds].Trials != 0 || many.Ponds[mostPonds-1].Trials < leastTrials {
		t.Errorf("%d trials of the last, %d of the one before", many.Ponds[mostPonds].Trials, many.Ponds[mostPonds-1].Trials)
	}
}

// TestStairs: vertices come back by their levels, the least first, as long as none is put in below what came out; as many as went in.
func TestStairs(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 6))
	s := &stairs{}
	for range 50 {
		z := make([]float64, 1+rnd.IntN(40))
		for i := range z {
			z[i] = float64(rnd.IntN(30)) / 10
		}
		s.first = nil // as many steps as these vertices take
		s.clear(z)
		waits := map[int32]float64{}
		next := int32(0)
		put := func(from float64) {
			level := from + 4*rnd.Float64()
			s.push(level, next)
			waits[next] = level
			next++
		}
		for range 20 {
			put(z[rnd.IntN(len(z))])
		}
		for len(waits) > 0 {
			level, ok := s.least()
			if !ok {
				t.Fatalf("%d wait, but none comes", len(waits))
			}
			_, v := s.hand.Pop()
			least := math.Inf(1)
			for _, l := range waits {
				least = min(least, l)
			}
			if waits[v] != level || level != least {
				t.Fatalf("vertex %d at %g, want %g", v, level, least)
			}
			delete(waits, v)
			if next < 60 && rnd.IntN(2) == 0 {
				put(level)
			}
		}
		if level, ok := s.least(); ok {
			t.Fatalf("one more comes, at %g", level)
		}
	}
}

// TestWaterThatNothingLetsGo, by hand: vertices in a row at 5, 1, 3, 2 and 6 m, of which all but the first stood under water, whose lowest is the second. 1.5 m over it, at 2.5 m, water covers it alone: the fourth lies lower but behind the third. At 3 m it comes over that, at 2.9 m it does not. Neither an outlet at 0 m nor an open edge lets it go. Facets of 2 and 3 m2 join the first three and the last three.
func TestWaterThatNothingLetsGo(t *testing.T) {
	g := &net{joined: make([][]bool, 5), p: &patch{vertex: make([]int32, 5), base: []float64{5, 1, 3, 2, 6}, open: []bool{false, true, false, false, true}, beyond: make([]float64, 5)}}
	for i := range 5 {
		g.joined[i] = make([]bool, 5)
		g.p.beyond[i] = math.Inf(1)
	}
	g.p.first = []int32{0, 1, 3, 5, 7, 8}
	g.p.near = []int32{1, 0, 2, 1, 3, 2, 4, 3}
	g.p.sinks, g.p.feet = []int32{0}, [][]int32{{1, 3}}
	g.p.facets, g.p.area = [][3]int32{{0, 1, 2}, {2, 3, 4}}, []float64{2, 3}
	g.r = &replica{m: &model{t: &surface.TIN{}}, p: g.p, z: []float64{5, 1, 3, 2, 6}, limit: []float64{0}}
	s := newStander(g.r, []int32{1, 2, 3, 4})
	sum := func(level float64, facets ...int) (area, volume float64) {
		for _, f := range facets {
			c := g.p.facets[f]
			a, v := ponding.Under(level-g.r.z[c[0]], level-g.r.z[c[1]], level-g.r.z[c[2]], g.p.area[f])
			area, volume = area+a, volume+v
		}
		return area, volume
	}
	for _, c := range []struct {
		depth  float64
		facets []int
		wet    []int32
	}{{1.5, []int{0}, []int32{1}}, {1.9, []int{0}, []int32{1}}, {2, []int{0, 1}, []int32{1, 2, 3}}, {2.5, []int{0, 1}, []int32{1, 2, 3}}, {4.5, []int{0, 1}, []int32{0, 1, 2, 3}}, {6, []int{0, 1}, []int32{0, 1, 2, 3, 4}}, {1.5, []int{0}, []int32{1}}} {
		got := s.dammed(c.depth)
		area, volume := sum(1+c.depth, c.facets...)
		if got.level != 1+c.depth || got.depth != c.depth || !(math.Abs(got.area-area) <= 1e-12) || !(math.Abs(got.volume-volume) <= 1e-12) {
			t.Errorf("%g m: %+v, want %g m2 and %g m3", c.depth, got, area, volume)
		}
		for i := range int32(5) {
			wet := false
			for _, v := range c.wet {
				wet = wet || v == i
			}
			if (s.pool[i] == 0) != wet {
				t.Errorf("%g m: vertex %d in water %d", c.depth, i, s.pool[i])
			}
		}
	}
}
