package catchment_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/catchment"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// travelOf returns the longest and the mean travel of an outlet in a view.
func travelOf(list []catchment.Catchment, outlet int32) (longest, mean float64) {
	for i := range list {
		if list[i].Outlet == outlet {
			return list[i].TravelMax, list[i].TravelMean
		}
	}
	return 0, 0
}

// meanOver returns the mean of a function over a rectangle, by the middles of many small ones; where has its area [m2].
func meanOver(x0, y0, x1, y1 float64, on func(orb.Point) bool, f func(orb.Point) float64) float64 {
	const n = 400
	sum, count := 0.0, 0.0
	for i := range n {
		for j := range n {
			p := orb.Point{x0 + (float64(i)+0.5)/n*(x1-x0), y0 + (float64(j)+0.5)/n*(y1-y0)}
			if on(p) {
				sum, count = sum+f(p), count+1
			}
		}
	}
	return sum / count
}

func everywhere(orb.Point) bool { return true }

// TestTravelOverTwoPonds is the channel of TestChannel: from any place water runs along x to the first water's edge,
// straight to the lip of that pond, on along x to the next water, straight to its lip, and 2 m to the gutter.
func TestTravelOverTwoPonds(t *testing.T) {
	r := channel()
	shape.Edge(r, roof.Gutter, shape.Bare(6, 0), shape.Bare(6, 3))
	x := run(t, r, all)
	a, b := x.p.Ponds[x.p.OfPit[pitAt(t, x, 1)]], x.p.Ponds[x.p.OfPit[pitAt(t, x, 3)]]
	ya, yb := x.s.Cut.Y[a.Lip], x.s.Cut.Y[b.Lip]
	onB := func(p orb.Point) float64 { return math.Hypot(4-p[0], yb-p[1]) + 2 }
	onA := func(p orb.Point) float64 { return math.Hypot(2-p[0], ya-p[1]) + 0.2 + onB(orb.Point{2.2, ya}) }
	full := func(p orb.Point) float64 {
		switch {
		case p[0] > 4:
			return 6 - p[0]
		case p[0] > 2.2:
			return onB(p)
		case p[0] > 2:
			return 2.2 - p[0] + onB(orb.Point{2.2, p[1]})
		case p[0] > 0.4:
			return onA(p)
		}
		return 0.4 - p[0] + onA(orb.Point{0.4, p[1]})
	}
	longest, mean := travelOf(x.c.Full, 0)
	near(t, "longest", longest, math.Max(full(orb.Point{0, 0}), full(orb.Point{0, 3})), 0.002)
	near(t, "mean", mean, meanOver(0, 0, 6, 3, everywhere, full), 0.005)
}

// TestTravelOverAPondWithoutAnyFacet follows water down a gully whose sides rise 5 to 1: over a pond from x = 0.4 to its lip at 2, to a low place at 3 that is 0.01 mm
// deep, the least there is, so that its water is narrower than the grid and covers no facet, over its lip at 4, and down to the gutter at 6. By hand the longest way
// runs 1 m down a side from a corner, at x = 0, and 6 m along the gully; on the way down it drifts by 0.02 m at most.
func TestTravelOverAPondWithoutAnyFacet(t *testing.T) {
	r := shape.New("gully", shape.At(0, 0, 5), shape.At(6, 0, 5), shape.At(6, 2, 5), shape.At(0, 2, 5))
	for i, z := range []float64{0.10, 0, 0.06, 0.04999, 0.05, 0.025, 0} {
		shape.Spot(r, float64(i), 0, 5)
		shape.Spot(r, float64(i), 1, z)
		shape.Spot(r, float64(i), 2, 5)
	}
	shape.Edge(r, roof.Gutter, shape.Bare(6, 0), shape.Bare(6, 2))
	x := run(t, r, all)
	if len(x.p.Ponds) != 2 {
		t.Fatalf("%d ponds", len(x.p.Ponds))
	}
	longest, _ := travelOf(x.c.Full, 0)
	near(t, "longest", longest, 7, 0.06)
}

// ring is a level pan of 12 m with a curb of 4 m in its middle and a scupper of 0.4 m in the east wall, 50 mm over the
// floor: the water stands all round the curb.
func ring() *roof.Roof {
	r := shape.New("ring", shape.At(0, 0, 0), shape.At(12, 0, 0), shape.At(12, 12, 0), shape.At(0, 12, 0))
	shape.Curb(r, shape.At(4, 4, 0), shape.At(8, 4, 0), shape.At(8, 8, 0), shape.At(4, 8, 0))
	o := shape.Scupper(r, 12, 6, 0.4)
	o.Invert, o.HasInvert = 0.05, true
	return r
}

