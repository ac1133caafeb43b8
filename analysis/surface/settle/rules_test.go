package settle_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// square is a walled roof of 10 m with level spots at its corners and in four places inside.
func square() *roof.Roof {
	r := shape.New("square", shape.At(0, 0, 1), shape.At(10, 0, 1), shape.At(10, 10, 1), shape.At(0, 10, 1))
	for _, p := range [][2]float64{{3, 3}, {7, 3}, {7, 7}, {3, 7}} {
		shape.Spot(r, p[0], p[1], 1)
	}
	return r
}

// bare is square without elevations on the outline.
func bare() *roof.Roof {
	r := square()
	for i := range r.Outline.Rings[0] {
		r.Outline.Rings[0][i].HasZ = false
	}
	return r
}

func TestSamePlaceIsMerged(t *testing.T) {
	r := square()
	shape.Spot(r, 5, 5, 1.000)
	shape.Spot(r, 5.009, 5, 1.002)
	s := build(t, r)
	v := at(t, s.TIN, 5, 5)
	if has(s.TIN, 5.009, 5) || !near(s.TIN.Z[v], 1.001, 1e-9) {
		t.Errorf("elevation %g, want the mean 1.001 of one spot", s.TIN.Z[v])
	}
	if !says(s, "1 spot stands at the same place", "P6") {
		t.Errorf("warnings %q", s.Warnings)
	}
}

func TestMoreThanSamePlaceApartIsKept(t *testing.T) {
	r := square()
	shape.Spot(r, 5, 5, 1)
	shape.Spot(r, 5.011, 5, 1.5)
	s := build(t, r)
	if !has(s.TIN, 5, 5) || !has(s.TIN, 5.011, 5) {
		t.Error("spots 11 mm apart are two")
	}
}

func TestToleranceScalesThePlan(t *testing.T) {
	r := square()
	shape.Spot(r, 5, 5, 1)
	shape.Spot(r, 5.011, 5, 1)
	s, err := surface.Build(r, surface.Options{Tolerance: 2})
	if err != nil || has(s.TIN, 5.011, 5) {
		t.Errorf("with twice the tolerance spots 11 mm apart are one (%v)", err)
	}
}

// A check shot 4 mm off the first reading is what levels and total stations give. By hand: with the usual 5 mm each, three standard errors of the
// difference are 3 x 5 x 1.41421 = 21.2 mm, so that 21 mm are averaged too and 22 mm are not.
func TestCheckShotsAreAveraged(t *testing.T) {
	for dz, said := range map[float64]string{0.004: "4 mm", 0.021: "21 mm"} {
		r := square()
		shape.Spot(r, 5, 5, 1.000)
		shape.Spot(r, 5.005, 5, 1.000+dz)
		s := build(t, r)
		if v := at(t, s.TIN, 5, 5); !near(s.TIN.Z[v], 1+dz/2, 1e-9) || !says(s, "they differ by up to "+said, "P6") {
			t.Errorf("%g m apart: elevation %g, warnings %q", dz, s.TIN.Z[v], s.Warnings)
		}
	}
	r := square()
	shape.Spot(r, 5, 5, 1.000)
	shape.Spot(r, 5.005, 5, 1.022)
	refused(t, r)
}

func TestSamePlaceOtherElevationIsRefused(t *testing.T) {
	r := square()
	shape.Spot(r, 5, 5, 1.000)
	shape.Spot(r, 5.005, 5, 1.004)
	r.Spots[4].Sigma, r.Spots[5].Sigma = 0.0005, 0.0005
	p := refused(t, r)
	if len(p) != 1 || !strings.Contains(p[0].Rule, "P5") || !strings.Contains(p[0].Rule, "P6") ||
		!strings.Contains(p[0].Rule, "4.0 mm") || !strings.Contains(p[0].Mend, "--drop P") || !p[0].HasAt {
		t.Errorf("problems %v", p)
	}
}

// With sigma 2 mm each, 3 sigma of the difference is 8.5 mm.
func TestSigmaWidensTheRule(t *testing.T) {
	for dz, ok := range map[float64]bool{0.008: true, 0.009: false} {
		r := square()
		shape.Spot(r, 5, 5, 1.000)
		shape.Spot(r, 5.005, 5, 1.000+dz)
		r.Spots[4].Sigma, r.Spots[5].Sigma = 0.002, 0.002
		_, err := surface.Build(r, surface.Options{})
		if (err == nil) != ok {
			t.Errorf("difference %g: %v", dz, err)
		}
	}
}

