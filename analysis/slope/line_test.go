package slope_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// gully surveys a valley along y = 0 whose elevations at every 3 m are given, planes rising 3 % square
// to it on both sides.
func gully(levels ...float64) *survey {
	s := &survey{}
	var line [][3]float64
	for i, z := range levels {
		line = append(line, [3]float64{3 * float64(i), 0, z})
	}
	s.breakline(roof.Valley, line...)
	for i, z := range levels {
		for _, y := range []float64{-6, -3, 3, 6} {
			s.spot(3*float64(i), y, z+0.03*math.Abs(y))
		}
	}
	return s
}

// named returns the lines that follow breaklines.
func named(lines []slope.Line) (out []slope.Line) {
	for _, l := range lines {
		if l.Named {
			out = append(out, l)
		}
	}
	return out
}

func TestValleyIsJudgedFromEndToEnd(t *testing.T) {
	cases := []struct {
		name           string
		levels         []float64
		drop, backFall float64
		below          bool
	}{
		{"falls steadily", []float64{0.18, 0.14, 0.10, 0.06, 0.02}, 0.16, 0, false},
		{"written from its low end", []float64{0.02, 0.06, 0.10, 0.14, 0.18}, 0.16, 0, false},
		{"a hump on the way", []float64{0.18, 0.10, 0.13, 0.06, 0.02}, 0.16, 0.03, false},
		{"two humps: the greater counts", []float64{0.18, 0.10, 0.11, 0.05, 0.075, 0.02}, 0.16, 0.025, false},
		{"a low on the way", []float64{0.18, 0.10, 0.02, 0.05, 0.08}, 0.10, 0.06, true},
		{"too flat", []float64{0.10, 0.09, 0.08, 0.07}, 0.03, 0, true},
		{"just steep enough", []float64{0.10, 0.0688, 0.0375, 0.00625}, 0.09375, 0, false}, // 9 m / 96
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := find(t, gully(c.levels...), standard.Criteria{MinValleySlope: 1.0 / 96})
			valleys := named(got.Valleys)
			if len(valleys) != 1 {
				t.Fatalf("%d valleys, want 1", len(valleys))
			}
			v := valleys[0]
			length := 3 * float64(len(c.levels)-1)
			near(t, "length", v.Length, length, 1e-9)
			near(t, "drop", v.Drop, c.drop, 1e-9)
			near(t, "slope", v.Slope, c.drop/length, 1e-9)
			near(t, "back fall", v.BackFall, c.backFall, 1e-9)
			if v.BelowMin != c.below {
				t.Errorf("below %v at %.3f %%", v.BelowMin, 100*v.Slope)
			}
			if v.Levels[0] < v.Levels[len(v.Levels)-1] || len(v.Plan) != len(v.Levels) || len(v.Vertices) != len(v.Plan) {
				t.Errorf("levels %v do not run down", v.Levels)
			}
			for i, p := range v.Plan {
				near(t, "on the breakline", p[1], 0, 0)
				near(t, "level", v.Levels[i], c.levels[int(math.Round(p[0]/3))], 1e-9)
			}
		})
	}
}

// A valley that falls to a drain from both ends is two valleys; so is one with a summit between two low ends.
func TestValleyIsPartedAtOutletsAndSummits(t *testing.T) {
	s := gully(0.16, 0.10, 0.04, 0.08, 0.12)
	s.outlets = []surface.Outlet{{Source: 0, Plan: orb.Point{6.3, 0.3}}}
	s.roof.Outlets = []roof.Outlet{{Bowl: 12 * quantity.Inch}}
	got := find(t, s, standard.Criteria{MinValleySlope: 1.0 / 96})
	valleys := named(got.Valleys)
	if len(valleys) != 2 {
		t.Fatalf("outlet: %d valleys, want 2", len(valleys))
	}
	for _, v := range valleys {
		near(t, "low end", v.Plan[len(v.Plan)-1][0], 6, 1e-9)
		near(t, "back fall", v.BackFall, 0, 0)
	}

	got = find(t, gully(0.02, 0.08, 0.14, 0.09, 0.04), standard.Criteria{})
	valleys = named(got.Valleys)
	if len(valleys) != 2 {
		t.Fatalf("summit: %d valleys, want 2", len(valleys))
	}
	for _, v := range valleys {
		near(t, "high end", v.Plan[0][0], 6, 1e-9)
		near(t, "length", v.Length, 6, 1e-9)
	}
}

