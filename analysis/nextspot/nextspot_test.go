package nextspot_test

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/blunder"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/nextspot"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// next returns the places to shoot next on a roof.
func next(t *testing.T, r *roof.Roof, most int) (*study.Study, []nextspot.Place) {
	t.Helper()
	s, err := study.Run(r, study.Options{NextSpots: most})
	if err != nil {
		t.Fatal(err)
	}
	return s, s.NextSpots
}

// dense is a plane of 20 x 12 m that falls at 2.5 % to a gutter, with spots 2 m apart; those within radius of (10, 6) were not shot.
func dense(radius float64) *roof.Roof {
	r := shape.New("dense", shape.At(0, 0, 0), shape.At(20, 0, 0), shape.At(20, 12, 0.3), shape.At(0, 12, 0.3))
	shape.Grid(r, 0, 0, 20, 12, 10, 6, func(_, y float64) float64 { return 0.025 * y })
	r.Spots = slices.DeleteFunc(r.Spots, func(s roof.Spot) bool { return math.Hypot(s.Plan[0]-10, s.Plan[1]-6) < radius })
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(20, 0))
	return r
}

// TestAGapIsShotInItsMiddle: a full grid has no gap; without the nine spots within 3 m of the middle the spots left stand 4 m and more from it,
// so the empty circle is about the middle; a spot shot there leaves none.
func TestAGapIsShotInItsMiddle(t *testing.T) {
	if _, places := next(t, dense(0), 8); len(places) != 0 {
		t.Errorf("full grid: %+v", places)
	}
	r := dense(3)
	_, places := next(t, r, 8)
	if len(places) == 0 {
		t.Fatal("no place in the gap")
	}
	for range 8 {
		_, places = next(t, r, 1)
		if len(places) == 0 {
			break
		}
		p := places[0]
		if d := math.Hypot(p.Plan[0]-10, p.Plan[1]-6); p.Kind != nextspot.Gap || d > 4 {
			t.Errorf("%+v, %g m from the gap's middle", p, d)
		}
		shape.Spot(r, p.Plan[0], p.Plan[1], 0.025*p.Plan[1])
	}
	if len(places) != 0 {
		t.Errorf("eight spots later: %+v", places)
	}
}

// TestHowWideAGapIs: 10 ft (3.048 m) is the widest spacing that shows ponds; a gap is an empty circle a tenth wider than that about a square of it, 2.37 m.
// By hand, squares of 3.3 m lie in circles of 2.33 m, those of 3.5 m in circles of 2.47 m.
func TestHowWideAGapIs(t *testing.T) {
	for step, gaps := range map[float64]bool{3.3: false, 3.5: true} {
		l, w := 6*step, 4*step
		r := shape.New("grid", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, w, 0.025*w), shape.At(0, w, 0.025*w))
		shape.Grid(r, 0, 0, l, w, 6, 4, func(_, y float64) float64 { return 0.025 * y })
		shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(l, 0))
		_, places := next(t, r, 8)
		if got := slices.ContainsFunc(places, func(p nextspot.Place) bool { return p.Kind == nextspot.Gap }); got != gaps {
			t.Errorf("spots %g m apart: %+v", step, places)
		}
	}
}

// TestPlaneInDoubtIsShotAtItsEnds: of two planes that meet in a ridge at y = 6 the northern one falls at 1/8 in per ft (1.04 %), which is the criterion
// as found; it is shot again at its highest and its lowest, and the steep one, which has the first corners, is not.
func TestPlaneInDoubtIsShotAtItsEnds(t *testing.T) {
	z := func(_, y float64) float64 {
		if y < 6 {
			return 0.04 * y
		}
		return 0.24 - (y-6)/96
	}
	r := shape.New("two", shape.At(0, 0, 0), shape.At(20, 0, 0), shape.At(20, 12, z(0, 12)), shape.At(0, 12, z(0, 12)))
	shape.Grid(r, 0, 0, 20, 12, 10, 6, z)
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(20, 0))
	shape.Edge(r, roof.Gutter, shape.Bare(20, 12), shape.Bare(0, 12))
	_, places := next(t, r, 8)
	for kind, y := range map[nextspot.Kind]float64{nextspot.PlaneLow: 12, nextspot.PlaneHigh: 6} {
		i := slices.IndexFunc(places, func(p nextspot.Place) bool { return p.Kind == kind })
		if i < 0 || !(math.Abs(places[i].Plan[1]-y) <= 1e-6) {
			t.Errorf("kind %d at y = %g: %+v", kind, y, places)
		}
	}
}

