package ponding

import (
	"math"
	"testing"

	"runnel/analysis/surface"
)

// dish is a cone of 24 facets, its bottom at vertex 0, radius 3 and 0.1 deep, inside a level ring of twice
// the radius.
func dish() *surface.TIN {
	const n, depth = 24, 0.1
	points := [][3]float64{{0, 0, -depth}}
	for _, r := range []float64{3, 6} {
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / n)
			points = append(points, [3]float64{r * c, r * s, 0})
		}
	}
	var facets [][3]int32
	for i := range int32(n) {
		a, b := 1+i, 1+(i+1)%n
		c, d := a+n, b+n
		facets = append(facets, [3]int32{0, a, b}, [3]int32{a, c, d}, [3]int32{a, d, b})
	}
	return tinOf(points, facets)
}

// polygonArea is the plan area of a regular n-gon in a circle, by trigonometry.
func polygonArea(n int, radius float64) float64 {
	return float64(n) / 2 * radius * radius * math.Sin(2*math.Pi/float64(n))
}

func TestConeDish(t *testing.T) {
	// A pyramid holds a third of base times height (Euclid, Elements, XII.7), as the cone does.
	tin := dish()
	ps := find(t, tin, openBorder(tin))
	if len(ps.Ponds) != 1 {
		t.Fatalf("%d ponds, want 1", len(ps.Ponds))
	}
	p := ps.Ponds[0]
	if want := polygonArea(24, 3); !about(p.Area, want) || !about(p.Volume, want*0.1/3) {
		t.Errorf("area %v volume %v, want %v and %v", p.Area, p.Volume, want, want*0.1/3)
	}
	if p.Level != 0 || p.Depth != 0.1 || p.Lip != 1 || p.HeldBy != -1 || p.ToOutlet != 0 || p.ToPond != -1 || p.Undrained {
		t.Errorf("pond %+v", p)
	}
	if len(p.Facets) != 24 || p.Pits[0] != 0 || ps.OfPit[0] != 0 || ps.Of[0] != 0 || ps.Of[1] != -1 || ps.Level[0] != 0 {
		t.Errorf("facets %d pits %v of %v level %v", len(p.Facets), p.Pits, ps.Of[:2], ps.Level[:2])
	}
}

func TestDrainSetHighInDish(t *testing.T) {
	// The drain at the bottom stands 40 mm above it: the cone fills to the invert, (40/100)^3 of the whole.
	tin := dish()
	o := drain(tin, -0.06, 0, 3, 6)
	ps := find(t, tin, o)
	if len(ps.Ponds) != 1 {
		t.Fatalf("%d ponds, want 1", len(ps.Ponds))
	}
	p := ps.Ponds[0]
	full := polygonArea(24, 3)
	if !about(p.Area, full*0.16) || !about(p.Volume, full*0.1/3*0.064) {
		t.Errorf("area %v volume %v, want %v and %v", p.Area, p.Volume, full*0.16, full*0.1/3*0.064)
	}
	if p.Level != -0.06 || p.HeldBy != 0 || p.Lip != -1 || p.ToOutlet != 0 || p.Undrained {
		t.Errorf("pond %+v", p)
	}
}

func TestDrainAtBottomLeavesNothing(t *testing.T) {
	tin := dish()
	for _, invert := range []float64{-0.1, -0.2} {
		if ps := find(t, tin, drain(tin, invert, 0, 3, 6)); len(ps.Ponds) != 0 || ps.OfPit[0] != -1 {
			t.Errorf("invert %v: %d ponds", invert, len(ps.Ponds))
		}
	}
}

func TestUndrainedFillsToHighestVertex(t *testing.T) {
	tin := dish()
	tin.Z[30] = 0.5
	ps := find(t, tin)
	if len(ps.Ponds) != 1 {
		t.Fatalf("%d ponds, want 1", len(ps.Ponds))
	}
	p := ps.Ponds[0]
	if p.Level != 0.5 || !p.Undrained || p.Lip != -1 || p.HeldBy != -1 || p.ToPond != -1 || p.ToOutlet != -1 {
		t.Errorf("pond %+v", p)
	}
	if want := polygonArea(24, 6); !about(p.Area, want) {
		t.Errorf("area %v, want %v", p.Area, want)
	}
}

