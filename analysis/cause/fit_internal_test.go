package cause

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// TestFitFindsWhatWasSampled: samples of a surface of the second degree give that surface back, whatever
// their places and weights. The expected numbers are those put in.
func TestFitFindsWhatWasSampled(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	want := bend{c: 3.2, gx: 0.021, gy: -0.013, xx: 0.004, xy: -0.001, yy: 0.0025}
	for _, scale := range []float64{0.3, 5, 200} {
		var s []sample
		for range 40 {
			x, y := scale*(r.Float64()-0.5), scale*(r.Float64()-0.5)
			s = append(s, sample{x, y, want.at(x, y), 0.1 + r.Float64()})
		}
		got, ok := fitBend(s)
		if !ok {
			t.Fatalf("scale %g: no fit", scale)
		}
		for i, p := range [][2]float64{
			{got.c, want.c}, {got.gx, want.gx}, {got.gy, want.gy}, {got.xx, want.xx}, {got.xy, want.xy}, {got.yy, want.yy},
		} {
			if !(math.Abs(p[0]-p[1]) <= 1e-7) {
				t.Errorf("scale %g, coefficient %d: got %g, want %g", scale, i, p[0], p[1])
			}
		}
		if got.rms > 1e-9 {
			t.Errorf("scale %g: residual %g of an exact surface", scale, got.rms)
		}
	}
}

// TestFitDeclines: points on one line span no plane, and a plane's worth of points no bent surface.
func TestFitDeclines(t *testing.T) {
	var line []sample
	for i := range 10 {
		line = append(line, sample{float64(i), 2 * float64(i), 1, 1})
	}
	if _, ok := fitPlane(line); ok {
		t.Error("a plane was fitted to points on one line")
	}
	if _, ok := fitBend(line[:5]); ok {
		t.Error("a bent surface was fitted to five points")
	}
}

// TestUnder: by hand from the geometry of a tent over a triangle of area 6 with corners at 0, 1 and 3.
func TestUnder(t *testing.T) {
	for _, c := range []struct {
		name                string
		z                   [3]float64
		level, area, volume float64
	}{
		{"dry", [3]float64{1, 0, 3}, 0, 0, 0},
		// cut parallel to nothing: 6 * (1/1) * (1/3) = 2 wet, a pyramid of height 1: 2/3
		{"to the middle corner", [3]float64{3, 1, 0}, 1, 2, 2.0 / 3},
		// half the height: quarter of the area, eighth of the volume
		{"half of that", [3]float64{0, 3, 1}, 0.5, 0.5, 1.0 / 12},
		// dry tip at 2: 6 * (1/3) * (1/2) = 1, so 5 wet; 6*(2-4/3) + 1*1/3 = 13/3
		{"past the middle corner", [3]float64{1, 3, 0}, 2, 5, 13.0 / 3},
		{"to the top", [3]float64{0, 1, 3}, 3, 6, 10},
		{"over the top", [3]float64{0, 1, 3}, 4, 6, 16},
		{"level floor", [3]float64{1, 1, 1}, 1.5, 6, 3},
		{"two low corners", [3]float64{0, 0, 2}, 1, 4.5, 6*(1-2.0/3) + 1.5*1.0/3},
	} {
		area, volume := under(c.z, c.level, 6)
		if !(math.Abs(area-c.area) <= 1e-12) || !(math.Abs(volume-c.volume) <= 1e-12) {
			t.Errorf("%s: got %g, %g; want %g, %g", c.name, area, volume, c.area, c.volume)
		}
	}
}

// TestMomentsOfARectangle: two triangles make a 6 by 2 rectangle turned by 30 degrees about (5, 7); its
// sides and axis are those put in.
func TestMomentsOfARectangle(t *testing.T) {
	sin, cos := math.Sincos(math.Pi / 6)
	at := func(u, v float64) orb.Point { return orb.Point{5 + u*cos - v*sin, 7 + u*sin + v*cos} }
	m := moments{origin: at(3, 1)}
	m.triangle(at(-3, -1), at(3, -1), at(3, 1))
	m.triangle(at(-3, -1), at(3, 1), at(-3, 1))
	centre, axis, long, wide := m.rectangle()
	if !(math.Hypot(centre[0]-5, centre[1]-7) <= 1e-9) || !(math.Abs(long-6) <= 1e-9) || !(math.Abs(wide-2) <= 1e-9) {
		t.Errorf("centre %v, sides %g and %g", centre, long, wide)
	}
	if math.Abs(axis[0]*cos+axis[1]*sin) < 1-1e-9 {
		t.Errorf("axis %v, want (%g, %g)", axis, cos, sin)
	}
}

// TestEigen: the matrix (2 1; 1 2) has 3 along (1, 1) and 1 along (1, -1).
func TestEigen(t *testing.T) {
	big, small, axis := eigen(2, 1, 2)
	if !(math.Abs(big-3) <= 1e-12) || !(math.Abs(small-1) <= 1e-12) || !(math.Abs(axis[0]-axis[1]) <= 1e-12) {
		t.Errorf("got %g, %g, %v", big, small, axis)
	}
	if big, small, _ := eigen(-1, 0, 4); big != 4 || small != -1 {
		t.Errorf("diagonal: got %g, %g", big, small)
	}
}