func TestUpToTwentyProblemsAreCollected(t *testing.T) {
	r := square()
	for i := range 25 {
		x := 0.3 + 0.3*float64(i)
		shape.Spot(r, x, 5, 1)
		shape.Spot(r, x, 5, 2)
	}
	_, err := surface.Build(r, surface.Options{})
	if err == nil || !strings.Contains(err.Error(), "and 5 more") || len(refused(t, r)) != 20 {
		t.Errorf("got %v", err)
	}
}

func TestSpotsNearALineAreMovedOntoIt(t *testing.T) {
	r := square()
	shape.Spot(r, 5, 0.019, 1.5)  // inside, near the south wall
	shape.Spot(r, 10.019, 4, 1.5) // outside, near the east wall
	shape.Breakline(r, roof.Valley, shape.At(2, 5, 1), shape.At(8, 5, 1))
	shape.Spot(r, 4, 5.015, 0.8)
	s := build(t, r)
	for _, p := range [][3]float64{{5, 0, 1.5}, {10, 4, 1.5}, {4, 5, 0.8}} {
		if v := at(t, s.TIN, p[0], p[1]); s.TIN.Z[v] != p[2] {
			t.Errorf("elevation at (%g, %g) is %g", p[0], p[1], s.TIN.Z[v])
		}
	}
	if s.Area != 100 {
		t.Errorf("area %g, want 100: the outline must not move", s.Area)
	}
	if !says(s, "2 spots near the outline", "P5", "P6") || !says(s, "1 spot near a breakline", "P7") {
		t.Errorf("warnings %q", s.Warnings)
	}
}

func TestSpotsBeyondALineStay(t *testing.T) {
	r := square()
	shape.Spot(r, 5, 0.021, 1.5)
	if s := build(t, r); !has(s.TIN, 5, 0.021) {
		t.Error("a spot 21 mm from the wall was moved")
	}
}

func TestSpotsOutsideAreLeftOut(t *testing.T) {
	r := square()
	shape.Spot(r, 12, 5, 9)
	shape.Spot(r, 1e7, 5, 9)
	shape.Spot(r, 10.5, 5, 9)
	s := build(t, r)
	if len(s.TIN.X) != 8 || !says(s, "3 spots outside the outline", "P5, P6, P7") || says(s, " more") {
		t.Errorf("%d vertices, warnings %q", len(s.TIN.X), s.Warnings)
	}
}

// A file in feet read in metres leaves most of its spots outside.
func TestMostSpotsOutsideSayWhatToCheck(t *testing.T) {
	r := square()
	for k := range 5 {
		shape.Spot(r, 20+float64(k), 5, 9)
	}
	if s := build(t, r); !says(s, "5 spots outside the outline", "same frame, unit and order of coordinates") {
		t.Errorf("warnings %q", s.Warnings)
	}
	r.Spots = r.Spots[:len(r.Spots)-2]
	if s := build(t, r); says(s, "3 spots outside the outline", "same frame") {
		t.Errorf("few spots outside, yet warnings %q", s.Warnings)
	}
}

func TestAllSpotsOutsideIsRefused(t *testing.T) {
	r := square()
	for i := range r.Spots {
		r.Spots[i].Plan[0] += 100
	}
	if p := refused(t, r); !strings.Contains(p[0].Rule, "all spots lie outside") {
		t.Errorf("problems %v", p)
	}
}

func TestSpotsInCurbsAreLeftOut(t *testing.T) {
	r := square()
	shape.Curb(r, shape.Bare(4, 4), shape.Bare(6, 4), shape.Bare(6, 6), shape.Bare(4, 6))
	shape.Spot(r, 5, 5, 9)
	s := build(t, r)
	if has(s.TIN, 5, 5) || !says(s, "1 spot inside a curb", "P5") || s.Area != 96 {
		t.Errorf("area %g, warnings %q", s.Area, s.Warnings)
	}
}

