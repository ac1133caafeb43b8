package shape_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Every roof with closed answers has them: plan area and volume under the surface from the formulas beside it, and the slopes that its facets
// have, each with the area on which it is found.
func TestShapesAreAsTheySay(t *testing.T) {
	const l, w, s = 24.0, 15.0, 0.02
	root2 := math.Sqrt2
	cone := 12 * 8 * 8 * math.Sin(math.Pi/6) / 2
	type part struct{ slope, area float64 }
	for _, c := range []struct {
		r            *roof.Roof
		area, volume float64
		parts        []part
	}{
		{shape.Plane(l, w, s, 5), l * w, s * l * w * w / 2, []part{{s, l * w}}},
		{shape.Pyramid(l, w, s, 0.3), l * w, s * (l*l*w/4 + w*w*w/12), []part{{s, l * w}}},
		{shape.Pyramid(w, w, s, 0.3), w * w, s * (w*w*w/4 + w*w*w/12), []part{{s, w * w}}},
		{shape.Cone(12, 8, 0.4, 0.3), cone, cone * 0.4 * 2 / 3, []part{{0.4 / (8 * math.Cos(math.Pi/12)), cone}}},
		{shape.Trough(l, w, s, 0.01, 0.3), 2 * l * w, 2 * l * w * (s*w/2 + 0.01*l/2), []part{{math.Hypot(s, 0.01), 2 * l * w}}},
		{shape.Hip(l, w, s), l * w, s * w * w * (3*l - w) / 12, []part{{s, l * w}}},
		// The sides rise h over m; the volume above the water that fills it is what the prismoidal rule leaves of the box.
		{shape.Box(l, w, 3, 0.3), l * w, l*w*0.3 - 0.05*(l*w+(l-6)*(w-6)+4*(l-3)*(w-3)), []part{{0, (l - 6) * (w - 6)}, {0.1, l*w - (l-6)*(w-6)}}},
		// Outside a frustum of a pyramid of height d over 9 and 1 squares, inside a pyramid taken out.
		{shape.Dish(4, 0.2), 144, 0.2/3*(144+16+48) - 16*0.2/3, []part{{0.05, 128}, {0.1, 16}}},
		{shape.Ell(20, 6, s, 1, 0.3), 20*6 + 14*6 - 2, -1, []part{{s * root2, 20*6 + 14*6 - 2}}},
		{shape.Scuppered(l, w, s, 6, 18, 1.5, nil), l * w, s * l * w * w / 2, []part{{s, l * w}}},
	} {
		sf, err := surface.Build(c.r, surface.Options{})
		if err != nil {
			t.Fatalf("%s: %v", c.r.Name, err)
		}
		area, volume := 0.0, 0.0
		on := make([]float64, len(c.parts))
		for f := range int32(sf.TIN.Facets()) {
			a := sf.TIN.FacetArea(f)
			area += a
			for _, v := range sf.TIN.V[3*f : 3*f+3] {
				volume += a * sf.TIN.Z[v] / 3
			}
			for i, p := range c.parts {
				if math.Abs(math.Hypot(sf.TIN.DX[f], sf.TIN.DY[f])-p.slope) < 2e-5 {
					on[i] += a
				}
			}
		}
		if !(math.Abs(area-c.area) <= 1e-4*c.area) {
			t.Errorf("%s: %.4f m2, want %.4f", c.r.Name, area, c.area)
		}
		if c.volume >= 0 && !(math.Abs(volume-c.volume) <= 1e-4*c.volume) {
			t.Errorf("%s: %.4f m3, want %.4f", c.r.Name, volume, c.volume)
		}
		for i, p := range c.parts {
			if !(math.Abs(on[i]-p.area) <= 0.02*c.area) { // curbs without elevations take theirs from spots near them
				t.Errorf("%s: %.3f m2 slope %g, want %.3f", c.r.Name, on[i], p.slope, p.area)
			}
		}
	}
}

// Reliefs by hand.
func TestReliefs(t *testing.T) {
	for name, c := range map[string]struct {
		h    func(x, y float64) float64
		at   [2]float64
		want float64
	}{
		"amid a sagging foot":          {shape.Sagging(4, 12, 0.04, 2), [2]float64{8, 0}, -0.04},
		"its full half":                {shape.Sagging(4, 12, 0.04, 2), [2]float64{6, 0}, -0.04},
		"half to its end":              {shape.Sagging(4, 12, 0.04, 2), [2]float64{5, 0}, -0.02},
		"half to its other end":        {shape.Sagging(4, 12, 0.04, 2), [2]float64{11, 0}, -0.02},
		"its end":                      {shape.Sagging(4, 12, 0.04, 2), [2]float64{12, 0}, 0},
		"beyond it":                    {shape.Sagging(4, 12, 0.04, 2), [2]float64{3, 0}, 0},
		"off the wall":                 {shape.Sagging(4, 12, 0.04, 2), [2]float64{8, 0.5}, -0.03},
		"beyond its reach":             {shape.Sagging(4, 12, 0.04, 2), [2]float64{8, 2.5}, 0},
		"the crown of a saddle":        {shape.Saddle(4, 12, 3, 0.02), [2]float64{8, 0}, 0.06},
		"its side":                     {shape.Saddle(4, 12, 3, 0.02), [2]float64{6, 0}, 0.03},
		"its other side":               {shape.Saddle(4, 12, 3, 0.02), [2]float64{11, 0}, 0.015},
		"its scupper":                  {shape.Saddle(4, 12, 3, 0.02), [2]float64{12, 0}, 0},
		"up the roof":                  {shape.Saddle(4, 12, 3, 0.02), [2]float64{8, 1}, 0.04},
		"beyond its crown":             {shape.Saddle(4, 12, 3, 0.02), [2]float64{8, 3.5}, 0},
		"on a lap":                     {shape.Lap(2, 9, 5, 0.5, 0.03), [2]float64{4, 5}, 0.03},
		"half way down its side":       {shape.Lap(2, 9, 5, 0.5, 0.03), [2]float64{4, 5.25}, 0.015},
		"half way down the other side": {shape.Lap(2, 9, 5, 0.5, 0.03), [2]float64{4, 4.75}, 0.015},
		"half way beyond its end":      {shape.Lap(2, 9, 5, 0.5, 0.03), [2]float64{9.25, 5}, 0.015},
		"half way before its start":    {shape.Lap(2, 9, 5, 0.5, 0.03), [2]float64{1.75, 5}, 0.015},
		"clear of it":                  {shape.Lap(2, 9, 5, 0.5, 0.03), [2]float64{4, 6}, 0},
	} {
		if got := c.h(c.at[0], c.at[1]); !(math.Abs(got-c.want) <= 1e-12) {
			t.Errorf("%s: %g, want %g", name, got, c.want)
		}
	}
}