// TestOutletThatNobodyShot: a drain without an inlet level weighs its whole catchment, one with a level but without a spot at its rim half
// of it; one with both nothing. The pyramid's drain takes the whole roof, 12 x 12 m.
func TestOutletThatNobodyShot(t *testing.T) {
	pyramid := func(invert, rim bool) *roof.Roof {
		r := shape.Pyramid(12, 12, 0.03, 0.3)
		for _, d := range []float64{-4, -2, 2, 4} {
			for _, e := range []float64{-4.1, -2.1, 1.9, 3.9} {
				shape.Spot(r, d, e, 0.03*math.Max(math.Abs(d), math.Abs(e)))
			}
		}
		if !rim {
			r.Spots = slices.DeleteFunc(r.Spots, func(s roof.Spot) bool { return s.Plan == orb.Point{} })
		}
		r.Outlets[0].HasInvert = invert
		return r
	}
	for _, c := range []struct {
		invert, rim bool
		kind        nextspot.Kind
		weight      float64
	}{{false, true, nextspot.Inlet, 144}, {true, false, nextspot.Rim, 72}, {true, true, 0, 0}} {
		_, places := next(t, pyramid(c.invert, c.rim), 8)
		i := slices.IndexFunc(places, func(p nextspot.Place) bool { return p.Outlet == 0 })
		switch {
		case c.weight == 0 && i < 0:
		case c.weight == 0 || i < 0 || places[i].Kind != c.kind || !(math.Abs(places[i].Weight-c.weight) <= 1e-6) || places[i].Plan != orb.Point{}:
			t.Errorf("level %v, rim %v: %+v", c.invert, c.rim, places)
		}
	}
}

// TestShootAgain: a spot booked 0.3 m low is shot again: it and the pond that rests on it weigh the most.
func TestShootAgain(t *testing.T) {
	r := dense(0)
	i := slices.IndexFunc(r.Spots, func(s roof.Spot) bool { return s.Plan == orb.Point{10, 6} })
	r.Spots[i].Z -= 0.3
	s, places := next(t, r, 1)
	if len(places) != 1 || places[0].Kind != nextspot.Again || places[0].Plan != (orb.Point{10, 6}) || s.Odd[places[0].Odd].Spot != int32(i) {
		t.Errorf("%+v", places)
	}
}

// TestWalkingOrder: seven heights that do not fit stand in a row and are given in disorder: they are walked from one end to the other, which
// is 6 x 4 m.
func TestWalkingOrder(t *testing.T) {
	r := shape.New("long", shape.At(0, 0, 0), shape.At(40, 0, 0), shape.At(40, 12, 0.3), shape.At(0, 12, 0.3))
	shape.Grid(r, 0, 0, 40, 12, 20, 6, func(_, y float64) float64 { return 0.025 * y })
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(40, 0))
	s, _ := next(t, r, 0)
	in := nextspot.Input{Surface: s.Surface, Slopes: s.Slopes, Ponds: s.Ponds, Criteria: s.Criteria, Catchments: make([]float64, len(s.Surface.Outlets))}
	for _, x := range []float64{20, 8, 28, 12, 32, 16, 24} {
		for v := range s.Surface.TIN.X {
			if s.Surface.TIN.X[v] == x && s.Surface.TIN.Y[v] == 6 {
				in.Odd = append(in.Odd, blunder.Odd{Vertex: int32(v), Plan: orb.Point{x, 6}})
			}
		}
	}
	way := nextspot.Of(&in, 8)
	if len(way) != 7 || !(math.Abs(nextspot.Length(way)-24) <= 1e-9) || way[0].Plan[0] != 8 {
		t.Errorf("%d places, %g m: %+v", len(way), nextspot.Length(way), way)
	}
	if few := nextspot.Of(&in, 3); len(few) != 3 {
		t.Errorf("%d places, want 3", len(few))
	}
}