func TestTooFewSpotsAreRefused(t *testing.T) {
	r := bare()
	r.Spots = r.Spots[:2]
	if p := refused(t, r); !strings.Contains(p[0].Rule, "fewer than three spots") {
		t.Errorf("problems %v", p)
	}
	r = bare()
	r.Spots = nil
	shape.Spot(r, 1, 1, 1)
	shape.Spot(r, 5, 5, 1)
	shape.Spot(r, 9, 9, 1)
	if p := refused(t, r); !strings.Contains(p[0].Rule, "one line") {
		t.Errorf("problems %v", p)
	}
}

func TestNumbersThatAreNotFiniteAreRefused(t *testing.T) {
	r := square()
	shape.Spot(r, 5, 5, math.NaN())
	shape.Spot(r, 6, 5, math.Inf(1))
	shape.Spot(r, math.NaN(), 5, 1)
	shape.Breakline(r, roof.Ridge, shape.At(1, 1, math.NaN()), shape.At(2, 2, 1))
	shape.Drain(r, math.Inf(-1), 1, 0.3)
	if p := refused(t, r); len(p) != 5 {
		t.Errorf("%d problems, want 5: %v", len(p), p)
	}
	r = square()
	r.Spots[1].HasZ = false
	if p := refused(t, r); !strings.Contains(p[0].Rule, "no elevation") {
		t.Errorf("problems %v", p)
	}
}

func TestCrossingBreaklines(t *testing.T) {
	for z, ok := range map[float64]bool{1.1: true, 1.102: true, 1.104: false} {
		r := square()
		shape.Breakline(r, roof.Valley, shape.At(2, 2, 1), shape.At(8, 8, 1.2)) // 1.1 in the middle
		shape.Breakline(r, roof.Ridge, shape.At(2, 8, z), shape.At(8, 2, z))
		r.Spots = r.Spots[:0]
		s, err := surface.Build(r, surface.Options{})
		if (err == nil) != ok {
			t.Fatalf("elevation %g: %v", z, err)
		}
		if !ok {
			if p := refused(t, r); !strings.Contains(p[0].Rule, "B1") || !strings.Contains(p[0].Rule, "B2") || !near(p[0].At[0], 5, 1e-9) {
				t.Errorf("problems %v", p)
			}
			continue
		}
		if v := at(t, s.TIN, 5, 5); !near(s.TIN.Z[v], (1.1+z)/2, 1e-9) {
			t.Errorf("elevation at the crossing %g, want the mean %g", s.TIN.Z[v], (1.1+z)/2)
		}
		if !says(s, "Breaklines cross at 1 place;") {
			t.Errorf("warnings %q", s.Warnings)
		}
	}
}

func TestBreaklinePointsWithoutElevation(t *testing.T) {
	r := square()
	shape.Spot(r, 2, 5, 1)
	shape.Spot(r, 8, 5, 1.6)
	// The first and last lie on spots; the third is a third of the way along.
	shape.Breakline(r, roof.Valley, shape.Bare(2, 5), shape.Bare(4, 5), shape.Bare(8, 5))
	s := build(t, r)
	if v := at(t, s.TIN, 4, 5); !near(s.TIN.Z[v], 1.2, 1e-9) {
		t.Errorf("elevation %g, want 1.2: a third of the way from 1.0 to 1.6", s.TIN.Z[v])
	}
	r = square()
	shape.Breakline(r, roof.Valley, shape.At(2, 5, 1), shape.Bare(4, 5), shape.Bare(8, 5))
	if p := refused(t, r); !strings.Contains(p[0].Rule, "has 1 of the two points with an elevation") {
		t.Errorf("problems %v", p)
	}
}

func TestBreaklineEndsOnTheOutline(t *testing.T) {
	slope := func() *roof.Roof { // the south wall rises from 0 to 1
		return shape.New("wall", shape.At(0, 0, 0), shape.At(10, 0, 1), shape.At(10, 10, 1), shape.At(0, 10, 0))
	}
	r := slope()
	shape.Spot(r, 4, 5, 0.4)
	shape.Breakline(r, roof.Valley, shape.Bare(4, 0.01), shape.At(4, 3, 0.2), shape.Bare(4, 5))
	s := build(t, r)
	if v := at(t, s.TIN, 4, 0); !near(s.TIN.Z[v], 0.4, 1e-9) || !s.TIN.Border(v) {
		t.Errorf("the end stands at %g, want the outline's 0.4", s.TIN.Z[v])
	}
	for z, ok := range map[float64]bool{0.402: true, 0.404: false} {
		r := slope()
		shape.Spot(r, 4, 5, 0.4)
		shape.Breakline(r, roof.Valley, shape.At(4, 0, z), shape.At(4, 3, 0.2))
		s, err := surface.Build(r, surface.Options{})
		if (err == nil) != ok {
			t.Fatalf("end at %g: %v", z, err)
		}
		if ok {
			if v := at(t, s.TIN, 4, 0); !near(s.TIN.Z[v], 0.4, 1e-9) {
				t.Errorf("the end stands at %g, want the outline's 0.4", s.TIN.Z[v])
			}
		}
	}
}

