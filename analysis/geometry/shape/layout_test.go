package shape_test

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// positions are all places of a roof's outline, spots and breaklines that have an elevation.
func positions(r *roof.Roof) []roof.Position {
	var all []roof.Position
	for _, ring := range r.Outline.Rings {
		all = append(all, ring...)
	}
	for i := range r.Spots {
		all = append(all, r.Spots[i].Position)
	}
	for i := range r.Breaklines {
		all = append(all, r.Breaklines[i].Line...)
	}
	return slices.DeleteFunc(all, func(p roof.Position) bool { return !p.HasZ })
}

// Every elevation of a roof with closed answers is that of the formula beside it, at its place; and so many spots there are.
func TestElevationsAreThoseOfTheFormula(t *testing.T) {
	const s = 0.02
	for _, c := range []struct {
		r     *roof.Roof
		h     func(x, y float64) float64
		spots int
	}{
		{shape.Plane(24, 15, s, 5), func(_, y float64) float64 { return s * y }, 36},
		{shape.Pyramid(24, 15, s, 0.3), func(x, y float64) float64 { return s * math.Max(math.Abs(x), math.Abs(y)) }, 5},
		{shape.Pyramid(15, 15, s, 0.3), func(x, y float64) float64 { return s * math.Max(math.Abs(x), math.Abs(y)) }, 5},
		{shape.Cone(12, 8, 0.4, 0.3), func(x, y float64) float64 { return 0.4 * math.Hypot(x, y) / 8 }, 13},
		{shape.Trough(24, 15, s, 0.01, 0.3), func(x, y float64) float64 { return s*math.Abs(y-15) + 0.01*(24-x) }, 25},
		{shape.Hip(24, 15, s), func(x, y float64) float64 { return s * min(x, y, 24-x, 15-y) }, 4},
		{shape.Box(24, 15, 3, 0.3), func(x, y float64) float64 { return 0.3 * math.Max(0, 1-min(x, y, 24-x, 15-y)/3) }, 5},
		{shape.Dish(4, 0.2), func(x, y float64) float64 {
			if rim := min(x, y, 12-x, 12-y); rim <= 4 {
				return 0.05 * rim
			}
			return 0.1 * math.Max(math.Abs(x-6), math.Abs(y-6))
		}, 5},
		{shape.Ell(20, 6, s, 1, 0.3), func(x, y float64) float64 { return s * (x + y) }, 15},
		{shape.Scuppered(24, 15, s, 6, 18, 1.5, nil), func(_, y float64) float64 { return s * y }, 17 * 11},
		{shape.Scuppered(24, 15, s, 6.5, 18, 1.6, shape.Sag(8, 4, 2, 0.05)), func(x, y float64) float64 { return s*y + shape.Sag(8, 4, 2, 0.05)(x, y) }, 16*11 + 2},
	} {
		for _, p := range positions(c.r) {
			if want := c.h(p.Plan[0], p.Plan[1]); !(math.Abs(p.Z-want) <= 1e-9) {
				t.Errorf("%s: %g m at %v, want %g", c.r.Name, p.Z, p.Plan, want)
			}
		}
		if len(c.r.Spots) != c.spots {
			t.Errorf("%s: %d spots, want %d", c.r.Name, len(c.r.Spots), c.spots)
		}
		if c.r.Frame.Metres != 1 || c.r.Units != quantity.Metres {
			t.Errorf("%s: %g metres to the unit, %v", c.r.Name, c.r.Frame.Metres, c.r.Units)
		}
	}
	ends := map[orb.Point]bool{}
	r := shape.Pyramid(24, 15, s, 0.3)
	for i := range r.Breaklines {
		ends[r.Breaklines[i].Line[1].Plan] = true
	}
	for _, want := range []orb.Point{{-7.5, -7.5}, {7.5, -7.5}, {7.5, 7.5}, {-7.5, 7.5}} {
		if !ends[want] {
			t.Errorf("no valley of the pyramid runs to %v", want)
		}
	}
}

// A bay of 4 by 4 m about (8, 4) that hangs by 50 mm: in full in its middle, by 3/4 a metre off it either way, 9/16 off it both ways, and not at all at its border.
func TestSag(t *testing.T) {
	h := shape.Sag(8, 4, 2, 0.05)
	for p, want := range map[orb.Point]float64{{8, 4}: -0.05, {9, 4}: -0.0375, {7, 4}: -0.0375, {8, 5}: -0.0375, {8, 3}: -0.0375, {9, 5}: -0.028125, {10, 4}: 0, {8, 6}: 0, {11, 4}: 0, {8, 1}: 0, {12, 9}: 0} {
		if got := h(p[0], p[1]); !(math.Abs(got-want) <= 1e-15) {
			t.Errorf("%g m at %v, want %g", got, p, want)
		}
	}
}