// TestTravelRoundACurb: water crosses the pond straight to the scupper where the curb is not between, else by the nearer of
// the ways over its corners.
func TestTravelRoundACurb(t *testing.T) {
	x := run(t, ring(), all)
	ends := []orb.Point{}
	for y := 5.8; y < 6.2001; y += 0.02 {
		ends = append(ends, orb.Point{12, y})
	}
	clear := func(p, q orb.Point) bool { // of the curb: no place of the way lies inside it
		for k := range 201 {
			s := float64(k) / 200
			if at := (orb.Point{p[0] + s*(q[0]-p[0]), p[1] + s*(q[1]-p[1])}); math.Max(math.Abs(at[0]-6), math.Abs(at[1]-6)) < 2-1e-9 {
				return false
			}
		}
		return true
	}
	straight := func(p orb.Point) float64 {
		least := math.Inf(1)
		for _, q := range ends {
			if clear(p, q) {
				least = math.Min(least, planar.Distance(p, q))
			}
		}
		return least
	}
	var corners []orb.Point
	var far []float64
	for _, y := range []float64{4, 8} {
		east, west := orb.Point{8, y}, orb.Point{4, y}
		corners = append(corners, east, west)
		far = append(far, straight(east), straight(east)+4)
	}
	full := func(p orb.Point) float64 {
		least := math.Inf(1)
		for _, q := range ends {
			if d := planar.Distance(p, q); d < least && clear(p, q) {
				least = d
			}
		}
		for i, q := range corners {
			if d := planar.Distance(p, q) + far[i]; d < least && clear(p, q) {
				least = d
			}
		}
		return least
	}
	longest, mean := travelOf(x.c.Full, 0)
	near(t, "longest", longest, full(orb.Point{0, 0}), 0.01) // by hand, from the corner: sqrt(12^2 + 5.8^2) = 13.328
	near(t, "longest by hand", longest, math.Sqrt(12*12+5.8*5.8), 0.01)
	sum, n := 0.0, 0.0
	for i := range 48 {
		for j := range 48 {
			p := orb.Point{(float64(i) + 0.5) / 4, (float64(j) + 0.5) / 4}
			if math.Max(math.Abs(p[0]-6), math.Abs(p[1]-6)) > 2 {
				sum, n = sum+full(p), n+1
			}
		}
	}
	near(t, "mean", mean, sum/n, 0.02)
	if len(x.c.Longest) == 0 || !x.c.Longest[len(x.c.Longest)-1].Full {
		t.Fatalf("no full way: %+v", x.c.Longest)
	}
}

// TestTravelToTwoDrains holds one level of water with two drains of one invert in a pan of 20 m by 6 m: each takes its
// half, and the farthest place of each is a corner of it.
func TestTravelToTwoDrains(t *testing.T) {
	r := shape.New("two", shape.At(0, 0, 0), shape.At(20, 0, 0), shape.At(20, 6, 0), shape.At(0, 6, 0))
	shape.Grid(r, 0, 0, 20, 6, 40, 12, func(_, _ float64) float64 { return 0 })
	for i, x := range []float64{5, 15} {
		o := shape.Drain(r, x, 3, 0.3)
		o.Invert, o.HasInvert = 0.02+0.001*float64(i), true // within what an invert is known to
	}
	x := run(t, r, all)
	if len(x.c.Full) != 2 || len(x.c.Shares) != 2 {
		t.Fatalf("%d full, %d shares", len(x.c.Full), len(x.c.Shares))
	}
	want := math.Hypot(5, 3) - 0.15
	whole := func(p orb.Point) float64 { return math.Max(0, math.Hypot(p[0]-5, p[1]-3)-0.15) }
	for i := range int32(2) {
		longest, mean := travelOf(x.c.Full, i)
		near(t, "area", x.c.Full[i].Area, 60, 1)
		near(t, "longest", longest, want, 0.01)
		near(t, "mean", mean, meanOver(0, 0, 10, 6, everywhere, whole), 0.01)
	}
}

