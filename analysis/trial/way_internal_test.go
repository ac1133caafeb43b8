package trial

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// makerOf returns a maker of changes on a roof, and its ponds.
func makerOf(t *testing.T, r *roof.Roof) *maker {
	t.Helper()
	s := shape.Build(t, r)
	found, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	m, err := newMaker(s, found, nil)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// vertex returns the vertex at a place.
func (m *maker) vertex(t *testing.T, x, y float64) int32 {
	t.Helper()
	for v := range m.t.X {
		if vector.Norm(m.t.X[v]-x, m.t.Y[v]-y) < 1e-9 {
			return int32(v)
		}
	}
	t.Fatalf("no vertex at (%g, %g)", x, y)
	return -1
}

// bumpy is a walled roof of n by n spots, 1 m apart, with heights of whole centimetres drawn at random, and a drain in a corner.
func bumpy(rnd *rand.Rand, n int) *roof.Roof {
	rows := make([][]float64, n)
	for j := range rows {
		rows[j] = make([]float64, n)
		for i := range rows[j] {
			rows[j][i] = 0.01 * float64(rnd.IntN(12))
		}
	}
	r := shape.Heights(1, rows...)
	shape.Drain(r, 0.5, 0.5, 0.2)
	return r
}

// TestWayOut: by hand, along a strip of 6 m by 1 m, both rows of spots alike: from the pit at 1 m over the rise at 2 m, 0.05 m high, to the next lower ground at 3 m. Over the rise there is no lower way; with an outlet on the rise that takes water at the pit's
// level it ends there, with one that takes it higher up it does not, nor where that is blocked.
func TestWayOut(t *testing.T) {
	row := []float64{0.2, 0, 0.05, -0.01, 0.1, -0.3, 0.1}
	r := shape.Heights(1, row, row)
	m := makerOf(t, r)
	pit := m.vertex(t, 1, 0)
	xs := func() (out []float64) {
		for _, v := range m.wayOut(pit) {
			out = append(out, m.t.X[v])
		}
		return out
	}
	if got := xs(); !slices.Equal(got, []float64{1, 2, 3}) {
		t.Errorf("no outlet: %v", got)
	}
	on := m.vertex(t, 2, 0)
	m.outlets, m.blocked = []surface.Outlet{{Source: 0, Invert: 0, Vertices: []int32{on, m.vertex(t, 2, 1)}}}, []bool{false}
	if got := xs(); !slices.Equal(got, []float64{1, 2}) {
		t.Errorf("an outlet on the rise at the pit's level: %v", got)
	}
	m.outlets[0].Invert = 0.001
	if got := xs(); !slices.Equal(got, []float64{1, 2, 3}) {
		t.Errorf("1 mm higher: %v", got)
	}
	m.outlets[0].Invert, m.blocked[0] = -1, true
	if got := xs(); !slices.Equal(got, []float64{1, 2, 3}) {
		t.Errorf("blocked: %v", got)
	}
	for v := range m.z {
		m.z[v] = max(m.z[v], 0)
	}
	if got := m.wayOut(pit); got != nil {
		t.Errorf("nowhere lower: %v", got)
	}
}

// TestWayOutGoesOverTheLowestRise: on roofs of random heights the way goes from neighbour to neighbour, ends where the roof is lower or at the drain, nowhere before, and its highest place is the least that any way has: found by raising a level
// by a centimetre until the places reached below it, by the sides of facets, hold such an end.
func TestWayOutGoesOverTheLowestRise(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 8))
	ways := 0
	for range 60 {
		m := makerOf(t, bumpy(rnd, 6))
		beside := map[[2]int32]bool{}
		for e := range m.t.V {
			a, b := m.t.V[e], m.t.End(int32(e))
			beside[[2]int32{a, b}], beside[[2]int32{b, a}] = true, true
		}
		drain := m.outlets[0]
		end := func(v, from int32) bool {
			return v != from && (m.z[v] < m.z[from] || drain.Invert <= m.z[from] && slices.Contains(drain.Vertices, v))
		}
		for range 10 {
			from := int32(rnd.IntN(len(m.z)))
			way := m.wayOut(from)
			want := math.Inf(1)
			for level := m.z[from]; level < 0.13 && math.IsInf(want, 1); level += 0.0005 {
				reached := map[int32]bool{from: true}
				for more := true; more; {
					more = false
					for side := range beside {
						if reached[side[0]] && !reached[side[1]] && m.z[side[1]] <= level+1e-9 {
							reached[side[1]], more = true, true
						}
					}
				}
				for v := range reached {
					if end(v, from) {
						want = level
					}
				}
			}
			if way == nil {
				if !math.IsInf(want, 1) {
					t.Fatalf("no way, but one below %g", want)
				}
				continue
			}
			ways++
			high := m.z[from]
			for i, v := range way {
				high = max(high, m.z[v])
				if i > 0 && !beside[[2]int32{way[i-1], v}] {
					t.Errorf("no side from %d to %d", way[i-1], v)
				}
				if end(v, from) != (i == len(way)-1) {
					t.Errorf("place %d of %d ends it: %v", i, len(way), end(v, from))
				}
			}
			if way[0] != from || !(math.Abs(high-want) <= 0.0006) {
				t.Errorf("from %d: over %g, want %g", way[0], high, want)
			}
		}
	}
	if ways < 300 {
		t.Errorf("only %d ways", ways)
	}
}