func TestBreaklineEndsOnAnother(t *testing.T) {
	r := square()
	shape.Breakline(r, roof.Valley, shape.At(2, 5, 1), shape.At(8, 5, 1.6))
	shape.Breakline(r, roof.Valley, shape.Bare(5, 5.015), shape.At(5, 6, 1.5), shape.At(5, 8, 1.7))
	s := build(t, r)
	if v := at(t, s.TIN, 5, 5); !near(s.TIN.Z[v], 1.3, 1e-9) {
		t.Errorf("the end stands at %g, want the line's 1.3", s.TIN.Z[v])
	}
	r = square()
	shape.Breakline(r, roof.Valley, shape.At(2, 5, 1), shape.At(8, 5, 1.6))
	shape.Breakline(r, roof.Valley, shape.At(5, 5, 1.4), shape.At(5, 8, 1.7))
	if p := refused(t, r); !strings.Contains(p[0].Rule, "B1") || !strings.Contains(p[0].Rule, "B2") {
		t.Errorf("problems %v", p)
	}
}

func TestOverlappingBreaklines(t *testing.T) {
	r := square()
	shape.Breakline(r, roof.Valley, shape.At(2, 5, 1), shape.At(6, 5, 1.4))
	shape.Breakline(r, roof.Ridge, shape.At(4, 5, 1.2), shape.At(8, 5, 1.6))
	s := build(t, r)
	for x, z := range map[float64]float64{2: 1, 4: 1.2, 6: 1.4, 8: 1.6} {
		if v := at(t, s.TIN, x, 5); !near(s.TIN.Z[v], z, 1e-9) {
			t.Errorf("elevation at %g is %g, want %g", x, s.TIN.Z[v], z)
		}
	}
}

func TestBreaklineAcrossTheOutline(t *testing.T) {
	r := square()
	shape.Breakline(r, roof.Valley, shape.At(5, 5, 0.8), shape.At(5, -5, 1.2))
	s := build(t, r)
	if v := at(t, s.TIN, 5, 0); s.TIN.Z[v] != 1 || s.Area != 100 {
		t.Errorf("elevation %g on the outline, area %g", s.TIN.Z[v], s.Area)
	}
}

// The plane z = 1 + 0.01x - 0.02y through the spots must come back at the corners, kept within the six nearest spots' range.
func TestOutlineWithoutElevationsIsAssumed(t *testing.T) {
	h := func(x, y float64) float64 { return 1 + 0.01*x - 0.02*y }
	r := shape.New("plane", shape.Bare(0, 0), shape.Bare(12, 0), shape.Bare(12, 12), shape.Bare(0, 12))
	shape.Grid(r, 1.5, 1.5, 10.5, 10.5, 3, 3, h)
	s := build(t, r)
	// Feet opposite the outer spots, 1.5 m from the walls: 4 on every side; the 4 corners; 16 spots.
	if len(s.TIN.X) != 36 {
		t.Fatalf("%d vertices, want 36", len(s.TIN.X))
	}
	for v := range s.TIN.X {
		wall := s.TIN.Border(int32(v))
		if s.TIN.Assumed[v] != wall {
			t.Errorf("vertex at (%g, %g): assumed %v", s.TIN.X[v], s.TIN.Y[v], s.TIN.Assumed[v])
		}
	}
	// The six spots nearest to the foot opposite (4.5, 1.5) span x 1.5 to 7.5 and y 1.5 to 4.5: 1 + 0.045 - 0 is above their
	// highest only if it exceeds h(7.5, 1.5) = 1.045; by hand it is h(4.5, 0) = 1.045.
	if v := at(t, s.TIN, 4.5, 0); !near(s.TIN.Z[v], 1.045, 1e-9) {
		t.Errorf("foot stands at %.6f, want 1.045", s.TIN.Z[v])
	}
	// The corner (0, 12) would be at 0.76; the lowest near spot is h(1.5, 10.5) = 0.805.
	if v := at(t, s.TIN, 0, 12); !near(s.TIN.Z[v], 0.805, 1e-9) {
		t.Errorf("corner stands at %.6f, want 0.805, the lowest near spot", s.TIN.Z[v])
	}
	if want := (144.0 - 81) / 144; !near(s.AssumedShare, want, 1e-9) {
		t.Errorf("assumed share %g, want %g: all but the square of spots", s.AssumedShare, want)
	}
	if !says(s, "outline corners have no elevation", "assumed") || !says(s, "16 points of the outline opposite spots") {
		t.Errorf("warnings %q", s.Warnings)
	}
}

