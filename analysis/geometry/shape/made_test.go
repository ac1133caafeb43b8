package shape_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// whole reports whether a length is one of whole millimetres.
func whole(v float64) bool { return math.Abs(v*1000-math.Round(v*1000)) <= 1e-6 }

// near reports whether a place lies on a line to half a millimetre, to which it is rounded.
func near(line []orb.Point, p orb.Point) bool {
	return planar.DistanceFrom(orb.LineString(line), p) <= 0.71e-3
}

// What the description of a random roof says holds for 150 of them: outlines are rectangles, Ls and Us; spots stand inside, at whole millimetres and 50 mm apart; curbs are rectangles inside that do not
// overlap; drains stand clear of curbs, scuppers on the outline; edges run along one side, all of it or its middle half.
func TestRandomIsAsItSays(t *testing.T) {
	kinds := map[string]int{}
	for seed := range uint64(150) {
		r := shape.Random(seed, 60+int(seed))
		ring := roof.PlanOf(r.Outline.Rings[0])
		if ring.Orientation() != orb.CCW {
			t.Fatalf("seed %d: clockwise", seed)
		}
		if n, ok := map[int]string{5: "rectangle", 7: "L", 9: "U"}[len(ring)]; ok {
			kinds[n]++
		} else {
			t.Errorf("seed %d: %d corners", seed, len(ring)-1)
		}
		for i := 1; i < len(ring); i++ {
			if a, b := ring[i-1], ring[i]; (a[0] == b[0]) == (a[1] == b[1]) {
				t.Errorf("seed %d: the side from %v to %v is askew", seed, a, b)
			}
		}
		checkSpots(t, seed, r, ring)
		checkThings(t, seed, r, ring, kinds)
		checkFolds(t, seed, r, ring, kinds)
	}
	for _, name := range []string{
		"rectangle", "L", "U", "at the south wall", "sharing", "whole side", "half side", "gutter", "free edge", "held high", "held low", "dammed", "side by side",
		"overflow scupper", "scupper with a level", "fold of one piece", "fold of more", "type 0", "type 1", "type 2", "type 3", "type 4",
	} {
		if kinds[name] < 4 {
			t.Errorf("%s: %d in 150 roofs", name, kinds[name])
		}
	}
}

func checkSpots(t *testing.T, seed uint64, r *roof.Roof, ring orb.Ring) {
	t.Helper()
	for i := range r.Spots {
		s := &r.Spots[i]
		if !planar.RingContains(ring, s.Plan) || !whole(s.Plan[0]) || !whole(s.Plan[1]) || !whole(s.Z) || !(math.Abs(s.Z) <= 5) {
			t.Errorf("seed %d: spot %s at %v, %g", seed, s.ID, s.Plan, s.Z)
		}
		for k := range i {
			if d := planar.Distance(s.Plan, r.Spots[k].Plan); d < 0.0499 {
				t.Errorf("seed %d: spots %g m apart", seed, d)
			}
		}
	}
	for _, c := range r.Outline.Rings[0] {
		if c.HasZ != r.Outline.Rings[0][0].HasZ || !whole(c.Z) {
			t.Errorf("seed %d: corner %+v", seed, c)
		}
	}
}

