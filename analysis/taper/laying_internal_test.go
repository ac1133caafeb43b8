package taper

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/geometry/vector"
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
