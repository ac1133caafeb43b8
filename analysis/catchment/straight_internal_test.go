package catchment

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/fault"
	"runnel/analysis/flow"
	"runnel/analysis/geodesic"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// A front that began at (x, -h) stands off the ends of the line from (0, 0) to (l, 0) by their distances from there, and off a place beyond the line by its own, where the straight way crosses the line between its ends:
// at x + (along - x) h / (h + across).
func TestStraightOverALine(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	crossed := 0
	for range 4000 {
		l, x, h := 0.2+4*r.Float64(), 8*r.Float64()-3, 0.05+3*r.Float64()
		along, across := 8*r.Float64()-3, 3*r.Float64()
		at := x + (along-x)*h/(h+across)
		if math.Abs(at) < 1e-6 || math.Abs(at-l) < 1e-6 {
			continue
		}
		got, ok := straight(math.Hypot(x, h), math.Hypot(x-l, h), l, along, across)
		if ok != (at > 0 && at < l) {
			t.Fatalf("from (%g, %g) to (%g, %g) over a line of %g: %v, it crosses at %g", x, -h, along, across, l, ok, at)
		}
		if !ok {
			continue
		}
		crossed++
		if want := math.Hypot(along-x, across+h); !(math.Abs(got-want) <= 1e-9) {
			t.Errorf("from (%g, %g) to (%g, %g): %g, want %g", x, -h, along, across, got, want)
		}
	}
	if crossed < 500 {
		t.Errorf("only %d ways cross", crossed)
	}
	// A line that is the footprint's own border sends water square to itself; no front can stand off two ends by less than they are apart.
	for _, c := range []struct {
		da, db, along float64
		want          bool
	}{{0, 0, 0, true}, {0, 0, 2, true}, {0, 0, 1, true}, {0, 0, -0.01, false}, {0, 0, 2.01, false}, {0.5, 0.5, 1, false}, {1, 1, 1, true}} {
		got, ok := straight(c.da, c.db, 2, c.along, 0.7)
		if ok != c.want || ok && !(math.Abs(got-0.7) <= 1e-9) {
			t.Errorf("%+v: %g, %v", c, got, ok)
		}
	}
}

// By hand, far from the origin: where a way comes to no place of the water it goes straight on to the nearest target, 3 m east and 4 m north of it, not to one 5.1 m south.
func TestStraightOnOverWater(t *testing.T) {
	p := &pool{region: &geodesic.Region{X: []float64{303, 300, 290}, Y: []float64{-196, -205.1, -200}}, targets: [][]int32{{0, 1}, {1, 2}}}
	at := flow.Landing{Side: -1, Vertex: -1, Point: orb.Point{300, -200}}
	for k, want := range []float64{5, 5.1} {
		if got := p.far(&surface.TIN{}, k, at); !(math.Abs(got-want) <= 1e-9) {
			t.Errorf("to taker %d: %g m, want %g", k, got, want)
		}
	}
}

// In the triangle of sides 3, 4 and 5, far from the origin, the centroid lies (4/3, 1) from the right angle: root(16/9 + 1) m, and (4/3, 2) from the end of the shorter side. A front that
// passed both at 2 m and 1.5 m comes over that end; one that passed both at the side's own ends as a footprint's border comes square off the side, 4/3 m.
func TestFrontToACentroid(t *testing.T) {
	tin := &surface.TIN{V: []int32{0, 1, 2}, X: []float64{300, 302.4, 297.6}, Y: []float64{-200, -196.8, -198.2}}
	for _, c := range []struct {
		at   map[int32]float64
		want float64
	}{
		{map[int32]float64{0: 2e9}, 2 + math.Sqrt(16.0/9+1)},
		{map[int32]float64{2: 1.5e9}, 1.5 + math.Sqrt(16.0/9+4)},
		{map[int32]float64{1: 0}, math.Hypot(8.0/3, 1)},
		{map[int32]float64{2: 0, 0: 0}, 4.0 / 3},
		{map[int32]float64{0: 0, 1: 0}, 1},
		{map[int32]float64{1: 0, 2: 0}, 0.8}, // off the longest side: a third of the height 2.4 m
		{nil, math.Inf(1)},
	} {
		got := (&spread{t: tin, at: c.at}).toCentroid(0) / 1e9
		if got != c.want && !(math.Abs(got-c.want) <= 2e-9) {
			t.Errorf("passed at %v: %g m, want %g", c.at, got, c.want)
		}
	}
}