// TestAround: every neighbour of a vertex once, those on the border too, against the sides of all facets.
func TestAround(t *testing.T) {
	m := makerOf(t, bumpy(rand.New(rand.NewPCG(2, 2)), 5))
	want := make([][]int32, len(m.z))
	for e := range m.t.V {
		a, b := m.t.V[e], m.t.End(int32(e))
		if !slices.Contains(want[a], b) {
			want[a] = append(want[a], b)
		}
		if !slices.Contains(want[b], a) {
			want[b] = append(want[b], a)
		}
	}
	for v := range m.z {
		var got []int32
		m.around(int32(v), func(w int32) { got = append(got, w) })
		slices.Sort(got)
		slices.Sort(want[v])
		if !slices.Equal(got, want[v]) {
			t.Errorf("round %d: %v, want %v", v, got, want[v])
		}
	}
}

// TestSinks: where two outlets share a place the lower one counts; an edge takes water where it stands, whatever its lowest point; a blocked one takes none.
func TestSinks(t *testing.T) {
	m := &maker{z: []float64{1, 2, 3, 4, 5}, outlets: []surface.Outlet{
		{Type: roof.Drain, Invert: 0.7, Vertices: []int32{0, 1}},
		{Type: roof.Scupper, Invert: 0.4, Vertices: []int32{1}},
		{Type: roof.EdgeOutlet, Invert: 0.1, Vertices: []int32{2, 3}},
		{Type: roof.Drain, Invert: 0.2, Vertices: []int32{3, 4}},
	}, blocked: []bool{false, false, false, true}}
	if got, want := m.sinks(), []float64{0.7, 0.4, 3, 4, math.Inf(1)}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestShaveIsStraight: a strip 1 m wide, the pit at 1 m, the way out at 4 m lower by 0.03: cut to a fall of 0.01 a metre between, which takes 0.05 + 0.01 off the rise of 0.05 at 2 m and 0.02 of what lies level with the pit at 3 m; lower places on the way stay. Nothing else moves.
func TestShaveIsStraight(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 9))
	for range 40 {
		m := makerOf(t, bumpy(rnd, 5))
		for p := range m.found.Ponds {
			was := slices.Clone(m.z)
			way := m.wayOut(m.found.Ponds[p].Pits[0])
			m.shave(int32(p))
			if len(way) < 2 {
				if !slices.Equal(was, m.z) {
					t.Error("no way out, but something is cut")
				}
				continue
			}
			whole := 0.0
			leg := func(i int) float64 {
				return vector.Norm(m.t.X[way[i]]-m.t.X[way[i-1]], m.t.Y[way[i]]-m.t.Y[way[i-1]])
			}
			for i := 1; i < len(way); i++ {
				whole += leg(i)
			}
			from, to, gone := was[way[0]], math.Min(was[way[0]], was[way[len(way)-1]]), 0.0
			for i, v := range way {
				if i > 0 {
					gone += leg(i)
				}
				if want := math.Min(was[v], from-(from-to)*gone/whole); !(math.Abs(m.z[v]-want) <= 1e-12) {
					t.Errorf("place %d of %d: %g, want %g", i, len(way), m.z[v], want)
				}
			}
			for v := range m.z {
				if m.z[v] != was[v] && !slices.Contains(way, int32(v)) {
					t.Errorf("%d off the way moves", v)
				}
			}
		}
	}
}

// TestFillFallsToItsWayOut: what a pond covers rises to its level and by 1 in 48 from its lip, or from the outlet that holds it, in hand-reckoned numbers: at 3 and 4 m, 5 m off, 5/48. What stands higher, and what is dry or another pond's, stays; where there is no way out nothing is filled.
func TestFillFallsToItsWayOut(t *testing.T) {
	tin := &surface.TIN{X: []float64{0, 3, 6, 9, 0}, Y: []float64{0, 4, 8, 0, 0}}
	start := []float64{1, 0.5, 2, 0.1, 0.2}
	of := []int32{-1, 0, 0, 1, 0}
	for _, c := range []struct {
		name string
		pond ponding.Pond
		want []float64
	}{
		{"to its lip at (0, 0)", ponding.Pond{Level: 0.9, Lip: 0, HeldBy: -1}, []float64{1, 0.9 + 5./48, 2, 0.1, 0.9}},
		{"to the outlet at (3, 0)", ponding.Pond{Level: 0.9, Lip: -1, HeldBy: 0}, []float64{1, 0.9 + 4./48, 2, 0.1, 0.9 + 3./48}},
		{"no way out", ponding.Pond{Level: 0.9, Lip: -1, HeldBy: -1}, start},
	} {
		m := &maker{t: tin, z: slices.Clone(start), of: of, found: &ponding.Ponds{Ponds: []ponding.Pond{c.pond, {}}}, outlets: []surface.Outlet{{Plan: orb.Point{3, 0}}}}
		m.fill(0)
		for v := range m.z {
			if !(math.Abs(m.z[v]-c.want[v]) <= 1e-12) {
				t.Errorf("%s: vertex %d at %g, want %g", c.name, v, m.z[v], c.want[v])
			}
		}
	}
}

// TestSetOfAnEdge: a gutter takes water where it stands, so it cannot be set; a drain's footprint goes down with it where it stands higher.
func TestSetOfAnEdge(t *testing.T) {
	m := &maker{z: []float64{1, 0.8, 1}, outlets: []surface.Outlet{
		{Type: roof.EdgeOutlet, Invert: 1, Vertices: []int32{0, 1}}, {Type: roof.Drain, Invert: 1, Vertices: []int32{1, 2}},
	}}
	m.set(0, 0.5)
	if m.outlets[0].Invert != 1 || !slices.Equal(m.z, []float64{1, 0.8, 1}) {
		t.Errorf("a gutter is set: %v, %v", m.outlets[0].Invert, m.z)
	}
	m.set(1, 0.9)
	if m.outlets[1].Invert != 0.9 || !slices.Equal(m.z, []float64{1, 0.8, 0.9}) {
		t.Errorf("a drain is not: %v, %v", m.outlets[1].Invert, m.z)
	}
}
