package surface_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// pentagon is a convex ring round a place, counter-clockwise, in whole millimetres.
func pentagon(random *rand.Rand, x, y, size float64) []orb.Point {
	turn := random.Float64()
	var ring []orb.Point
	for k := range 5 {
		sin, cos := math.Sincos(2 * math.Pi * (float64(k) + turn) / 5)
		ring = append(ring, orb.Point{math.Round(1000*(x+size*cos)) / 1000, math.Round(1000*(y+size*sin)) / 1000})
	}
	return ring
}

// inside returns how far a place lies within a convex ring, below 0 outside.
func inside(ring []orb.Point, x, y float64) float64 {
	in := math.Inf(1)
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		in = math.Min(in, ((b[0]-a[0])*(y-a[1])-(b[1]-a[1])*(x-a[0]))/math.Hypot(b[0]-a[0], b[1]-a[1]))
	}
	return in
}

// sameRoof holds that a cut surface is the one before, only in more pieces: vertices keep their numbers, pieces the gradient and together the area of the facet that they come from, and signs of flow are those of the gradient.
func sameRoof(t *testing.T, before, after *surface.Surface, of []int32) {
	t.Helper()
	b, a := before.Cut, after.Cut
	if len(of) != a.Facets() {
		t.Fatalf("%d facets come from %d", a.Facets(), len(of))
	}
	for v := range b.X {
		if a.X[v] != b.X[v] || a.Y[v] != b.Y[v] || a.Z[v] != b.Z[v] {
			t.Fatalf("vertex %d moved", v)
		}
	}
	area := make([]float64, b.Facets())
	for f, old := range of {
		area[old] += a.FacetArea(int32(f))
		if a.DX[f] != b.DX[old] || a.DY[f] != b.DY[old] || a.Parent[f] != b.Parent[old] {
			t.Fatalf("facet %d is no piece of %d", f, old)
		}
		for e := 3 * int32(f); e < 3*int32(f)+3; e++ {
			x, y := a.X[a.End(e)]-a.X[a.V[e]], a.Y[a.End(e)]-a.Y[a.V[e]]
			// Water runs down the gradient; to the right of an edge (x, y) lies (y, -x). Pieces of old edges may lie a grid unit beside them.
			if out := a.DY[f]*x - a.DX[f]*y; math.Abs(out) > 4*surface.Grid*(math.Abs(a.DX[f])+math.Abs(a.DY[f])) && (out > 0) != (a.Run[e] > 0) {
				t.Errorf("water that runs out by %g has the sign %d", out, a.Run[e])
			}
		}
	}
	for f := range area {
		if !(math.Abs(area[f]-b.FacetArea(int32(f))) <= 5e-4) {
			t.Errorf("pieces of facet %d have %g m2 of %g", f, area[f], b.FacetArea(int32(f)))
		}
	}
	if sum := plan(a); !(math.Abs(after.Area-sum) <= 1e-9*sum) || !(math.Abs(sum-before.Area) <= 1e-4) {
		t.Errorf("%g m2 by its facets, %g said, %g before", sum, after.Area, before.Area)
	}
	for i := range before.Outlets {
		p, q := &before.Outlets[i], &after.Outlets[i]
		if d := taken(b, p) - taken(a, q); !(math.Abs(d) <= 1e-4) {
			t.Errorf("outlet %d takes %g less", i, d)
		}
		for _, v := range p.Vertices {
			if !slices.Contains(q.Vertices, v) {
				t.Errorf("outlet %d lost vertex %d", i, v)
			}
		}
		for _, f := range q.Facets {
			if !slices.Contains(p.Facets, of[f]) {
				t.Errorf("outlet %d has facet %d, no piece of its own", i, f)
			}
		}
		if q.Invert != p.Invert || q.Low != p.Low {
			t.Errorf("outlet %d: %+v", i, q)
		}
	}
}

// plan returns the plan area of all facets.
func plan(t *surface.TIN) (sum float64) {
	for f := range int32(t.Facets()) {
		sum += t.FacetArea(f)
	}
	return sum
}

// taken returns the area and the length of border that an outlet takes.
func taken(t *surface.TIN, o *surface.Outlet) (sum float64) {
	for _, f := range o.Facets {
		sum += t.FacetArea(f)
	}
	for _, e := range o.Edges {
		sum += math.Hypot(t.X[t.End(e)]-t.X[t.V[e]], t.Y[t.End(e)]-t.Y[t.V[e]])
	}
	return sum
}