// Two wings 1 m wide stand 0.5 m apart: the spots of one are within 2 m of the outer wall of the other, but behind two walls.
func TestSpotsBehindWallsGiveNoFeet(t *testing.T) {
	r := shape.New("wings", shape.Bare(0, 0), shape.Bare(2.5, 0), shape.Bare(2.5, 6), shape.Bare(1.5, 6),
		shape.Bare(1.5, 1), shape.Bare(1, 1), shape.Bare(1, 6), shape.Bare(0, 6))
	for i, y := range []float64{1.5, 3, 4.5} {
		shape.Spot(r, 0.5, y, 0.1)
		shape.Spot(r, 1.75, y+0.5, float64(i))
	}
	s := build(t, r)
	if has(s.TIN, 0, 2) || has(s.TIN, 0, 3.5) {
		t.Error("a spot gave a foot to the far wall of the other wing")
	}
	if !has(s.TIN, 0, 3) || !has(s.TIN, 1, 3) || !has(s.TIN, 1.5, 3.5) || !has(s.TIN, 2.5, 3.5) {
		t.Error("a spot gave no foot to a wall of its own wing")
	}
}

func TestSpotsOnBreaklinesGiveFeet(t *testing.T) {
	r := bare()
	shape.Spot(r, 1, 5, 1)
	shape.Breakline(r, roof.Valley, shape.Bare(1, 5), shape.Bare(3, 3))
	if s := build(t, r); !has(s.TIN, 0, 5) {
		t.Error("no foot opposite a spot on a breakline")
	}
}

// A curb 2 by 1 m between a roof at 1.00 m south of it and one at 1.10 m north of it, shot 0.1 m off both long faces every 0.5 m and nowhere
// on it. Each face has the elevation of its own side along its whole length, and so have points of it opposite the shots; a plane through the six
// nearest spots of both sides would put the faces between the two. The same as a hole of the outline.
// What a breakline hides tells nothing: a curb 0.1 m north of a valley that falls to 0.5 m takes the plane of its own side, z = 1 + 0.1 y, not
// that of the shots across the valley, which stand at 1.2 m and as near.
// Holes of the outline are curbs too.
// TestACurbInAValleyTakesTheValleysElevation: a four-way fall of 30 by 20 m and 0.3 m to its middle, the folds drawn, stands at
// 0.3 max(|x-15|/15, |y-10|/10). A curb without elevations that a fold runs into at one side and out of at the next is on
// that surface all round; where it comes out, at (5, 10/3), it is at 0.2, and not at the 0.21 of where it went in.
// TestACornerBetweenShotsOnItsEdgesIsAssumed: the outline has no elevations; the roof stands at 1 + 0.02 x + 0.02 y, but for the
// corner at the origin, where the spot next to it stands 0.1 m up. Two spots lie on the edges that meet there, 5 m off, at 1.1. The
// corner is on the plane of the spots near it, 1 mm of slope from the one beside it at most, and not between the two on its edges.
func TestACornerBetweenShotsOnItsEdgesIsAssumed(t *testing.T) {
	r := shape.New("corner", shape.Bare(0, 0), shape.Bare(10, 0), shape.Bare(10, 10), shape.Bare(0, 10))
	for _, p := range [][2]float64{{5, 0}, {0, 5}, {2.5, 1}, {3, 3}, {7, 3}, {7, 7}, {3, 7}} {
		shape.Spot(r, p[0], p[1], 1+0.02*(p[0]+p[1]))
	}
	shape.Spot(r, 0.05, 0.05, 1.2)
	s := build(t, r)
	v := at(t, s.TIN, 0, 0)
	if !near(s.TIN.Z[v], 1.2, 0.005) || !s.TIN.Assumed[v] {
		t.Errorf("the corner stands at %g, assumed %v; want 1.2 as the spot beside it", s.TIN.Z[v], s.TIN.Assumed[v])
	}
	if !has(s.TIN, 2.5, 0) {
		t.Error("no foot opposite the spot 1 m from the edge between the corner and the spot on it")
	}
}

