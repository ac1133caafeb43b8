package surface_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// The answers are the closed forms in the doc comments of package shape.
func TestClosedShapes(t *testing.T) {
	const l, w, s = 12.0, 8.0, 0.02
	cases := []struct {
		name         string
		r            *roof.Roof
		area, volume float64
	}{
		{"plane", shape.Plane(l, w, s, 4), l * w, s * l * w * w / 2},
		{"pyramid", shape.Pyramid(l, w, s, 0.3), l * w, s * (l*l*w/4 + w*w*w/12)},
		{"square pyramid", shape.Pyramid(w, w, s, 0.3), w * w, s * (w*w*w/4 + w*w*w/12)},
		{"hip", shape.Hip(l, w, s), l * w, s * w * w * (3*l - w) / 12},
		{"trough", shape.Trough(l, w, s, 0.01, 0.2), l * 2 * w, s*w*w*l + 0.01*l*l*w},
		{"box", shape.Box(l, w, 1, 0.2), l * w, l*w*0.2 - 0.2/6*(l*w+(l-2)*(w-2)+4*(l-1)*(w-1))},
		{"dish", shape.Dish(4, 0.1), 144, 0},
		{"ell", shape.Ell(12, 4, s, 1, 0.2), 12*4 + 8*4 - 2, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := build(t, c.r)
			if !near(got.Area, c.area, 1e-9) {
				t.Errorf("area %.10f, want %.10f", got.Area, c.area)
			}
			v := volume(got.TIN)
			switch c.name {
			case "box": // the roof's own volume is what the pond does not fill
				v, c.volume = l*w*0.2-v, 0.2/6*(l*w+(l-2)*(w-2)+4*(l-1)*(w-1))
			case "dish", "ell":
				v = 0
			}
			if !near(v, c.volume, 1e-9) {
				t.Errorf("volume %.10f, want %.10f", v, c.volume)
			}
			if got.AssumedShare != 0 {
				t.Errorf("%.3f of it is assumed though every corner has an elevation", got.AssumedShare)
			}
			proveSigns(t, got)
			proveCut(t, got)
		})
	}
}

func TestSlopesOfClosedShapes(t *testing.T) {
	for f, tin := int32(0), build(t, shape.Plane(12, 8, 0.02, 4)).TIN; f < int32(tin.Facets()); f++ {
		if tin.DX[f] != 0 || !near(tin.DY[f], 0.02, 1e-15) {
			t.Fatalf("gradient of the plane is (%g, %g), want (0, 0.02)", tin.DX[f], tin.DY[f])
		}
	}
	for f, tin := int32(0), build(t, shape.Hip(12, 8, 0.02)).TIN; f < int32(tin.Facets()); f++ {
		if !near(slope(tin, f), 0.02, 1e-15) {
			t.Fatalf("slope of the hip roof is %g, want 0.02", slope(tin, f))
		}
	}
	want := 0.1 / (5 * math.Cos(math.Pi/24))
	cone := build(t, shape.Cone(24, 5, 0.1, 0.3)).TIN
	for f := int32(0); f < int32(cone.Facets()); f++ {
		if !near(slope(cone, f), want, 1e-4*want) {
			t.Fatalf("slope of the cone is %g, want %g", slope(cone, f), want)
		}
	}
	trough := build(t, shape.Trough(12, 8, 0.02, 0.01, 0.2)).TIN
	for f := int32(0); f < int32(trough.Facets()); f++ {
		if !near(trough.DX[f], -0.01, 1e-12) || !near(math.Abs(trough.DY[f]), 0.02, 1e-12) {
			t.Fatalf("gradient of the trough is (%g, %g), want (-0.01, +-0.02)", trough.DX[f], trough.DY[f])
		}
	}
}

// Three-point problem: A (100 N, 400 E, 400), B (0, 0, 200), C (300 N, 0 E, 500) has gradient 0.25 to the east and 1.00 to the
// north (by hand: C-B rises 300 over 300 north; A-B rises 200 = 400e + 100*1).
func TestThreePointProblem(t *testing.T) {
	r := shape.New("three points", shape.At(0, 0, 200), shape.At(400, 100, 400), shape.At(0, 300, 500))
	tin := build(t, r).TIN
	if tin.Facets() != 1 || tin.DX[0] != 0.25 || tin.DY[0] != 1 {
		t.Errorf("%d facets, gradient (%g, %g), want 1, (0.25, 1)", tin.Facets(), tin.DX[0], tin.DY[0])
	}
}

// Renka's 12-node test (ACM Transactions on Mathematical Software, Algorithm 751, TRIPACK): 18 triangles, 29 arcs, 4 boundary
// nodes, as printed by the R package interp.
func TestRenkaTwelveNodes(t *testing.T) {
	r := shape.New("renka", shape.Bare(0, 0), shape.Bare(1, 0), shape.Bare(1, 1), shape.Bare(0, 1))
	for _, p := range [][2]float64{
		{0, 0}, {1, 0}, {.5, .15}, {.15, .5}, {.85, .5}, {.5, .85}, {0, 1}, {1, 1}, {.35, .35}, {.65, .35}, {.35, .65}, {.65, .65},
	} {
		shape.Spot(r, p[0], p[1], 0.1)
	}
	tin := build(t, r).TIN
	border := 0
	for _, o := range tin.Twin {
		if o < 0 {
			border++
		}
	}
	if tin.Facets() != 18 || (len(tin.V)+border)/2 != 29 || border != 4 || len(tin.X) != 12 {
		t.Errorf("%d triangles, %d arcs, %d boundary nodes of %d, want 18, 29, 4 of 12", tin.Facets(), (len(tin.V)+border)/2, border, len(tin.X))
	}
}

// A grid of n by n squares has n*n ambiguous diagonals, and each is counted once.
func TestTiesOfAGrid(t *testing.T) {
	if got := build(t, shape.Plane(5, 5, 0.02, 5)).Ties; got != 25 {
		t.Errorf("%d ties, want 25", got)
	}
	if got := build(t, shape.Plane(5, 5, 0.02, 5)).Spacing; got != 5.0/6 { // 36 points on 25 m2
		t.Errorf("spacing %g, want 5/6", got)
	}
}