// TestCarve: rings carved into random roofs, some over its border, change nothing of the roof; every facet lies within a ring or outside of it, and a ring that lies on the roof is covered.
func TestCarve(t *testing.T) {
	whole, cut := 0, 0
	for seed := range uint64(25) {
		s := build(t, shape.Random(seed, 80))
		random := rand.New(rand.NewPCG(seed, 9))
		box := orb.MultiPoint{}
		for v := range s.Cut.X {
			box = append(box, orb.Point{s.Cut.X[v], s.Cut.Y[v]})
		}
		b := box.Bound()
		var rings [][]orb.Point
		for range 3 {
			rings = append(rings, pentagon(random, b.Min[0]+random.Float64()*(b.Max[0]-b.Min[0]), b.Min[1]+random.Float64()*(b.Max[1]-b.Min[1]), 0.5+2*random.Float64()))
		}
		carved, of, err := s.Carve(rings...)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		sameRoof(t, s, carved, of)
		locate := surface.NewLocator(s.Cut)
		for _, ring := range rings {
			covered, over := 0.0, false
			for f := range int32(carved.Cut.Facets()) {
				v := carved.Cut.V[3*f : 3*f+3]
				var x, y float64
				least, most := math.Inf(1), math.Inf(-1)
				for _, w := range v {
					x, y = x+carved.Cut.X[w]/3, y+carved.Cut.Y[w]/3
					in := inside(ring, carved.Cut.X[w], carved.Cut.Y[w])
					least, most = math.Min(least, in), math.Max(most, in)
				}
				if inside(ring, x, y) > 0 {
					covered += carved.Cut.FacetArea(f)
					if least < -5*surface.Grid {
						t.Errorf("seed %d: a facet lies within a ring and reaches %g m out of it", seed, -least)
					}
				}
			}
			for _, p := range ring {
				if _, ok := locate.Locate(p[0], p[1]); !ok {
					over = true
				}
			}
			area := 0.0
			for i, p := range ring {
				q := ring[(i+1)%len(ring)]
				area += (p[0]*q[1] - p[1]*q[0]) / 2
			}
			switch {
			case over && covered > 0:
				cut++
			case !over && math.Abs(covered-area) < 1e-3:
				whole++
			case covered > area+1e-3:
				t.Errorf("seed %d: %g m2 lie within a ring of %g", seed, covered, area)
			}
		}
		again, from, err := carved.Carve(rings[0])
		if err != nil {
			t.Fatalf("seed %d, again: %v", seed, err)
		}
		sameRoof(t, carved, again, from)
	}
	if whole < 20 || cut < 10 {
		t.Errorf("%d rings on a roof, %d over its border", whole, cut)
	}
}

// TestCarvedFootprint: by hand, a square of 2 m carved over half of a drain's bowl leaves that its area, half of it in the square, and a scupper's opening its width where a ring's corner lies in it.
func TestCarvedFootprint(t *testing.T) {
	r := shape.New("plane", shape.At(0, 0, 0), shape.At(10, 0, 0), shape.At(10, 8, 0.16), shape.At(0, 8, 0.16))
	shape.Drain(r, 5, 4, 0.4)
	shape.Scupper(r, 3, 0, 0.6)
	s := build(t, r)
	carved, of, err := s.Carve([]orb.Point{{5, 3}, {7, 3}, {7, 5}, {5, 5}}, []orb.Point{{3, 0}, {4, 0}, {4, 1}, {3, 1}})
	if err != nil {
		t.Fatal(err)
	}
	sameRoof(t, s, carved, of)
	half := 0.0
	for _, f := range carved.Outlets[0].Facets {
		x := 0.0
		for _, v := range carved.Cut.V[3*f : 3*f+3] {
			x += carved.Cut.X[v] / 3
		}
		if x > 5 {
			half += carved.Cut.FacetArea(f)
		}
	}
	bowl := 8 * 0.2 * 0.2 * math.Sin(math.Pi/8) // a regular polygon of 16 corners
	if !near(half, bowl/2, 1e-5) || !near(taken(carved.Cut, &carved.Outlets[0]), bowl, 1e-5) || !near(taken(carved.Cut, &carved.Outlets[1]), 0.6, 1e-5) {
		t.Errorf("%g m2 of %g in the square, want half of %g; the scupper is %g m wide", half, taken(carved.Cut, &carved.Outlets[0]), bowl, taken(carved.Cut, &carved.Outlets[1]))
	}
	if n := len(carved.Outlets[1].Edges); n != 2 {
		t.Errorf("the scupper has %d pieces of border, want 2", n)
	}
}