func checkThings(t *testing.T, seed uint64, r *roof.Roof, ring orb.Ring, kinds map[string]int) {
	t.Helper()
	boxes := make([]orb.Bound, len(r.Curbs))
	for i := range r.Curbs {
		c := r.Curbs[i].Ring
		boxes[i] = roof.PlanOf(c).Bound()
		if len(c) != 5 || !(math.Abs(planar.Area(roof.PlanOf(c))-planar.Area(boxes[i].ToRing())) <= 1e-9) {
			t.Errorf("seed %d: curb %v is no rectangle, or clockwise", seed, c)
		}
		for _, p := range c {
			if !planar.RingContains(ring, p.Plan) {
				t.Errorf("seed %d: a curb's corner at %v", seed, p.Plan)
			}
		}
		if boxes[i].Min[1] == 0 {
			kinds["at the south wall"]++
		}
		for k := range i {
			w, h := math.Min(boxes[i].Max[0], boxes[k].Max[0])-math.Max(boxes[i].Min[0], boxes[k].Min[0]), math.Min(boxes[i].Max[1], boxes[k].Max[1])-math.Max(boxes[i].Min[1], boxes[k].Min[1])
			if w > 1e-9 && h > 1e-9 {
				t.Errorf("seed %d: curbs overlap by %g x %g m", seed, w, h)
			}
			if boxes[i].Min == boxes[k].Max {
				kinds["sharing"]++
			}
		}
	}
	for i := range r.Outlets {
		o := &r.Outlets[i]
		switch {
		case o.Type == roof.Scupper:
			if !near(ring, o.Plan) || o.Width != 0.2 || o.HasInvert && !(math.Abs(o.Invert) <= 0.0251) {
				t.Errorf("seed %d: scupper at %v, %g", seed, o.Plan, o.Invert)
			}
			kinds["overflow scupper"] += one(o.Duty == roof.Overflow)
			kinds["scupper with a level"] += one(o.HasInvert)
			continue
		case o.HasInvert && o.Invert == -1:
			kinds["held low"]++
		case o.HasInvert:
			kinds["held high"]++
			if o.Invert < -0.0301 || o.Invert > 0.0701 {
				t.Errorf("seed %d: a drain's inlet at %g", seed, o.Invert)
			}
		case o.DamHeight > 0:
			kinds["dammed"]++
			if o.Duty != roof.Overflow || o.DamHeight != 0.05 {
				t.Errorf("seed %d: %+v", seed, o)
			}
		}
		if !planar.RingContains(ring, o.Plan) {
			t.Errorf("seed %d: a drain at %v", seed, o.Plan)
		}
		for _, b := range boxes {
			if b.Pad(0.0299).Contains(o.Plan) {
				t.Errorf("seed %d: the drain at %v touches a curb", seed, o.Plan)
			}
		}
		if i > 0 && math.Abs(o.Plan[0]-r.Outlets[i-1].Plan[0]-0.2) <= 1e-9 && o.Plan[1] == r.Outlets[i-1].Plan[1] {
			kinds["side by side"]++
		}
	}
	for i := range r.Edges {
		e := &r.Edges[i]
		a, b := e.Line[0].Plan, e.Line[1].Plan
		along := false
		for k := 1; k < len(ring); k++ {
			side := ring[k-1 : k+1]
			if l := planar.Distance(side[0], side[1]); near(side, a) && near(side, b) {
				part := planar.Distance(a, b) / l
				along = along || math.Abs(part-1) <= 2e-3/l || math.Abs(part-0.5) <= 2e-3/l
				kinds["whole side"] += one(part > 0.9)
				kinds["half side"] += one(part < 0.9)
			}
		}
		if !along || e.Type != roof.Gutter && e.Type != roof.Free {
			t.Errorf("seed %d: an edge of type %d from %v to %v", seed, e.Type, a, b)
		}
		kinds["gutter"] += one(e.Type == roof.Gutter)
		kinds["free edge"] += one(e.Type == roof.Free)
	}
}

func one(is bool) int {
	if is {
		return 1
	}
	return 0
}

// checkFolds holds breaklines to running from spot to spot, turning by less than a right angle, and keeping 0.1 m from the outline and each other, to a twentieth of a metre along them.
func checkFolds(t *testing.T, seed uint64, r *roof.Roof, ring orb.Ring, kinds map[string]int) {
	t.Helper()
	spots := map[orb.Point]bool{}
	for i := range r.Spots {
		spots[r.Spots[i].Plan] = true
	}
	var lines []orb.LineString
	for i := range r.Breaklines {
		line := orb.LineString(roof.PlanOf(r.Breaklines[i].Line))
		kinds["type "+string(rune('0'+r.Breaklines[i].Type))]++
		kinds["fold of one piece"] += one(len(line) == 2)
		kinds["fold of more"] += one(len(line) > 2)
		for k, p := range line {
			if !spots[p] {
				t.Errorf("seed %d: a breakline at %v, where no spot is", seed, p)
			}
			if k >= 2 {
				a, b := line[k-2], line[k-1]
				if (b[0]-a[0])*(p[0]-b[0])+(b[1]-a[1])*(p[1]-b[1]) <= 0 {
					t.Errorf("seed %d: a breakline turns back at %v", seed, b)
				}
			}
		}
		for k := 1; k < len(line); k++ {
			for n := range 101 {
				at := float64(n) / 100
				p := orb.Point{line[k-1][0] + at*(line[k][0]-line[k-1][0]), line[k-1][1] + at*(line[k][1]-line[k-1][1])}
				if !planar.RingContains(ring, p) || planar.DistanceFrom(orb.LineString(ring), p) < 0.09 {
					t.Fatalf("seed %d: a breakline at %v", seed, p)
				}
				for _, o := range lines {
					if planar.DistanceFrom(o, p) < 0.09 {
						t.Fatalf("seed %d: two breaklines at %v", seed, p)
					}
				}
			}
		}
		lines = append(lines, line)
	}
}
