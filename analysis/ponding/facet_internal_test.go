package ponding

import (
	"math"
	"testing"
)

// Water over a facet of plan area S whose corners stand at a <= b <= c, by the integral over its level: under b the wet area is
// S (L-a)^2 / ((b-a)(c-a)), over it S less S (c-L)^2 / ((c-a)(c-b)); volumes are their integrals.
func TestWaterOverAFacet(t *testing.T) {
	for _, f := range []tent{{6, 1, 2, 4}, {6, 1, 1, 4}, {6, 1, 4, 4}, {0.5, -2, -1.9, 3}, {6, 2, 2, 2}} {
		for level := f.a - 1; level < f.c+2; level += 0.0625 {
			area, volume := 0.0, 0.0
			switch {
			case level <= f.a:
			case level >= f.c:
				area, volume = f.size, f.size*(level-(f.a+f.b+f.c)/3)
			case level <= f.b:
				area = f.size * (level - f.a) * (level - f.a) / ((f.b - f.a) * (f.c - f.a))
				volume = area * (level - f.a) / 3
			default:
				dry := f.size * (f.c - level) * (f.c - level) / ((f.c - f.a) * (f.c - f.b))
				area, volume = f.size-dry, f.size*(level-(f.a+f.b+f.c)/3)+dry*(f.c-level)/3
			}
			if a, v := f.water(level); !(math.Abs(a-area) <= 1e-9) || !(math.Abs(v-volume) <= 1e-9) {
				t.Fatalf("%+v at %g: %g m2 and %g m3, want %g and %g", f, level, a, v, area, volume)
			}
		}
	}
}

// TestUnder: water on the triangle (0,0), (2,0), (0,2), of area 2, whose corners lie a, b, c deep; by hand.
func TestUnder(t *testing.T) {
	for _, c := range []struct{ a, b, c, area, volume float64 }{
		{-1, -2, -3, 0, 0},
		{3, 3, 3, 2, 6},
		{1, -1, -1, 0.5, 0.5 / 3},      // halved both ways: a quarter of the area, a mean depth of a third
		{-1, 1, 1, 1.5, 2.0/3 + 0.5/3}, // all: 2*(1/3); and the dry quarter 0.5*(-1/3) given back
		{0, 0, 3, 2, 2},                // touching: all of it, a mean depth of 1
		{-1, -1, 1, 0.5, 0.5 / 3},      // the order of the corners is nothing
		{2, -2, 0, 1, 1 * 2.0 / 3},     // half of it, a mean depth of 2/3
	} {
		area, volume := Under(c.a, c.b, c.c, 2)
		if !(math.Abs(area-c.area) <= 1e-12) || !(math.Abs(volume-c.volume) <= 1e-12) {
			t.Errorf("%g, %g, %g deep: area %g and volume %g, want %g and %g", c.a, c.b, c.c, area, volume, c.area, c.volume)
		}
	}
}