func TestLevelRegionWithoutWayOut(t *testing.T) {
	ps := find(t, grid(4, 3, 1, rising, func(int, int) float64 { return 2 }))
	if len(ps.Ponds) != 1 || !ps.Ponds[0].Undrained || ps.Ponds[0].Depth != 0 || ps.Ponds[0].Volume != 0 || ps.OfPit[0] != 0 {
		t.Errorf("ponds %+v", ps.Ponds)
	}
}

func TestTwoPitsMerge(t *testing.T) {
	// A trough of unit cells along x: profile 3 0 1 -1 3 across which nothing varies, closed by walls at
	// its ends and sides, with a way out at elevation 2 at one corner of the right end. Left pit and right
	// pit merge at 1. By hand, per unit width: below 2, area between the crossings of the profile.
	profile := []float64{2, 0, 1, -1, 3}
	tin := grid(5, 2, 1, rising, func(i, _ int) float64 { return profile[i] })
	ps := find(t, tin, pointOutlet(tin, 0, 0, 5))
	if len(ps.Ponds) != 1 {
		t.Fatalf("%d ponds, want 1", len(ps.Ponds))
	}
	p := ps.Ponds[0]
	// segments: 2-0 full: depth mean 1; 0-1: 1.5; 1-(-1): 2; -1-3: wet 3/4 of the width, mean 1.5
	if want := 1 + 1.5 + 2 + 0.75*1.5; !about(p.Volume, want) || !about(p.Area, 3.75) {
		t.Errorf("volume %v area %v, want %v and 3.75", p.Volume, p.Area, want)
	}
	if len(p.Pits) != 2 || p.Pits[0] != 3 || p.Pits[1] != 1 || p.Level != 2 || p.Lip != 0 || p.ToOutlet != 0 {
		t.Errorf("pond %+v", p)
	}
	if len(ps.Tree) != 3 || ps.Tree[2].Base != 1 || ps.Tree[2].Level != 2 || ps.Tree[0].Level != 1 || ps.Tree[0].Lip != 2 {
		t.Errorf("tree %+v", ps.Tree)
	}
}

func TestCascade(t *testing.T) {
	// The left pond spills over 2 into the right one, which spills over 1 to the open end.
	profile := []float64{3, 0, 2, 0, 1, 0}
	tin := grid(6, 2, 1, falling, func(i, _ int) float64 { return profile[i] })
	ps := find(t, tin, edgeOutlet(tin, nil, []int32{5, 11}))
	if len(ps.Ponds) != 2 {
		t.Fatalf("%d ponds, want 2", len(ps.Ponds))
	}
	left, right := ps.Ponds[0], ps.Ponds[1]
	if left.Level != 2 || left.Lip != 2 || left.ToPond != 1 || left.ToOutlet != -1 {
		t.Errorf("left %+v", left)
	}
	if right.Level != 1 || right.Lip != 4 || right.ToPond != -1 || right.ToOutlet != 0 {
		t.Errorf("right %+v", right)
	}
	// by hand, per unit width: left 2/3*1 + 2; right 1/2*1/2 + 1/2
	if !about(left.Volume, 2.0/3+1) || !about(right.Volume, 0.25+0.5) {
		t.Errorf("volumes %v %v", left.Volume, right.Volume)
	}
}

func TestScupperAboveLowCorner(t *testing.T) {
	// A plane falling 1 in 50 along the diagonal of a walled square; the scupper at the low corner stands
	// 20 mm above it. The water is a triangle of legs 2 by 2, a tetrahedron: area 2, volume 2*0.02/3.
	tin := grid(11, 11, 1, rising, func(i, j int) float64 { return float64(i+j) / 100 })
	ps := find(t, tin, pointOutlet(tin, 0.02, 0))
	if len(ps.Ponds) != 1 {
		t.Fatalf("%d ponds, want 1", len(ps.Ponds))
	}
	p := ps.Ponds[0]
	if !about(p.Area, 2) || !about(p.Volume, 2*0.02/3) || p.HeldBy != 0 || p.Level != 0.02 || p.ToOutlet != 0 {
		t.Errorf("pond %+v", p)
	}
}

func TestGutterEdgeTakesAtEveryVertex(t *testing.T) {
	// A gutter that itself sags: water leaves over the whole of it, so nothing stands.
	sag := []float64{3, 1, 2, 0, 2}
	tin := grid(5, 4, 1, rising, func(i, j int) float64 { return sag[i] + float64(j) })
	ps := find(t, tin, edgeOutlet(tin, nil, []int32{0, 1, 2, 3, 4}))
	if len(ps.Ponds) != 0 {
		t.Errorf("ponds %+v", ps.Ponds)
	}
}
