package setout

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/slope"
	"runnel/export/record"
	"runnel/export/sample"
)

// A pond like an L with arms of 10 m by 1 m, deepest at (9.5, 0.5). By hand: its edge is met at (9.5, 1) to the north, at (10, 0.5) to the
// east, at (0, 0.5) to the west; from there the other arm cannot be seen, and its end at y = 10 is the farthest north.
func TestRimOfAPondWithAnArm(t *testing.T) {
	outline := orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 1}, {1, 1}, {1, 10}, {0, 10}, {0, 0}}}}
	var g gatherer
	g.rim(outline, orb.Point{9.5, 0.5}, Point{Kind: Rim, What: "P01, "})
	for what, want := range map[string]orb.Point{
		"P01, to the north": {9.5, 1}, "P01, to the east": {10, 0.5}, "P01, to the west": {0, 0.5}, "P01, to the south-east": {10, 0},
		"P01, farthest north": {1, 10},
	} {
		i := slices.IndexFunc(g.points, func(p Point) bool { return p.What == what })
		if i < 0 || vector.Distance(g.points[i].Plan, want) > 1e-9 {
			t.Errorf("%s is not at %v: %+v", what, want, g.points)
		}
	}
	if len(g.points) != 9 {
		t.Errorf("%d places, want eight directions and one arm", len(g.points))
	}
}

// By hand: from (0, 0) to the north-east the stretch from (2, 0) to (0, 2) is met at (1, 1), sqrt(2) away; a stretch along the ray is none.
func TestMeet(t *testing.T) {
	d := orb.Point{half, half}
	if at, ok := meet(orb.Point{0, 0}, d, orb.Point{2, 0}, orb.Point{0, 2}); !ok || !(math.Abs(at-math.Sqrt2) <= 1e-12) {
		t.Errorf("met at %v, %v", at, ok)
	}
	if _, ok := meet(orb.Point{0, 0}, d, orb.Point{1, 1}, orb.Point{2, 2}); ok {
		t.Error("a stretch along the ray is met")
	}
	if _, ok := meet(orb.Point{0, 0}, d, orb.Point{2, 0}, orb.Point{3, 2}); ok {
		t.Error("a stretch beside the ray is met")
	}
}

// The ends of a valley of three points are its first and its last, whatever lies between.
func TestEndsOfAValley(t *testing.T) {
	g := gatherer{b: record.NewBook(sample.Study(sample.Local()), "", record.SI)}
	g.ends(&slope.Line{Plan: []orb.Point{{1, 1}, {2, 1}, {3, 2}}, Levels: []float64{10.3, 10.2, 10.1}}, ValleyEnd, "valley-9")
	if len(g.points) != 2 || g.points[0].Plan != (orb.Point{1, 1}) || g.points[0].Surface != 10.3 || g.points[1].Plan != (orb.Point{3, 2}) || g.points[1].Surface != 10.1 {
		t.Errorf("%+v", g.points)
	}
}