func TestSelfCrossingOutlineIsRefused(t *testing.T) {
	r := square()
	ring := r.Outline.Rings[0]
	ring[1], ring[2] = ring[2], ring[1]
	p := refused(t, r)
	if !strings.Contains(p[0].Rule, "crosses itself") && !strings.Contains(p[0].Rule, "encloses no area") {
		t.Errorf("problems %v", p)
	}
	r = shape.New("bow", shape.At(0, 0, 1), shape.At(10, 0, 1), shape.At(10, 10, 1), shape.At(4, -2, 1), shape.At(0, 10, 1))
	shape.Spot(r, 1, 1, 1)
	shape.Spot(r, 2, 1, 1)
	shape.Spot(r, 1, 2, 1)
	if p := refused(t, r); !strings.Contains(p[0].Rule, "crosses itself") || !near(p[0].At[1], 0, 1e-4) {
		t.Errorf("problems %v", p)
	}
}

func TestEdgeOffTheOutlineIsRefused(t *testing.T) {
	r := square()
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(9, 0.5))
	if p := refused(t, r); !strings.Contains(p[0].Rule, "G1 does not lie on the outline") {
		t.Errorf("problems %v", p)
	}
	r = square()
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(10, 5)) // from wall to wall, across the roof
	if p := refused(t, r); !strings.Contains(p[0].Rule, "G1 leaves the outline") {
		t.Errorf("problems %v", p)
	}
	r = square()
	shape.Edge(r, roof.Gutter, shape.Bare(10, 2), shape.Bare(10, 7), shape.Bare(0, 7)) // 5 m along a wall, then across the roof
	if p := refused(t, r); !strings.Contains(p[0].Rule, "G1 leaves the outline") {
		t.Errorf("problems %v", p)
	}
	r = square()
	shape.Edge(r, roof.Gutter, shape.Bare(2, 10), shape.Bare(7, 10), shape.Bare(7, 0))
	if p := refused(t, r); !strings.Contains(p[0].Rule, "G1 leaves the outline") {
		t.Errorf("problems %v", p)
	}
	r = square()
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(6, 0))
	shape.Edge(r, roof.Free, shape.Bare(4, 0), shape.Bare(10, 0))
	if p := refused(t, r); !strings.Contains(p[0].Rule, "two types") {
		t.Errorf("problems %v", p)
	}
}

// A bent ridge of one elevation makes a level facet between its three points; turning the free edge removes it.
func TestLevelFacetsOfABreaklineAreTurned(t *testing.T) {
	r := shape.New("bend", shape.At(0, 0, 0), shape.At(10, 0, 0), shape.At(10, 10, 0), shape.At(0, 10, 0))
	shape.Breakline(r, roof.Ridge, shape.At(3, 6, 1), shape.At(5, 7, 1), shape.At(7, 6, 1))
	shape.Spot(r, 5, 1, 0.2)
	s := build(t, r)
	if !says(s, "1 level facet between points of one breakline") {
		t.Errorf("warnings %q", s.Warnings)
	}
	for f := range int32(s.TIN.Facets()) {
		if s.TIN.Level(f) {
			t.Errorf("facet %d is level", f)
		}
	}
	if s.Area != 100 {
		t.Errorf("area %g, want 100", s.Area)
	}
}

