package taper

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/taper/domain"
)

// TestWeldKeepsOneOfEachPlace: two corners that stand in one square of the search, but farther apart than what is merged, are two; each comes back as itself, whichever was first.
func TestWeldKeepsOneOfEachPlace(t *testing.T) {
	a, b := orb.Point{0.05 * join, 0.05 * join}, orb.Point{0.95 * join, 0.95 * join}
	far := domain.Polygon{{1, 0}, {1, 1}}
	w := weld([]cell{newCell(append(domain.Polygon{a}, far...), 0), newCell(append(domain.Polygon{b}, far...), 1), newCell(append(domain.Polygon{a}, far...), 2), newCell(append(domain.Polygon{b}, far...), 3)})
	if len(w.at) != 4 {
		t.Errorf("%d corners, want 4: %v", len(w.at), w.at)
	}
}

// TestMeshOfALayingHasNoCracks: the sides of the mesh that no other facet shares are the roof's border: as long as that, over random roofs.
func TestMeshOfALayingHasNoCracks(t *testing.T) {
	laid := 0
	for seed := range uint64(40) {
		s, err := surface.Build(shape.Random(seed, 60), surface.Options{})
		if err != nil {
			t.Fatal(err)
		}
		d, err := domain.New(s.TIN)
		if err != nil {
			t.Fatal(err)
		}
		l, err := Lay(&Problem{Domain: d, Base: Existing(s.TIN), Sources: Sources(s), Gauge: domain.FourWay(d.Axis)})
		if err != nil {
			continue // no outlet, or a part cut off
		}
		laid++
		border, around := 0.0, 0.0
		shared := map[[2]int32]bool{}
		side := func(do func(a, b int32)) {
			for i, v := range l.base.TIN.V {
				do(v, l.base.TIN.V[i/3*3+(i+1)%3])
			}
		}
		side(func(a, b int32) { shared[[2]int32{a, b}] = true })
		side(func(a, b int32) {
			if !shared[[2]int32{b, a}] {
				border += vector.Length(vector.Minus(l.at[a], l.at[b]))
			}
		})
		for i, v := range s.TIN.V {
			if s.TIN.Twin[i] < 0 {
				w := s.TIN.V[i/3*3+(i+1)%3]
				around += math.Hypot(s.TIN.X[v]-s.TIN.X[w], s.TIN.Y[v]-s.TIN.Y[w])
			}
		}
		if !(math.Abs(border-around) <= 0.01) {
			t.Errorf("seed %d: %g m of sides are not shared, the border is %g m", seed, border, around)
		}
	}
	if laid < 15 {
		t.Errorf("only %d layouts", laid)
	}
}

// By the words of roofers: a fold to which water runs from one side at least and from which it runs away to neither is a valley; one from which it runs away and to which it runs from neither a hip, where it is level along itself a ridge; one that it only crosses, or
// beside which all is level, a change of slope. However the fold lies.
func TestKindsOfFolds(t *testing.T) {
	for _, c := range []struct {
		left, right float64 // how the roof rises away from the fold
		slope       float64 // of the fold
		want        roof.BreaklineType
	}{
		{0.02, 0.02, 0.01, roof.Valley},
		{0.02, 0.02, 0, roof.Valley},
		{0.02, 0, 0.01, roof.Valley},
		{0, 0.02, 0.01, roof.Valley},
		{0.02, -0.01, 0.01, roof.GradeBreak},
		{-0.01, 0.02, 0.01, roof.GradeBreak},
		{0.02, -0.03, 0, roof.GradeBreak},
		{0, 0, 0.01, roof.GradeBreak},
		{-0.02, -0.02, 0.01, roof.Hip},
		{-0.02, 0, 0.01, roof.Hip},
		{0, -0.02, 0.01, roof.Hip},
		{-0.02, -0.02, 0, roof.Ridge},
		{0, -0.02, 0, roof.Ridge},
	} {
		for _, u := range []orb.Point{{1, 0}, {0, 1}, {0.6, 0.8}, {-0.8, -0.6}} {
			n := orb.Point{-u[1], u[0]} // to the left
			left := &Facet{DX: c.left*n[0] + c.slope*u[0], DY: c.left*n[1] + c.slope*u[1]}
			right := &Facet{DX: -c.right*n[0] + c.slope*u[0], DY: -c.right*n[1] + c.slope*u[1]}
			if got := kind(left, right, u, c.slope); got != c.want {
				t.Errorf("%+v along %v: %v, want %v", c, u, got, c.want)
			}
		}
	}
}