// TestReshape: by hand, on a plane of 2 % that is tilted anew by 1 % east and 3 % north every gradient is 0.01, 0.03; where only the far half is raised by 50 mm facets that did not move keep theirs to the last bit, and those between rise as the plane through their corners does.
// The lowest surface of a footprint is taken anew where it moved, inverts stay, and so does the surface that was reshaped.
func TestReshape(t *testing.T) {
	r := shape.New("plane", shape.At(0, 0, 0), shape.At(10, 0, 0), shape.At(10, 8, 0.16), shape.At(0, 8, 0.16))
	shape.Grid(r, 0, 0, 10, 8, 10, 8, func(_, y float64) float64 { return 0.02 * y })
	for _, y := range []float64{2.3, 6.3} {
		o := shape.Drain(r, 5.3, y, 0.3)
		o.Invert, o.HasInvert = 0.01, true
	}
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(10, 0))
	s := build(t, r)
	old := slices.Clone(s.Cut.Z)
	tilted, half := make([]float64, len(old)), slices.Clone(old)
	for v := range old {
		tilted[v] = 1 + 0.01*s.Cut.X[v] + 0.03*s.Cut.Y[v]
		if s.Cut.Y[v] > 4.5 {
			half[v] += 0.05
		}
	}
	a := s.Reshape(tilted)
	for f := range int32(a.Cut.Facets()) {
		if !near(a.Cut.DX[f], 0.01, 1e-9) || !near(a.Cut.DY[f], 0.03, 1e-9) {
			t.Fatalf("facet %d rises %g, %g", f, a.Cut.DX[f], a.Cut.DY[f])
		}
		for e := 3 * f; e < 3*f+3; e++ {
			x, y := a.Cut.X[a.Cut.End(e)]-a.Cut.X[a.Cut.V[e]], a.Cut.Y[a.Cut.End(e)]-a.Cut.Y[a.Cut.V[e]]
			if out := 0.03*x - 0.01*y; math.Abs(out) > 1e-6 && (out > 0) != (a.Cut.Run[e] > 0) {
				t.Errorf("water that runs out by %g has the sign %d", out, a.Cut.Run[e])
			}
		}
	}
	b := s.Reshape(half)
	steep := 0
	for f := range int32(b.Cut.Facets()) {
		low, high := math.Inf(1), math.Inf(-1)
		for _, v := range b.Cut.V[3*f : 3*f+3] {
			low, high = math.Min(low, s.Cut.Y[v]), math.Max(high, s.Cut.Y[v])
		}
		switch {
		case high < 4.5:
			if b.Cut.DX[f] != s.Cut.DX[f] || b.Cut.DY[f] != s.Cut.DY[f] {
				t.Errorf("facet %d did not move", f)
			}
		case low > 4.5 && !near(b.Cut.DY[f], 0.02, 2e-5): // small pieces stand on the grid
			t.Errorf("facet %d rises %g, want 2 %%", f, b.Cut.DY[f])
		case low < 4.5 && !(near(b.Cut.DY[f], 0.07, 2e-5) && near(b.Cut.DX[f], 0, 2e-5)): // 20 and 50 mm over a metre
			t.Errorf("facet %d rises %g, %g, want 7 %%", f, b.Cut.DX[f], b.Cut.DY[f])
		case low < 4.5:
			steep++
		}
	}
	if steep != 20 {
		t.Errorf("%d facets between both halves, want 2 a metre", steep)
	}
	for name, c := range map[string]struct {
		s    *surface.Surface
		want [2]float64
	}{
		"tilted": {a, [2]float64{1 + 0.01*5.3 + 0.03*2.3 - 0.15*math.Sqrt(0.001), 1 + 0.01*5.3 + 0.03*6.3 - 0.15*math.Sqrt(0.001)}},
		"half":   {b, [2]float64{0.02 * (2.3 - 0.15), 0.02*(6.3-0.15) + 0.05}},
	} {
		for i, want := range c.want { // the lowest corner of a polygon of 16 lies within a sixteenth of half a turn of the fall: cos 11.25 degrees = 0.98
			o := &c.s.Outlets[i]
			if o.Low < want-1e-6 || o.Low > want+0.02*0.15*math.Sqrt(0.001)+1e-6 || o.Invert != 0.01 {
				t.Errorf("%s: outlet %d stands on %g, want %g; invert %g", name, i, o.Low, want, o.Invert)
			}
		}
	}
	if !slices.Equal(s.Cut.Z, old) || s.Outlets[0].Low == a.Outlets[0].Low {
		t.Error("what was reshaped moved")
	}
}