// Of four bent ridges side by side, each of one elevation, each makes such a facet, wherever in the mesh.
func TestLevelFacetsOfManyBreaklinesAreTurned(t *testing.T) {
	r := shape.New("bends", shape.At(0, 0, 0), shape.At(40, 0, 0), shape.At(40, 10, 0), shape.At(0, 10, 0))
	for k := range 4 {
		x, z := 10*float64(k), 1+0.1*float64(k)
		shape.Breakline(r, roof.Ridge, shape.At(x+3, 6, z), shape.At(x+5, 7, z), shape.At(x+7, 6, z))
		shape.Spot(r, x+5, 1, 0.2)
	}
	s := build(t, r)
	if !says(s, "4 level facets between points of one breakline") {
		t.Errorf("warnings %q", s.Warnings)
	}
	for f := range int32(s.TIN.Facets()) {
		if s.TIN.Level(f) && s.TIN.Z[s.TIN.V[3*f]] >= 1 {
			t.Errorf("facet %d is level", f)
		}
	}
}

// One rod misread by 1 ft in the middle of spots 2 m apart; a sump of 100 mm beside it is none.
func TestSpotsThatStandOffAllOthersAreSaid(t *testing.T) {
	r := square()
	for x := 2.0; x < 10; x += 2 {
		for y := 2.0; y < 10; y += 2 {
			z := 1.0
			switch {
			case x == 4 && y == 4:
				z += 0.3048 * 1.2
			case x == 8 && y == 4:
				z -= 0.3048 * 1.2
			case x == 6 && y == 8:
				z -= 0.1
			}
			shape.Spot(r, x, y, z)
		}
	}
	if s := build(t, r); !says(s, "2 spots stand far above or far below", "elevations: P") {
		t.Errorf("warnings %q", s.Warnings)
	}
	for i := range r.Spots {
		if p := r.Spots[i].Plan; p[1] == 4 {
			r.Spots[i].Z = 1
		}
	}
	if s := build(t, r); says(s, "far above or far below") {
		t.Errorf("warnings %q", s.Warnings)
	}
}

func TestMergedOutlineCornersAreSaid(t *testing.T) {
	corners := []roof.Position{shape.At(0, 0, 1), shape.At(0.004, 0, 1), shape.At(10, 0, 1), shape.At(10, 0, 1), shape.At(10, 10, 1), shape.At(10, 10.009, 1), shape.At(0, 10, 1)}
	r := shape.New("square", corners...)
	for _, p := range [][2]float64{{3, 3}, {7, 3}, {7, 7}} {
		shape.Spot(r, p[0], p[1], 1)
	}
	s := build(t, r)
	if s.Area != 100 || !says(s, "2 outline corners at the same place") {
		t.Errorf("area %g, warnings %q; want 100 and the corners 4 mm and 9 mm off others", s.Area, s.Warnings)
	}
}

// Every spot within 2 m of an edge without elevations gives it a foot, unless the next foot is nearer than an eighth of the spot's distance. By hand:
// five spots 1 m off the south wall, 0.3 m apart (an eighth of 1 m is 0.125), give five; 0.1 m apart every other one, three.
func TestFeetOfSpotsThatStandClose(t *testing.T) {
	for _, c := range []struct {
		apart float64
		feet  int
	}{{0.3, 5}, {0.1, 3}} {
		r := shape.New("close", shape.Bare(0, 0), shape.Bare(12, 0), shape.Bare(12, 12), shape.Bare(0, 12))
		for i := range 5 {
			shape.Spot(r, 5+c.apart*float64(i), 1, 0.01*float64(i))
		}
		shape.Spot(r, 6, 6, 0.1)
		s, feet := build(t, r), 0
		for v := range s.TIN.X {
			if s.TIN.Y[v] == 0 && s.TIN.X[v] > 0.1 && s.TIN.X[v] < 11.9 {
				feet++
			}
		}
		if feet != c.feet {
			t.Errorf("spots %g m apart give %d feet, want %d", c.apart, feet, c.feet)
		}
	}
}