func TestWhatABreaklineIs(t *testing.T) {
	// across the line y = 0: gradients to the south and to the north of it, rising north positive
	cases := []struct {
		name            string
		kind            roof.BreaklineType
		south, north    float64
		valleys, ridges int
	}{
		{"both sides fall to it", roof.GradeBreak, -0.03, 0.03, 1, 0},
		{"one side falls to it, the other runs along it", roof.GradeBreak, 0, 0.03, 1, 0},
		{"both sides fall away", roof.GradeBreak, 0.03, -0.03, 0, 1},
		{"one side falls away, the other runs along it", roof.GradeBreak, 0, -0.03, 0, 1},
		{"water crosses to steeper ground", roof.GradeBreak, 0.04, 0.02, 0, 0},
		{"water crosses to flatter ground", roof.GradeBreak, 0.02, 0.04, 0, 0},
		{"a cricket's valley", roof.Cricket, -0.03, 0.03, 1, 0},
		{"a cricket's ridge", roof.Cricket, 0.03, -0.03, 0, 1},
		{"a valley by name, level across", roof.Valley, 0.02, 0.02, 1, 0},
		{"a hip by name", roof.Hip, 0.03, -0.03, 0, 1},
		{"a ridge by name that is a valley", roof.Ridge, -0.03, 0.03, 0, 1},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			z := func(x, y float64) float64 {
				if y < 0 {
					return 0.01*x + c.south*y
				}
				return 0.01*x + c.north*y
			}
			s := &survey{}
			s.breakline(c.kind, [3]float64{0, 0, 0}, [3]float64{6, 0, 0.06}, [3]float64{12, 0, 0.12})
			for _, p := range lattice(12, 12, 3, nil) {
				s.spot(p[0], p[1]-6, z(p[0], p[1]-6))
			}
			got := find(t, s, standard.Criteria{})
			if len(got.Valleys) != c.valleys || len(got.Ridges) != c.ridges {
				t.Fatalf("%d valleys, %d ridges; want %d, %d", len(got.Valleys), len(got.Ridges), c.valleys, c.ridges)
			}
			for _, l := range append(got.Valleys, got.Ridges...) {
				near(t, "slope", l.Slope, 0.01, 1e-9)
				if l.Type != c.kind || !l.Named {
					t.Errorf("line %+v", l)
				}
				// it runs west, so north is on its right
				right := got.Planes[l.Right].Gradient[1]
				near(t, "gradient on the right", right, c.north, 1e-5)
			}
		})
	}
}

// Two breaklines that cross in a plan X are each one line from end to end, or two where they summit.
func TestCrossingValleysKeepTheirNames(t *testing.T) {
	s := &survey{}
	z := func(x, y float64) float64 { return 0.02 * math.Max(math.Abs(x), math.Abs(y)) }
	for _, d := range [][2]float64{{1, 1}, {-1, 1}} {
		var line [][3]float64
		for _, k := range []float64{-8, -4, 0, 4, 8} {
			line = append(line, [3]float64{k * d[0], k * d[1], z(k, k)})
		}
		s.breakline(roof.Valley, line...)
	}
	for _, p := range lattice(16, 16, 4, nil) {
		s.spot(p[0]-8, p[1]-8, z(p[0]-8, p[1]-8))
	}
	s.outlets = []surface.Outlet{{Source: -1, Plan: orb.Point{0, 0}}}
	got := find(t, s, standard.Criteria{MinValleySlope: 0.0142})
	if len(got.Planes) != 4 || len(got.Valleys) != 4 {
		t.Fatalf("%d planes, %d valleys; want 4 and 4", len(got.Planes), len(got.Valleys))
	}
	for i, v := range got.Valleys {
		near(t, "slope", v.Slope, 0.02/math.Sqrt2, 1e-6)
		if v.Breakline != i/2 {
			t.Errorf("valley %d follows breakline %d", i, v.Breakline)
		}
		near(t, "low end", math.Hypot(v.Plan[len(v.Plan)-1][0], v.Plan[len(v.Plan)-1][1]), 0, 0)
	}
}

// A tent on level ground: from its tip all sides fall away, and its foot, drawn as one closed
// breakline, gathers: four valleys, each from a high corner to a low one.
func TestClosedBreakline(t *testing.T) {
	s := &survey{}
	s.breakline(roof.Cricket, [3]float64{4, 0, 0.05}, [3]float64{0, 3, 0}, [3]float64{-4, 0, 0.05}, [3]float64{0, -3, 0}, [3]float64{4, 0, 0.05})
	s.spot(0, 0, 0.2)
	for _, p := range [][3]float64{{9, 0, 0.25}, {0, 8, 0.25}, {-9, 0, 0.25}, {0, -8, 0.25}} {
		s.spot(p[0], p[1], p[2])
	}
	got := find(t, s, standard.Criteria{})
	valleys := named(got.Valleys)
	if len(valleys) != 4 {
		t.Fatalf("%d valleys, want 4", len(valleys))
	}
	for _, v := range valleys {
		near(t, "length", v.Length, 5, 1e-9)
		near(t, "drop", v.Drop, 0.05, 1e-9)
	}
}

