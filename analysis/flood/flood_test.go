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

// By hand: 0.10 m in steps of an inch are 4 bands; in at most 3 of them steps of two inches, 2 bands. 8 k cm in at most 8 bands are bands of k cm for
// k = 1, 2, 5, 10 and so on to 1000, for fewer would take more of them; deeper than 80 m is one band.
func TestSteps(t *testing.T) {
	type row struct {
		depth, step float64
		most, n     int
		wide        float64
	}
	rows := []row{{0.10, 0.0254, 8, 4, 0.0254}, {0.10, 0.0254, 3, 2, 0.0508}, {0, 0.0254, 3, 0, 0}, {80.1, 0.01, 8, 1, 0}, {0.0799, 0.01, 8, 8, 0.01}, {0.0801, 0.01, 8, 5, 0.02}}
	for _, k := range []float64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000} {
		rows = append(rows, row{0.08 * k, 0.01, 8, 8, 0.01 * k})
	}
	for _, c := range rows {
		got := flood.Steps(c.depth, c.step, c.most)
		if len(got) != c.n {
			t.Errorf("%g m in steps of %g m, at most %d: %v", c.depth, c.step, c.most, got)
			continue
		}
		for i, limit := range got {
			if !(math.Abs(limit-float64(i)*c.wide) <= 1e-12) {
				t.Errorf("%g m in steps of %g m, at most %d: %v", c.depth, c.step, c.most, got)
			}
		}
	}
}

// deeper returns over which area of a facet of area a water is deeper than 0 and how much of it there is, given the depths at its corners, in closed form: where one corner alone is wet, the wet
// triangle is similar, with sides of d / (d - e) and d / (d - f), and a third of d deep on average; what two wet corners hold is the whole less the dry corner's part.
func deeper(a float64, d [3]float64) (area, volume float64) {
	wet := 0
	for _, v := range d {
		if v > 0 {
			wet++
		}
	}
	tip := func(sign float64) (float64, float64) {
		for i := range d {
			if v, e, f := sign*d[i], sign*d[(i+1)%3], sign*d[(i+2)%3]; v > 0 {
				part := a * v * v / ((v - e) * (v - f))
				return part, part * v / 3
			}
		}
		return 0, 0
	}
	switch wet {
	case 0:
		return 0, 0
	case 1:
		return tip(1)
	case 2:
		dryArea, dryVolume := tip(-1)
		return a - dryArea, a*(d[0]+d[1]+d[2])/3 + dryVolume
	}
	return a, a * (d[0] + d[1] + d[2]) / 3
}

// On rough roofs under level water each band holds what the facets hold by the closed form: what is deeper than its lesser limit less what is deeper than its
// greater one, and its outline encloses its area.
func TestBandsFacetByFacet(t *testing.T) {
	for seed := range uint64(25) {
		s := shape.Build(t, shape.Random(seed, 120))
		low, high := math.Inf(1), math.Inf(-1)
		for _, z := range s.Cut.Z {
			low, high = min(low, z), max(high, z)
		}
		if high-low < 1e-3 {
			continue
		}
		l := low + (high-low)*(0.3+0.0271*float64(seed))
		level := make([]float64, len(s.Cut.Z))
		for v, z := range s.Cut.Z {
			level[v] = max(z, l)
		}
		limits := []float64{0, 0.2173 * (l - low), 0.4391 * (l - low), 0.7127 * (l - low)}
		hold := func(depth float64) (area, water float64) {
			for f := range int32(s.Cut.Facets()) {
				var d [3]float64
				for k, v := range s.Cut.V[3*f : 3*f+3] {
					d[k] = l - s.Cut.Z[v] - depth
				}
				a, v := deeper(s.Cut.FacetArea(f), d)
				area, water = area+a, water+v+a*depth
			}
			return area, water
		}
		bands := flood.Bands(s.Cut, level, limits)
		if len(bands) != len(limits) {
			t.Errorf("seed %d: %d bands", seed, len(bands))
			continue
		}
		for i, b := range bands {
			area, water := hold(limits[i])
			to := l - low
			if i+1 < len(limits) {
				to = limits[i+1]
				a, w := hold(to)
				area, water = area-a, water-w
			}
			if !(math.Abs(b.Area-area) <= 1e-6*(1+area)) || !(math.Abs(b.Volume-water) <= 1e-6*(1+water)) || b.From != limits[i] || !(math.Abs(b.To-to) <= 1e-12) {
				t.Errorf("seed %d, band %d from %g to %g m: %.8f m2 and %.8f m3, want %.8f and %.8f", seed, i, b.From, b.To, b.Area, b.Volume, area, water)
			}
			if drawn := planar.Area(b.Outline); !(math.Abs(drawn-area) <= 1e-6*(1+area)) {
				t.Errorf("seed %d, band %d: its outline encloses %.8f m2 of %.8f", seed, i, drawn, area)
			}
		}
	}
}
