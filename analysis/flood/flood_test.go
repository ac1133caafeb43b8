package flood_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb/planar"

	"runnel/analysis/flood"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// full returns a roof's surface with every pond full, and the level of water.
func full(t *testing.T, r *roof.Roof) (*surface.Surface, *ponding.Ponds) {
	t.Helper()
	s := shape.Build(t, r)
	p, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	return s, p
}

// By hand, the plane z = y/100 of 20 by 10 m under water at 0.05 m: the bands up to 0.02, 0.04 and 0.05 m deep are 2, 2 and
// 1 m of its width, 40, 40 and 20 m2, to the grid on which corners stand; volumes 20 x the mean depth x width = 0.4, 1.2 and 0.9 m3.
func TestBandsOfAPlane(t *testing.T) {
	s, _ := full(t, shape.Plane(20, 10, 0.01, 7))
	level := make([]float64, len(s.Cut.Z))
	for v, z := range s.Cut.Z {
		level[v] = max(z, 0.05)
	}
	bands := flood.Bands(s.Cut, level, []float64{0, 0.02, 0.04})
	want := []struct{ area, volume float64 }{{40, 0.4}, {40, 1.2}, {20, 0.9}}
	if len(bands) != len(want) {
		t.Fatalf("%d bands, want %d", len(bands), len(want))
	}
	for i, b := range bands {
		if !(math.Abs(b.Area-want[i].area) <= 0.02) || !(math.Abs(b.Volume-want[i].volume) <= 1e-3) {
			t.Errorf("band %d: %.5f m2 and %.5f m3, want %v", i, b.Area, b.Volume, want[i])
		}
		if len(b.Outline) != 1 || len(b.Outline[0]) != 1 {
			t.Errorf("band %d is no one piece: %d polygons", i, len(b.Outline))
		}
	}
	if !(math.Abs(bands[2].To-0.05) <= 1e-9) {
		t.Errorf("the deepest band ends at %v, want 0.05", bands[2].To)
	}
}

// Whatever the roof, the bands of its full ponds add up to the ponds' areas and volumes, and the outlines enclose the areas.
func TestBandsAddUpToThePonds(t *testing.T) {
	some := 0
	for seed := range uint64(60) {
		s, p := full(t, shape.Random(seed, 200))
		area, volume, deepest := 0.0, 0.0, 0.0
		for i := range p.Ponds {
			area, volume, deepest = area+p.Ponds[i].Area, volume+p.Ponds[i].Volume, max(deepest, p.Ponds[i].Depth)
		}
		gotArea, gotVolume, drawn := 0.0, 0.0, 0.0
		for _, b := range flood.Bands(s.Cut, p.Level, flood.Steps(deepest, 0.01, 8)) {
			gotArea, gotVolume = gotArea+b.Area, gotVolume+b.Volume
			drawn += planar.Area(b.Outline)
		}
		if !(math.Abs(gotArea-area) <= 1e-6*(1+area)) || !(math.Abs(gotVolume-volume) <= 1e-6*(1+volume)) {
			t.Errorf("seed %d: %.8f m2 and %.8f m3 of %.8f and %.8f", seed, gotArea, gotVolume, area, volume)
		}
		if !(math.Abs(drawn-gotArea) <= 1e-6*(1+gotArea)) {
			t.Errorf("seed %d: the outlines enclose %.8f m2 of %.8f", seed, drawn, gotArea)
		}
		if area > 0 {
			some++
		}
	}
	if some < 40 {
		t.Errorf("only %d of 60 roofs hold water", some)
	}
}

// By hand: 0.10 m in steps of an inch are 4 bands; in at most 3 of them steps of two inches, 2 bands.
func TestSteps(t *testing.T) {
	if got := flood.Steps(0.10, 0.0254, 8); len(got) != 4 || got[1] != 0.0254 {
		t.Errorf("%v", got)
	}
	if got := flood.Steps(0.10, 0.0254, 3); len(got) != 2 || got[1] != 0.0508 {
		t.Errorf("%v", got)
	}
	if got := flood.Steps(0, 0.0254, 3); len(got) != 0 {
		t.Errorf("%v", got)
	}
}
