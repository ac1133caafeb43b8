package surface_test

import (
	"cmp"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Build's own checks (Euler's count, twins, areas, Delaunay) run on every roof.
func TestRandomRoofs(t *testing.T) {
	for seed := range uint64(600) {
		r := shape.Random(seed, 60+int(seed))
		s, err := surface.Build(r, surface.Options{})
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		proveSigns(t, s)
		proveCut(t, s)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
		proveOutlets(t, seed, r, s)
	}
}

// proveOutlets checks that no facet or border half-edge belongs to two outlets, and that ids and labels are unique.
func proveOutlets(t *testing.T, seed uint64, r *roof.Roof, s *surface.Surface) {
	t.Helper()
	facets, edges, ids, labels := map[int32]bool{}, map[int32]bool{}, map[string]bool{}, map[string]bool{}
	for i := range s.Outlets {
		o := &s.Outlets[i]
		if ids[o.ID] || labels[o.Label] || o.Label == "" {
			t.Errorf("seed %d: outlet %d has id %q and label %q", seed, i, o.ID, o.Label)
		}
		ids[o.ID], labels[o.Label] = true, true
		for _, f := range o.Facets {
			if facets[f] {
				t.Errorf("seed %d: facet %d belongs to two outlets", seed, f)
			}
			facets[f] = true
		}
		for _, e := range o.Edges {
			if edges[e] || s.Cut.Twin[e] >= 0 {
				t.Errorf("seed %d: half-edge %d belongs to two outlets or is not on the border", seed, e)
			}
			edges[e] = true
		}
		if o.InvertAssumed && o.Source >= 0 && o.Invert != o.Low+float64(r.Outlets[o.Source].DamHeight) {
			t.Errorf("seed %d: outlet %s assumes %g, lowest surface %g", seed, o.ID, o.Invert, o.Low)
		}
	}
	for e, f := range s.Cut.Flag {
		if s.Cut.Twin[e] < 0 && f&surface.OpenEdge != 0 && !edges[int32(e)] {
			t.Errorf("seed %d: open half-edge %d belongs to no outlet", seed, e)
		}
	}
}

// A triangle by its corners' places and elevations, starting at the least.
type triangle [9]int32

func triangles(tin *surface.TIN, place func(x, y int32) (int32, int32)) []triangle {
	var out []triangle
	for f := range int32(tin.Facets()) {
		var c [3][3]int32
		for k, v := range tin.V[3*f : 3*f+3] {
			x, y := place(tin.GX[v], tin.GY[v])
			c[k] = [3]int32{x, y, tin.GZ[v]}
		}
		least := 0
		for k := range c {
			if slices.Compare(c[k][:], c[least][:]) < 0 {
				least = k
			}
		}
		var t triangle
		for k := range 3 {
			copy(t[3*k:], c[(least+k)%3][:])
		}
		out = append(out, t)
	}
	slices.SortFunc(out, func(a, b triangle) int { return slices.Compare(a[:], b[:]) })
	return out
}

func same(x, y int32) (int32, int32) { return x, y }

func TestOrderOfInputDoesNotMatter(t *testing.T) {
	for seed := range uint64(60) {
		a := build(t, shape.Random(seed, 150))
		r := shape.Random(seed, 150)
		rnd := rand.New(rand.NewPCG(seed, 7))
		rnd.Shuffle(len(r.Spots), func(i, j int) { r.Spots[i], r.Spots[j] = r.Spots[j], r.Spots[i] })
		rnd.Shuffle(len(r.Curbs), func(i, j int) { r.Curbs[i], r.Curbs[j] = r.Curbs[j], r.Curbs[i] })
		rnd.Shuffle(len(r.Breaklines), func(i, j int) { r.Breaklines[i], r.Breaklines[j] = r.Breaklines[j], r.Breaklines[i] })
		b := build(t, r)
		if !slices.Equal(triangles(a.TIN, same), triangles(b.TIN, same)) {
			t.Errorf("seed %d: another order of the input gives other facets", seed)
		}
	}
}

// moved returns r with every plan position changed.
func moved(r *roof.Roof, to func(p orb.Point) orb.Point) *roof.Roof {
	lines := [][]roof.Position{}
	lines = append(lines, r.Outline.Rings...)
	for i := range r.Curbs {
		lines = append(lines, r.Curbs[i].Ring)
	}
	for i := range r.Breaklines {
		lines = append(lines, r.Breaklines[i].Line)
	}
	for i := range r.Edges {
		lines = append(lines, r.Edges[i].Line)
	}
	for _, l := range lines {
		for i := range l {
			l[i].Plan = to(l[i].Plan)
		}
	}
	for i := range r.Spots {
		r.Spots[i].Plan = to(r.Spots[i].Plan)
	}
	for i := range r.Outlets {
		r.Outlets[i].Plan = to(r.Outlets[i].Plan)
	}
	return r
}