// TestTravelPastADish: on a plane of 2 % with a hollow in it the ways beside the hollow do not change, those through it
// leave the straight line for the lip.
func TestTravelPastADish(t *testing.T) {
	z := func(x, y float64) float64 {
		fall := 0.02 * y
		if d := math.Max(math.Abs(x-5), math.Abs(y-6)); d < 1.01 {
			return fall - 0.08*(1-math.Min(1, d))
		}
		return fall
	}
	r := shape.New("plane", shape.At(0, 0, 0), shape.At(10, 0, 0), shape.At(10, 12, 0.24), shape.At(0, 12, 0.24))
	shape.Grid(r, 0, 0, 10, 12, 20, 24, z)
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(10, 0))
	x := run(t, r, all)
	if len(x.p.Ponds) != 1 {
		t.Fatalf("%d ponds", len(x.p.Ponds))
	}
	longest, mean := travelOf(x.c.Full, 0)
	direct, _ := travelOf(x.c.Dry, 0)
	near(t, "direct", direct, 12, 0.02)
	if longest < direct || longest > 13.3 || mean < 6 || mean > 6.2 {
		t.Errorf("longest %.3f m, mean %.3f m", longest, mean)
	}
}

// TestFullWays checks the longest ways with ponds full on random roofs: none is shorter than the dry one, each is as long
// as the longest travel of its outlet, none runs through a curb, and where it keeps to one level it is over water.
func TestFullWays(t *testing.T) {
	crossings, ways := 0, 0
	for k := range trials() {
		r := shape.Random(uint64(k), 200)
		x := run(t, r, all)
		locate := surface.NewLocator(x.s.Cut)
		for i := range x.s.Outlets {
			dry, _ := travelOf(x.c.Dry, int32(i))
			full, mean := travelOf(x.c.Full, int32(i))
			if full < dry-1e-6 || mean > full || full > 0 && mean <= 0 {
				t.Errorf("roof %d, outlet %d: dry %.4f m, full %.4f m, mean %.4f m", k, i, dry, full, mean)
			}
		}
		for _, p := range x.c.Longest {
			if !p.Full {
				continue
			}
			ways++
			full, _ := travelOf(x.c.Full, p.Outlet)
			near(t, "full travel", p.Travel, full, 0.010)
			for i := 1; i < len(p.Line); i++ {
				level := p.Elevations[i] == p.Elevations[i-1]
				if level {
					crossings++
				}
				for s := range 20 {
					u := (float64(s) + 0.5) / 20
					at := orb.Point{p.Line[i-1][0] + u*(p.Line[i][0]-p.Line[i-1][0]), p.Line[i-1][1] + u*(p.Line[i][1]-p.Line[i-1][1])}
					if c := inCurb(r, at); c >= 0 {
						t.Fatalf("roof %d: the way to outlet %d runs through curb %d at %v", k, p.Outlet, c, at)
					}
					if f, ok := locate.Locate(at[0], at[1]); level && ok && x.s.Cut.Height(f, at[0], at[1]) > p.Elevations[i]+1e-4 {
						t.Fatalf("roof %d: the way to outlet %d crosses dry roof at %v", k, p.Outlet, at)
					}
				}
			}
		}
	}
	if crossings < 20 || ways < 20 {
		t.Errorf("only %d ways over %d ponds", ways, crossings)
	}
}

// inCurb returns the curb that a place lies in, more than a tenth of a millimetre from its sides; -1 for none.
func inCurb(r *roof.Roof, at orb.Point) int {
	for c := range r.Curbs {
		var ring orb.Ring
		for _, p := range r.Curbs[c].Ring {
			ring = append(ring, p.Plan)
		}
		if planar.RingContains(ring, at) && planar.DistanceFrom(orb.LineString(ring), at) > 1e-4 {
			return c
		}
	}
	return -1
}

// On a roof of one facet water runs straight to the gutter: from the corner 4 m off it, 4 m far and 0.2 m down.
func TestLongestWayOverOneFacet(t *testing.T) {
	r := shape.New("wedge", shape.At(0, 0, 1), shape.At(6, 0, 1), shape.At(2, 4, 1.2))
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(6, 0))
	x := run(t, r, all)
	if x.s.Cut.Facets() != 1 || len(x.c.Longest) != 1 {
		t.Fatalf("%d facets, %d ways", x.s.Cut.Facets(), len(x.c.Longest))
	}
	p := x.c.Longest[0]
	near(t, "travel", p.Travel, 4, 1e-3)
	near(t, "drop", p.Drop, 0.2, 1e-4)
}
