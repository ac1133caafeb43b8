package slope_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

func study(t *testing.T, r *roof.Roof, c standard.Criteria) (*surface.Surface, *slope.Slopes) {
	t.Helper()
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	got, err := slope.Of(s, r, c)
	if err != nil {
		t.Fatal(err)
	}
	return s, got
}

func TestPyramidRoof(t *testing.T) {
	const l, w, s = 24.0, 16.0, 1.0 / 48
	_, got := study(t, shape.Pyramid(l, w, s, 0.3), standard.Criteria{MinSlope: s, MinValleySlope: s})
	for f := range got.Slope {
		near(t, "facet", got.Slope[f], s, 2e-5)
	}
	if len(got.Planes) != 4 || len(got.Valleys) != 4 || len(got.Ridges) != 0 {
		t.Fatalf("%d planes, %d valleys, %d ridges; want 4, 4, 0", len(got.Planes), len(got.Valleys), len(got.Ridges))
	}
	for i := range got.Planes {
		p := &got.Planes[i]
		aspect := math.Mod(90*math.Round(p.Aspect/90), 360)
		want := w * w / 4 // the planes that fall north and south
		if aspect == 90 || aspect == 270 {
			want = (2*l*w - w*w) / 4
		}
		near(t, "area", p.Area, want, 1e-6)
		near(t, "slope", p.Slope, s, 1e-5)
	}
	near(t, "share below", got.BelowMinShare, 0, 0)
	for _, v := range got.Valleys {
		near(t, "valley", v.Slope, s/math.Sqrt2, 1e-5)
		near(t, "low end", math.Hypot(v.Plan[len(v.Plan)-1][0], v.Plan[len(v.Plan)-1][1]), 0, 1e-9)
		if !v.BelowMin || v.Type != roof.Valley {
			t.Errorf("%+v", v)
		}
	}
}

func TestHipRoof(t *testing.T) {
	const l, w, s = 20.0, 12.0, 0.05
	_, got := study(t, shape.Hip(l, w, s), standard.Criteria{MinSlope: 0.06})
	if len(got.Planes) != 4 || len(got.Valleys) != 0 || len(got.Ridges) != 5 {
		t.Fatalf("%d planes, %d valleys, %d ridges; want 4, 0, 5", len(got.Planes), len(got.Valleys), len(got.Ridges))
	}
	near(t, "share below", got.BelowMinShare, 1, 1e-12)
	level := 0
	for _, r := range got.Ridges {
		if r.Type == roof.Ridge {
			level++
			near(t, "ridge", r.Slope, 0, 1e-9)
			near(t, "length of the ridge", r.Length, l-w, 1e-9)
			continue
		}
		near(t, "hip", r.Slope, s/math.Sqrt2, 1e-5)
		near(t, "length of the hip", r.Length, w/math.Sqrt2, 1e-4)
	}
	if level != 1 {
		t.Errorf("%d ridges by type", level)
	}
}

func TestTroughRoof(t *testing.T) {
	const l, w, s, v = 24.0, 8.0, 0.025, 0.008
	_, got := study(t, shape.Trough(l, w, s, v, 0.3), standard.Criteria{MinSlope: 0.02, MinValleySlope: 1.0 / 96})
	if len(got.Planes) != 2 || len(got.Valleys) != 1 {
		t.Fatalf("%d planes, %d valleys", len(got.Planes), len(got.Valleys))
	}
	near(t, "plane", got.Planes[0].Slope, math.Hypot(s, v), 1e-5)
	near(t, "valley", got.Valleys[0].Slope, v, 1e-6)
	near(t, "length", got.Valleys[0].Length, l, 1e-9)
	if !got.Valleys[0].BelowMin || !got.Valleys[0].Resolved || got.Planes[0].BelowMin {
		t.Error("the valley misses the criterion, its planes do not")
	}
}

// Random roofs with curbs, folds and outlets: planes cover the roof once and nothing is out of range.
func TestRandomRoofs(t *testing.T) {
	for seed := range uint64(40) {
		s, got := study(t, shape.Random(seed, 60+int(seed)*8), standard.Criteria{MinSlope: 1.0 / 96, MinValleySlope: 1.0 / 96})
		total := 0.0
		for i := range got.Planes {
			p := &got.Planes[i]
			total += p.Area
			if math.IsNaN(p.Slope) || p.Slope < 0 || p.Assumed < 0 || p.Assumed > 1 || len(p.Outline) != 1 || p.Error() < 0 {
				t.Fatalf("seed %d: plane %d: %+v", seed, i, p)
			}
		}
		near(t, "area", total, s.Area, 1e-9*s.Area)
		for _, l := range append(got.Valleys, got.Ridges...) {
			if !(l.Length > 0) || !(l.Drop >= 0) || l.BackFall < 0 || l.Left < 0 || l.Right < 0 || len(l.Plan) != len(l.Levels) {
				t.Fatalf("seed %d: %+v", seed, l)
			}
			if !l.Inferred && len(l.Vertices) != len(l.Plan) {
				t.Fatalf("seed %d: %d vertices, %d places", seed, len(l.Vertices), len(l.Plan))
			}
		}
	}
}

// Moving a roof changes nothing but places: slopes, areas and lines stay.
func TestPlaceDoesNotMatter(t *testing.T) {
	for seed := range uint64(6) {
		r := shape.Random(seed, 120)
		_, here := study(t, r, standard.Criteria{MinSlope: 1.0 / 96})
		const dx, dy, dz = 1500, -2750, 300
		move := func(p *roof.Position) { p.Plan[0] += dx; p.Plan[1] += dy; p.Z += dz }
		for i := range r.Spots {
			move(&r.Spots[i].Position)
		}
		for _, ring := range r.Outline.Rings {
			for i := range ring {
				move(&ring[i])
			}
		}
		for i := range r.Breaklines {
			for j := range r.Breaklines[i].Line {
				move(&r.Breaklines[i].Line[j])
			}
		}
		for i := range r.Edges {
			for j := range r.Edges[i].Line {
				move(&r.Edges[i].Line[j])
			}
		}
		for i := range r.Curbs {
			for j := range r.Curbs[i].Ring {
				move(&r.Curbs[i].Ring[j])
			}
		}
		for i := range r.Outlets {
			r.Outlets[i].Plan[0] += dx
			r.Outlets[i].Plan[1] += dy
			r.Outlets[i].Invert += dz
		}
		_, there := study(t, r, standard.Criteria{MinSlope: 1.0 / 96})
		if len(here.Planes) != len(there.Planes) || len(here.Valleys) != len(there.Valleys) || len(here.Ridges) != len(there.Ridges) {
			t.Fatalf("seed %d: %d planes, then %d", seed, len(here.Planes), len(there.Planes))
		}
		for i := range here.Planes {
			near(t, "slope", there.Planes[i].Slope, here.Planes[i].Slope, 1e-7)
			near(t, "area", there.Planes[i].Area, here.Planes[i].Area, 1e-5)
			near(t, "offset", there.Planes[i].At([2]float64{dx, dy})-dz, here.Planes[i].Offset, 1e-5)
		}
		for i := range here.Valleys {
			near(t, "length", there.Valleys[i].Length, here.Valleys[i].Length, 1e-5)
			near(t, "drop", there.Valleys[i].Drop, here.Valleys[i].Drop, 1e-5)
		}
	}
}
