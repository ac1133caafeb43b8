package assembly

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Where a core may be cut on a roof of 20 by 12 m with a curb at (8, 4), 2 m wide, a drain at (15, 6) and a core cut at (4, 6): 0.6 m off the outline and the curb,
// 1.5 m off the drain and 0.6 m off the core, each tried just inside and just outside.
func TestWhereACoreMayBeCut(t *testing.T) {
	r := shape.New("roof", shape.At(0, 0, 0.1), shape.At(20, 0, 0.1), shape.At(20, 12, 0.1), shape.At(0, 12, 0.1))
	shape.Curb(r, shape.Bare(8, 4), shape.Bare(10, 4), shape.Bare(10, 6), shape.Bare(8, 6))
	shape.Spot(r, 15, 6, 0)
	shape.Drain(r, 15, 6, 0.3)
	shape.Edge(r, roof.Gutter, shape.Bare(0, 12), shape.Bare(20, 12))
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	f := newFinder(&Input{Roof: r, Surface: s})
	cores := []Core{{Plan: orb.Point{4, 6}}}
	for p, want := range map[orb.Point]bool{
		{0.65, 3}: true, {0.55, 3}: false, {2, 0.65}: true, {2, 0.55}: false, {19.35, 3}: true, {19.45, 3}: false, {2, 11.35}: true, {2, 11.45}: false,
		{7.35, 5}: true, {7.45, 5}: false, {10.65, 5}: true, {10.55, 5}: false, {9, 3.35}: true, {9, 3.45}: false, {9, 6.65}: true, {9, 6.55}: false,
		{9, 5}: false, {-1, 5}: false, {13.45, 6}: true, {13.55, 6}: false, {15, 7.55}: true, {15, 7.45}: false,
		{4.65, 6}: true, {4.55, 6}: false, {4, 6.65}: true, {4, 5.45}: false,
	} {
		if got := f.allowed(cores, p); got != want {
			t.Errorf("a core at %v: %t", p, got)
		}
	}
}