// Where nobody shot the valley it is found from the planes: with no spot on it, it is the straight line
// on which they meet, and its slope that of the two-plane formula.
func TestUnshotValley(t *testing.T) {
	for _, noise := range []float64{0, 0.002} {
		for seed := range uint64(6) {
			here := walked(40, 30, 2.5, noise, seed, func(x, y float64) float64 { return 0.02*math.Abs(y-15.4) + 0.008*x })
			off, s := 50*float64(seed%2), &survey{} // every other roof stands elsewhere on its grid
			for i := range here.x {
				s.spot(here.x[i]+off, here.y[i]+off, here.z[i])
			}
			got := find(t, s, standard.Criteria{MinValleySlope: 1.0 / 96})
			best := slope.Line{}
			for _, v := range got.Valleys {
				if v.Length > best.Length {
					best = v
				}
			}
			near(t, "length", best.Length, 40, 6)
			near(t, "slope", best.Slope, 0.008, 0.0003)
			if !best.Inferred || best.Named || !best.BelowMin || best.Breakline != -1 {
				t.Errorf("seed %d: %+v", seed, best)
			}
			for i, p := range best.Plan {
				near(t, "place", p[1]-off, 15.4, 0.15)
				near(t, "level", best.Levels[i], 0.008*(p[0]-off), 0.005)
				if along := p[0] - off; along < -0.1 || along > 40.1 {
					t.Errorf("the valley comes to x = %g, off the roof", along)
				}
			}
		}
	}
}

// Four falls to the middle, no breakline shot: four valleys of 2 % / sqrt(2), and nothing flatter where
// they come together.
func TestUnshotValleysOfFourFalls(t *testing.T) {
	for seed := range uint64(8) {
		s := walked(40, 30, 3, 0.001, seed, func(x, y float64) float64 { return 0.02 * math.Max(math.Abs(x-20), math.Abs(y-15)) })
		got := find(t, s, standard.Criteria{MinValleySlope: 1.0 / 96})
		long := 0
		for _, v := range got.Valleys {
			if v.Length > 10 {
				near(t, "slope", v.Slope, 0.02/math.Sqrt2, 0.0004)
				long++
			}
			if v.BelowMin && v.Length > 3 {
				t.Errorf("seed %d: a valley of %.1f m falls %.2f %%", seed, v.Length, 100*v.Slope)
			}
		}
		if long != 4 {
			t.Errorf("seed %d: %d long valleys, want 4", seed, long)
		}
	}
}

// A valley on which spots stand, but no breakline, goes through its spots.
func TestShotValleyWithoutBreakline(t *testing.T) {
	s := gully(0.015, 0.012, 0.0061, 0.0089, 0.003, 0)
	s.segments, s.roof = nil, roof.Roof{}
	// straighten the planes: beside the valley elevations fall steadily
	for v := range s.x {
		if s.y[v] != 0 {
			s.z[v] = 0.015 - 0.001*s.x[v] + 0.03*math.Abs(s.y[v])
			s.gz[v] = grid(s.z[v])
		}
	}
	got := find(t, s, standard.Criteria{})
	back := 0.0
	for _, v := range got.Valleys {
		back = math.Max(back, v.BackFall)
	}
	near(t, "back fall", back, 0.0028, 1e-9)
}

// A gentle dish has no valleys: its planes meet at creases too small to be folds of a roof.
func TestDishHasNoValleys(t *testing.T) {
	s := walked(30, 30, 2.5, 0, 1, func(x, y float64) float64 { return 0.0001 * ((x-15)*(x-15) + (y-15)*(y-15)) })
	if got := find(t, s, standard.Criteria{}); len(got.Valleys)+len(got.Ridges) > 0 {
		t.Errorf("%d valleys, %d ridges", len(got.Valleys), len(got.Ridges))
	}
}

// A narrow ridge 30 mm high laid on a plane of 2 % along its fall: both its sides are 0.5 m wide.
func TestRiseOfARidgeOnAPlane(t *testing.T) {
	s := &survey{}
	line := func(x, lift float64) (at [][3]float64) {
		for i := range 5 {
			y := 3 * float64(i)
			at = append(at, [3]float64{x, y, 0.02*y + lift})
		}
		return at
	}
	s.breakline(roof.GradeBreak, line(5.5, 0)...)
	s.breakline(roof.GradeBreak, line(6, 0.03)...)
	s.breakline(roof.GradeBreak, line(6.5, 0)...)
	for _, p := range lattice(12, 12, 3, nil) {
		if p[0] != 6 {
			s.spot(p[0], p[1], 0.02*p[1])
		}
	}
	got := find(t, s, standard.Criteria{})
	if len(got.Ridges) != 1 {
		t.Fatalf("%d ridges, want 1", len(got.Ridges))
	}
	r := got.Ridges[0]
	near(t, "slope", r.Slope, 0.02, 1e-9)
	if r.Breakline != 1 {
		t.Errorf("follows breakline %d", r.Breakline)
	}
}