// A pond's shares are parts of what all its outlets gain; where they gain nothing, there are no parts. Ponds do not mix.
func TestParts(t *testing.T) {
	shares := []Share{{Pond: 0, Area: 3}, {Pond: 0, Area: 1}, {Pond: 2, Area: 0}, {Pond: 2, Area: 0}, {Pond: 3, Area: 0.5}, {Pond: 3, Area: 0.5}, {Pond: 3, Area: 1}}
	setParts(shares)
	var got []float64
	for _, s := range shares {
		got = append(got, s.Part)
	}
	if want := []float64{0.75, 0.25, 0, 0, 0.25, 0.25, 0.5}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// With every pond full water goes down the ponds it spills to, pond 0 among them, to the outlet of the last; a pond without a way out has none. Ponds that spill into each other in a ring are a fault of the program.
func TestCascade(t *testing.T) {
	pond := func(toPond, toOutlet int32) ponding.Pond { return ponding.Pond{ToPond: toPond, ToOutlet: toOutlet} }
	g := &grouping{ponds: &ponding.Ponds{Ponds: []ponding.Pond{pond(3, -1), pond(0, -1), pond(-1, 0), pond(-1, 7), pond(1, -1), pond(-1, -1), pond(5, -1)}}}
	if err := g.cascade(); err != nil || !slices.Equal(g.end, []int32{7, 7, 0, 7, 7, -1, -1}) {
		t.Errorf("%v, %v", g.end, err)
	}
	ring := &grouping{ponds: &ponding.Ponds{Ponds: []ponding.Pond{pond(-1, 1), pond(2, -1), pond(3, -1), pond(1, -1)}}}
	var broken *fault.Error
	if err := ring.cascade(); !errors.As(err, &broken) {
		t.Errorf("a ring of ponds: %v", err)
	}
}

// Outlets hold a pond with its own where their footprints lie under its water, their inverts are within 3 mm of its level, and their footprints reach down to it; edges never do.
func TestHolders(t *testing.T) {
	for _, c := range []struct {
		name  string
		other surface.Outlet
		want  []int32
	}{
		{"2.9 mm higher", surface.Outlet{Type: roof.Drain, Invert: 5.0029, Low: 4.9, Vertices: []int32{0}}, []int32{0, 1}},
		{"2.9 mm lower", surface.Outlet{Type: roof.Drain, Invert: 4.9971, Low: 4.9, Vertices: []int32{2}}, []int32{0, 1}},
		{"3.1 mm higher", surface.Outlet{Type: roof.Drain, Invert: 5.0031, Low: 4.9, Vertices: []int32{0}}, []int32{1}},
		{"3.1 mm lower", surface.Outlet{Type: roof.Drain, Invert: 4.9969, Low: 4.9, Vertices: []int32{0}}, []int32{1}},
		{"elsewhere", surface.Outlet{Type: roof.Drain, Invert: 5, Low: 4.9, Vertices: []int32{3}}, []int32{1}},
		{"above the water", surface.Outlet{Type: roof.Drain, Invert: 5, Low: 5.001, Vertices: []int32{0}}, []int32{1}},
		{"an edge", surface.Outlet{Type: roof.EdgeOutlet, Invert: 5, Low: 4.9, Vertices: []int32{0}}, []int32{1}},
	} {
		g := &grouping{
			s:     &surface.Surface{Cut: &surface.TIN{V: []int32{0, 1, 2, 1, 3, 2}}, Outlets: []surface.Outlet{c.other, {Type: roof.Drain, Invert: 5, Low: 4.9, Vertices: []int32{1}}}},
			ponds: &ponding.Ponds{Ponds: []ponding.Pond{{HeldBy: 1, Level: 5, Facets: []int32{0}}, {HeldBy: -1, Level: 5, Facets: []int32{0, 1}}}},
		}
		g.findHolders()
		if got := g.holders(0); !slices.Equal(got, c.want) || g.holders(1) != nil {
			t.Errorf("%s: %v and %v, want %v", c.name, got, g.holders(1), c.want)
		}
	}
}

// A hole that touches its ring in its first side's end, and whose longest side is its first: the middle of that side decides.
func TestHoleWithALongFirstSide(t *testing.T) {
	box := orb.Ring{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}
	notch := orb.Ring{{20, 0}, {30, 0}, {30, 10}, {20, 10}, {20, 0}}
	hole := orb.Ring{{0, 5}, {6, 5}, {5, 4}, {0, 5}}
	m := nest([]orb.Ring{hole, notch, box})
	for _, p := range m {
		if p[0][0] == box[0] && len(p) != 2 || p[0][0] == notch[0] && len(p) != 1 {
			t.Errorf("%v", m)
		}
	}
	if len(m) != 2 || m[0][0][0] != box[0] { // of equal areas the first by place
		t.Errorf("%v", m)
	}
	tiny := orb.Ring{{50, 50}, {50 + 1e-7, 50}, {50, 50 + 1e-7}, {50, 50}}
	if m := nest([]orb.Ring{tiny}); len(m) != 0 {
		t.Errorf("a speck is drawn: %v", m)
	}
}
