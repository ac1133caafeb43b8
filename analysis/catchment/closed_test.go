package catchment_test

import (
	"math"
	"testing"

	"runnel/analysis/catchment"
	"runnel/analysis/flow"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// result is everything that a catchment rests on.
type result struct {
	s *surface.Surface
	n *flow.Network
	p *ponding.Ponds
	c *catchment.Catchments
}

func run(tb testing.TB, r *roof.Roof, listed func(p *ponding.Ponds) []bool) result {
	tb.Helper()
	var x result
	var err error
	if x.s, err = surface.Build(r, surface.Options{}); err != nil {
		tb.Fatal(err)
	}
	if x.n, err = flow.Trace(x.s, flow.Options{}); err != nil {
		tb.Fatal(err)
	}
	if x.p, err = ponding.Find(x.s.Cut, x.s.Outlets, x.s.Cut.Z); err != nil {
		tb.Fatal(err)
	}
	if _, x.c, err = catchment.Trace(x.s, x.p, func() []bool { return listed(x.p) }); err != nil {
		tb.Fatal(err)
	}
	return x
}

func all(*ponding.Ponds) []bool { return nil }

func noPond(p *ponding.Ponds) []bool { return make([]bool, len(p.Ponds)) }

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

// channel is 3 m wide and folds across: from a wall at x = 0 (elevation 0.10) down to 0.00 at 1, up to
// 0.06 at 2, down to 0.01 at 3, up to 0.05 at 4 and down to 0.00 at 6.
func channel() *roof.Roof {
	r := shape.New("channel", shape.At(0, 0, 0.10), shape.At(6, 0, 0), shape.At(6, 3, 0), shape.At(0, 3, 0.10))
	for i, z := range []float64{0.10, 0, 0.06, 0.01, 0.05, 0.025, 0} {
		shape.Spot(r, float64(i), 0, z)
		shape.Spot(r, float64(i), 3, z)
	}
	return r
}

// TestChannel follows water through two ponds. By hand: three dry catchments of 6 m2; with the ponds full
// the gutter takes all 18 m2. The longest full way runs 0.4 m to the first pond's water, over it to its
// lip at x = 2, 0.2 m to the second pond's water, over it to its lip at x = 4, and 2 m to the gutter.
func TestChannel(t *testing.T) {
	r := channel()
	shape.Edge(r, roof.Gutter, shape.Bare(6, 0), shape.Bare(6, 3))
	x := run(t, r, all)
	if len(x.c.Dry) != 3 || len(x.c.Full) != 1 || len(x.p.Ponds) != 2 {
		t.Fatalf("%d dry, %d full, %d ponds", len(x.c.Dry), len(x.c.Full), len(x.p.Ponds))
	}
	for _, c := range x.c.Dry {
		near(t, "dry area", c.Area, 6, 1e-9)
		if c.Outlet == 0 {
			near(t, "longest travel", c.TravelMax, 2, 1e-4)
			near(t, "mean travel", c.TravelMean, 1, 1e-4)
		}
	}
	near(t, "full area", x.c.Full[0].Area, 18, 1e-9)
	near(t, "undrained", x.c.Undrained, 0, 0)
	if len(x.c.Longest) != 2 || x.c.Longest[0].Full || !x.c.Longest[1].Full {
		t.Fatalf("longest paths: %+v", x.c.Longest)
	}
	near(t, "dry path", x.c.Longest[0].Travel, 2, 1e-4)
	a, b := x.p.Ponds[x.p.OfPit[pitAt(t, x, 1)]], x.p.Ponds[x.p.OfPit[pitAt(t, x, 3)]]
	ya, yb, y0 := x.s.Cut.Y[a.Lip], x.s.Cut.Y[b.Lip], x.c.Longest[1].Line[0][1]
	want := 0.4 + math.Hypot(1.6, ya-y0) + 0.2 + math.Hypot(1.8, yb-ya) + 2
	near(t, "full path", x.c.Longest[1].Travel, want, 1e-4)
	near(t, "drop", x.c.Longest[1].Drop, 0.10, 1e-6)
}

// pitAt returns the pit on the line x = at.
func pitAt(t *testing.T, x result, at float64) int32 {
	t.Helper()
	for _, e := range x.n.Ends {
		if e.Pit >= 0 && x.s.Cut.X[e.Pit] == at {
			return e.Pit
		}
	}
	t.Fatalf("no pit at x = %g", at)
	return -1
}

// TestUnlisted lists no pond: both share one catchment.
func TestUnlisted(t *testing.T) {
	r := channel()
	shape.Edge(r, roof.Gutter, shape.Bare(6, 0), shape.Bare(6, 3))
	x := run(t, r, noPond)
	if len(x.c.Dry) != 2 || x.c.Dry[1].Outlet != -1 || x.c.Dry[1].Pond != 0 {
		t.Fatalf("dry: %+v", x.c.Dry)
	}
	near(t, "shared area", x.c.Dry[1].Area, 12, 1e-9)
	if len(x.c.Dry[1].Outline) != 1 || len(x.c.Dry[1].Outline[0]) != 1 {
		t.Errorf("outline: %v", x.c.Dry[1].Outline)
	}
}

// TestUndrained has walls all round: nothing drains.
func TestUndrained(t *testing.T) {
	x := run(t, channel(), all)
	near(t, "undrained", x.c.Undrained, 18, 1e-9)
	if len(x.c.Full) != 0 || len(x.c.Undrawn) != 1 || len(x.c.Longest) != 0 {
		t.Errorf("%d full, undrawn %v, %d paths", len(x.c.Full), x.c.Undrawn, len(x.c.Longest))
	}
}

// TestDish is a hollow in a roof that falls to free edges all round. By hand: dry, the pond keeps a2 = 16
// of 144 m2, which is a hole in the edge's catchment; full, the edge takes all.
func TestDish(t *testing.T) {
	x := run(t, shape.Dish(4, 0.1), all)
	if len(x.c.Dry) != 2 || len(x.c.Full) != 1 {
		t.Fatalf("%d dry, %d full", len(x.c.Dry), len(x.c.Full))
	}
	near(t, "edge, dry", x.c.Dry[0].Area, 128, 1e-9)
	near(t, "pond", x.c.Dry[1].Area, 16, 1e-9)
	near(t, "edge, full", x.c.Full[0].Area, 144, 1e-9)
	if o := x.c.Dry[0].Outline; len(o) != 1 || len(o[0]) != 2 {
		t.Errorf("outline of the edge: %v", o)
	}
	if o := x.c.Full[0].Outline; len(o) != 1 || len(o[0]) != 1 {
		t.Errorf("full outline of the edge: %v", o)
	}
}

// hollow is a 10 m by 4 m V across x with its fold at x = 5, rising to 0.10 at both ends, and a scupper
// in either end wall.
func hollow(west, east float64) *roof.Roof {
	z := func(x, _ float64) float64 { return 0.02 * math.Abs(x-5) }
	r := shape.New("hollow", shape.At(0, 0, 0.1), shape.At(10, 0, 0.1), shape.At(10, 4, 0.1), shape.At(0, 4, 0.1))
	shape.Grid(r, 0, 0, 10, 4, 10, 2, z)
	for i, x := range []float64{0, 10} {
		o := shape.Scupper(r, x, 2, 0.4)
		o.Invert, o.HasInvert = []float64{west, east}[i], true
	}
	return r
}

// TestShares holds one pond with two scuppers. By hand: with equal inverts each takes the half next to
// it, with unequal ones the lower takes all 40 m2.
func TestShares(t *testing.T) {
	x := run(t, hollow(0.12, 0.12), all)
	if len(x.c.Shares) != 2 || len(x.c.Full) != 2 || len(x.c.Dry) != 1 {
		t.Fatalf("%d shares, %d full, %d dry", len(x.c.Shares), len(x.c.Full), len(x.c.Dry))
	}
	for i := range 2 {
		near(t, "share", x.c.Shares[i].Area, 20, 1e-9)
		near(t, "part", x.c.Shares[i].Part, 0.5, 1e-9)
		near(t, "full", x.c.Full[i].Area, 20, 1e-9)
	}
	x = run(t, hollow(0.13, 0.12), all)
	if len(x.c.Shares) != 0 || len(x.c.Full) != 1 || x.c.Full[0].Outlet != 1 {
		t.Fatalf("%d shares, full %+v", len(x.c.Shares), x.c.Full)
	}
	near(t, "full", x.c.Full[0].Area, 40, 1e-9)
}

// TestUnequalShares holds one pond with two scuppers in the south wall, at x = 2 and x = 10 of 16 m. By hand: the line half way
// between them, x = 6, parts 24 of 64 m2 from 40, which are 3/8 and 5/8.
func TestUnequalShares(t *testing.T) {
	z := func(x, _ float64) float64 { return 0.02 * math.Abs(x-8) }
	r := shape.New("hollow", shape.At(0, 0, 0.16), shape.At(16, 0, 0.16), shape.At(16, 4, 0.16), shape.At(0, 4, 0.16))
	shape.Grid(r, 0, 0, 16, 4, 16, 2, z)
	for _, x := range []float64{2, 10} {
		o := shape.Scupper(r, x, 0, 0.4)
		o.Invert, o.HasInvert = 0.18, true
	}
	x := run(t, r, all)
	if len(x.c.Shares) != 2 {
		t.Fatalf("%d shares", len(x.c.Shares))
	}
	for i, want := range []float64{24, 40} {
		near(t, "share", x.c.Shares[i].Area, want, 1e-9)
		near(t, "part", x.c.Shares[i].Part, want/64, 1e-9)
	}
}

// TestSharedFromAbove lets a small pond spill into one that two scuppers hold together. By hand: the
// small one's 2 m by 4 m basin, at one end, spills next to the half of the scupper on that side, so
// that scupper gets it too; dry, both ponds keep what is theirs. West or east, whichever scupper comes first.
func TestSharedFromAbove(t *testing.T) {
	z := func(x, _ float64) float64 {
		switch {
		case x <= 1:
			return 0.30 - 0.10*x
		case x <= 2:
			return 0.20 + 0.05*(x-1)
		}
		return 0.25 - 0.24*(x-2)/8
	}
	for k := range 4 {
		at, near1, far1 := func(x float64) float64 { return x }, 0, 1
		if k%2 == 1 {
			at = func(x float64) float64 { return 18 - x }
		}
		r := shape.New("above", shape.At(0, 0, 0.25), shape.At(18, 0, 0.25), shape.At(18, 4, 0.25), shape.At(0, 4, 0.25))
		for i := range r.Outline.Rings[0] {
			if p := &r.Outline.Rings[0][i]; p.Plan[0] == at(0) {
				p.Z = 0.3
			}
		}
		for x := 0.0; x <= 18; x++ {
			for y := 0.0; y <= 4; y += 2 {
				height := z(x, y)
				if x > 10 {
					height = z(20-x, y)
				}
				shape.Spot(r, at(x), y, height)
			}
		}
		scuppers := []float64{8, 12}
		if k >= 2 {
			scuppers, near1, far1 = []float64{12, 8}, 1, 0
		}
		for _, x := range scuppers {
			o := shape.Scupper(r, at(x), 0, 0.4)
			o.Invert, o.HasInvert = 0.12, true
		}
		x := run(t, r, all)
		if len(x.p.Ponds) != 2 || len(x.c.Full) != 2 || len(x.c.Shares) != 2 {
			t.Fatalf("%d: %d ponds, %d full, %d shares", k, len(x.p.Ponds), len(x.c.Full), len(x.c.Shares))
		}
		near(t, "scupper on that side", x.c.Full[near1].Area, 40, 1e-9)
		near(t, "the other scupper", x.c.Full[far1].Area, 32, 1e-9)
		near(t, "share", x.c.Shares[near1].Area, 32, 1e-9)
		near(t, "the other share", x.c.Shares[far1].Area, 32, 1e-9)
	}
}