// A survey in feet has elevations in whole hundredths of a foot, each the nearest.
func TestReadInFeet(t *testing.T) {
	r := shape.Plane(24, 15, 0.0213, 7)
	was := slices.Clone(r.Spots)
	shape.ReadInFeet(r)
	for i := range r.Spots {
		hundredths := r.Spots[i].Z / 0.003048
		if !(math.Abs(hundredths-math.Round(hundredths)) <= 1e-9) || !(math.Abs(r.Spots[i].Z-was[i].Z) <= 0.001524+1e-12) {
			t.Errorf("%g m is read as %g hundredths of a foot", was[i].Z, hundredths)
		}
	}
	if r.Units != quantity.Feet {
		t.Errorf("units %v", r.Units)
	}
}

// A grid from (1, 10) to (5, 13) in 4 by 2 steps has spots at 1, 2, 3, 4 and 5 by 10, 11.5 and 13.
func TestGrid(t *testing.T) {
	r := shape.New("grid", shape.Bare(0, 0))
	shape.Grid(r, 1, 10, 5, 13, 4, 2, func(x, y float64) float64 { return 100*x + y })
	k := 0
	for _, y := range []float64{10, 11.5, 13} {
		for _, x := range []float64{1, 2, 3, 4, 5} {
			s := &r.Spots[k]
			if k++; s.Plan != (orb.Point{x, y}) || s.Z != 100*x+y || s.Origin.Line != k {
				t.Errorf("spot %d: %+v", k, s.Position)
			}
		}
	}
	if len(r.Spots) != k {
		t.Errorf("%d spots, want %d", len(r.Spots), k)
	}
}

// Things are numbered by their kind: the second curb is C2, feature 202 of its file.
func TestFeaturesAreNumbered(t *testing.T) {
	r := shape.New("many", shape.Bare(0, 0), shape.Bare(9, 0), shape.Bare(9, 9))
	for range 2 {
		shape.Breakline(r, roof.Valley, shape.Bare(1, 1), shape.Bare(2, 2))
		shape.Curb(r, shape.Bare(1, 1), shape.Bare(2, 1), shape.Bare(2, 2))
		shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(9, 0))
		shape.Drain(r, 5, 5, 0.3)
	}
	for name, f := range map[string]roof.Feature{"B2": r.Breaklines[1].Feature, "C2": r.Curbs[1].Feature, "G2": r.Edges[1].Feature, "O2": r.Outlets[1].Feature} {
		want := map[string]int{"B2": 102, "C2": 202, "G2": 302, "O2": 402}[name]
		if f.ID != name || f.Origin.ID != name || f.Origin.Feature != want || f.Origin.File != "many" {
			t.Errorf("%s: %+v, want feature %d", name, f, want)
		}
	}
	if ring := r.Curbs[0].Ring; len(ring) != 4 || ring[3] != ring[0] {
		t.Errorf("a curb's ring %v is not closed", ring)
	}
}

// Raised by 2 m every elevation stands 2 m higher, and what has none still has none; every place in plan is called once for all that holds it.
func TestRaiseAndPlaces(t *testing.T) {
	for seed := range uint64(10) {
		r, was := shape.Random(seed, 80), shape.Random(seed, 80)
		shape.Raise(r, 2)
		before := positions(was)
		for i, p := range positions(r) {
			if !(math.Abs(p.Z-before[i].Z-2) <= 1e-12) {
				t.Errorf("seed %d: %g m was %g", seed, p.Z, before[i].Z)
			}
		}
		for i := range r.Curbs {
			for k, p := range r.Curbs[i].Ring {
				if p != was.Curbs[i].Ring[k] {
					t.Errorf("seed %d: a corner without an elevation is raised: %+v", seed, p)
				}
			}
		}
		for i := range r.Outlets {
			if o := &r.Outlets[i]; o.HasInvert && !(math.Abs(o.Invert-was.Outlets[i].Invert-2) <= 1e-12) {
				t.Errorf("seed %d: an invert of %g was %g", seed, o.Invert, was.Outlets[i].Invert)
			}
		}
		shape.Places(r, func(p *orb.Point) { *p = orb.Point{p[0] + 5, p[1] - 3} })
		moved := func(p, q orb.Point) bool { return math.Hypot(p[0]-q[0]-5, p[1]-q[1]+3) <= 1e-12 }
		for i, p := range positions(r) {
			if !moved(p.Plan, before[i].Plan) {
				t.Errorf("seed %d: %v was %v", seed, p.Plan, before[i].Plan)
			}
		}
		for i := range r.Outlets {
			if !moved(r.Outlets[i].Plan, was.Outlets[i].Plan) {
				t.Errorf("seed %d: an outlet is not moved", seed)
			}
		}
	}
}