func TestShiftDoesNotMatter(t *testing.T) {
	const dx, dy = 1234.567, -987.654
	for seed := range uint64(60) {
		a := build(t, shape.Random(seed, 150))
		b := build(t, moved(shape.Random(seed, 150), func(p orb.Point) orb.Point { return orb.Point{p[0] + dx, p[1] + dy} }))
		back := func(x, y int32) (int32, int32) { return x - 123456700, y + 98765400 }
		if !slices.Equal(triangles(a.TIN, same), triangles(b.TIN, back)) {
			t.Errorf("seed %d: shifting the roof gives other facets", seed)
		}
		if len(a.Outlets) != len(b.Outlets) {
			t.Errorf("seed %d: %d outlets, shifted %d", seed, len(a.Outlets), len(b.Outlets))
		}
	}
}

// A quarter turn keeps lengths and signs; facets are the same but where a rule for equal claims has to look at places, which turn
// with the roof: cocircular points (also under curbs), the six nearest spots among equally near ones, and points of folds that were found,
// rounded to the grid. So only roofs with none of them are compared facet by facet, those without folds by number of vertices, and all by area.
func TestQuarterTurn(t *testing.T) {
	compared := 0
	for seed := range uint64(320) {
		r := shape.Random(seed, 100)
		a := build(t, r)
		b := build(t, moved(shape.Random(seed, 100), func(p orb.Point) orb.Point { return orb.Point{-p[1], p[0]} }))
		if found := a.Folds > 0 || b.Folds > 0; a.Area != b.Area || !found && len(a.TIN.X) != len(b.TIN.X) {
			t.Errorf("seed %d: area %.9f, %d vertices; turned %.9f, %d", seed, a.Area, len(a.TIN.X), b.Area, len(b.TIN.X))
		}
		if a.Ties > 0 || a.AssumedShare > 0 || len(r.Curbs) > 0 || a.Folds > 0 {
			continue
		}
		compared++
		back := func(x, y int32) (int32, int32) { return y, -x }
		if !slices.Equal(triangles(a.TIN, same), triangles(b.TIN, back)) {
			t.Errorf("seed %d: turning the roof gives other facets", seed)
		}
	}
	if compared < 10 {
		t.Errorf("only %d roofs were compared facet by facet", compared)
	}
}

// The star of a vertex holds every half-edge that leaves it, once, counter-clockwise.
func TestStar(t *testing.T) {
	tin := build(t, shape.Random(3, 200)).Cut
	out := make([][]int32, len(tin.X))
	for e, v := range tin.V {
		out[v] = append(out[v], int32(e))
	}
	for v := range int32(len(tin.X)) {
		var got []int32
		for e := range tin.Star(v) {
			got = append(got, e)
		}
		if tin.Border(v) != (tin.Twin[got[0]] < 0) || tin.Border(v) != (tin.Last(v) >= 0) {
			t.Fatalf("vertex %d: star begins at %d, last is %d", v, got[0], tin.Last(v))
		}
		slices.SortFunc(got, cmp.Compare[int32])
		if !slices.Equal(got, out[v]) {
			t.Fatalf("vertex %d has half-edges %v, its star %v", v, out[v], got)
		}
	}
}

// Every facet is found at its centroid, and the elevation there is the mean of its corners'.
func TestLocate(t *testing.T) {
	for seed := range uint64(30) {
		s := build(t, shape.Random(seed, 200))
		l := surface.NewLocator(s.TIN)
		for f := range int32(s.TIN.Facets()) {
			a, b, c := s.TIN.V[3*f], s.TIN.V[3*f+1], s.TIN.V[3*f+2]
			x, y := (s.TIN.X[a]+s.TIN.X[b]+s.TIN.X[c])/3, (s.TIN.Y[a]+s.TIN.Y[b]+s.TIN.Y[c])/3
			if got, ok := l.Locate(x, y); !ok || got != f {
				t.Fatalf("seed %d: centroid of facet %d is in %d, %v", seed, f, got, ok)
			}
			if z, ok := l.HeightAt(x, y); !ok || !near(z, (s.TIN.Z[a]+s.TIN.Z[b]+s.TIN.Z[c])/3, 1e-9) {
				t.Fatalf("seed %d: elevation %g at the centroid of facet %d", seed, z, f)
			}
			if _, ok := l.Locate(s.TIN.X[a], s.TIN.Y[a]); !ok {
				t.Fatalf("seed %d: corner of facet %d is not found", seed, f)
			}
		}
		for _, p := range [][2]float64{{-1, 1}, {1, -1}, {1e6, 1}, {1, 1e6}} {
			if _, ok := l.Locate(p[0], p[1]); ok {
				t.Errorf("seed %d: (%g, %g) is off the roof but was found", seed, p[0], p[1])
			}
		}
	}
}

func TestTheSameRoofGivesTheSameSurface(t *testing.T) {
	for seed := range uint64(20) {
		a, b := build(t, shape.Random(seed, 150)), build(t, shape.Random(seed, 150))
		if !reflect.DeepEqual(a, b) {
			t.Errorf("seed %d gives two surfaces", seed)
		}
	}
}