// Pads, 150 mm high, whose corners somebody shot with a code of his own, on a roof of 2 %: by hand the four corners of three stand 150 mm over the plane of the other spots and are left
// out in one sentence. A ridge with a code of its own, 60 mm over the plane 3 m off, falls 2 %: it is roof. What is kept by name is roof too.
func TestSpotsOfUnknownCodesOnThings(t *testing.T) {
	pads := func(code string, high float64) *roof.Roof {
		r := shape.Plane(30, 18, 0.02, 10)
		for _, p := range [][2]float64{{4, 4}, {13, 7}, {22, 11}} {
			for _, c := range [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
				x, y := p[0]+c[0]+0.3, p[1]+c[1]+0.2
				shape.Spot(r, x, y, 0.02*y+high)
				r.Spots[len(r.Spots)-1].Code = code
			}
		}
		return r
	}
	s := build(t, pads("PAD", 0.15))
	if has(s.TIN, 4.3, 4.2) || !says(s, "PAD 12 (150 mm to 150 mm)") {
		t.Errorf("pads are taken as roof: %q", s.Warnings)
	}
	for _, r := range []*roof.Roof{pads("", 0.15), pads("RDG", 0.06), pads("LOW", -0.15)} {
		if s := build(t, r); !has(s.TIN, 4.3, 4.2) || says(s, "stand on things") {
			t.Errorf("left out: %q", s.Warnings)
		}
	}
	few := pads("PAD", 0.15) // three make a code known, two do not
	for _, n := range []int{3, 2} {
		out := n == 3
		left := n
		for i := range few.Spots {
			if s := &few.Spots[i]; s.Code != "" {
				if left--; left < 0 {
					s.Code, s.Z = "", 0.02*s.Plan[1]
				}
			}
		}
		if s := build(t, few); has(s.TIN, 4.3, 4.2) == out {
			t.Errorf("%d spots of a code are left out: %v", n, !out)
		}
	}
	r := pads("PAD", 0.15)
	for k, others := 12, len(r.Spots)-12; 4*k <= others+k; k++ { // more than a quarter of all spots
		shape.Spot(r, 1.1+0.4*float64(k), 16.9, 0.02*16.9+0.15)
		r.Spots[len(r.Spots)-1].Code = "PAD"
	}
	if s := build(t, r); !has(s.TIN, 4.3, 4.2) || says(s, "stand on things") {
		t.Errorf("more than a quarter is left out: %q", s.Warnings)
	}
	r = pads("PAD", 0.15)
	for i := range r.Spots {
		if r.Spots[i].Code != "" {
			r.Kept = append(r.Kept, r.Spots[i].ID)
		}
	}
	if s := build(t, r); !has(s.TIN, 4.3, 4.2) {
		t.Error("what the user keeps is left out")
	}
}

// A curb drawn 15 mm off the outline stands on it: within 20 mm. By hand 2 by 2 m are off the roof, and no strip is left between; one 30 mm off leaves a strip of 2 m by that. However the roof lies.
// Spots in every corner of three large curbs are left out, those beside each corner stay.

// A coded edge may leave the outline by 2 cm on both sides of each of its points: by hand 16 cm with four, so it may cut a corner by 10 cm, 14 cm long, and not by 15, 21 cm long.
func TestAnEdgeMayCutACornerByALittle(t *testing.T) {
	for by, taken := range map[float64]bool{0.1: true, 0.15: false} {
		r := square()
		shape.Edge(r, roof.Gutter, shape.Bare(5, 0), shape.Bare(10-by, 0), shape.Bare(10, by), shape.Bare(10, 5))
		if taken {
			build(t, r)
			continue
		}
		if p := refused(t, r); !strings.Contains(p[0].Rule, "G1 leaves the outline") {
			t.Errorf("by %g m: %v", by, p)
		}
	}
}

// A spot inside a curb says nothing of the roof, also where a ridge is drawn to it: the ridge's point keeps its own elevation, and takes the spot's only where it has none.
func TestRidgeToASpotInACurb(t *testing.T) {
	of := func(end roof.Position, spot ...float64) *surface.Surface {
		r := square()
		shape.Curb(r, shape.Bare(4, 4), shape.Bare(6, 4), shape.Bare(6, 6), shape.Bare(4, 6))
		shape.Breakline(r, roof.Ridge, shape.At(1, 5, 0.5), end)
		for _, z := range spot {
			shape.Spot(r, 5, 5, z)
		}
		return build(t, r)
	}
	want := of(shape.At(5, 5, 0.9))
	for name, got := range map[string]*surface.Surface{"another elevation": of(shape.At(5, 5, 0.9), 3), "the spot's": of(shape.Bare(5, 5), 0.9)} {
		if !slices.Equal(got.TIN.X, want.TIN.X) || !slices.Equal(got.TIN.Z, want.TIN.Z) {
			t.Errorf("%s: %v, want %v", name, got.TIN.Z, want.TIN.Z)
		}
	}
}
