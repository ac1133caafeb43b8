package bounds

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/slope"
)

// TestRangeOf: replicates 1 to 101 have the percentiles 6 and 96. About 30 these mirror to 54 and -36, or by ratio to 900/6 = 150 and 900/96 = 9.375;
// the wider of both counts, the measured figure is within, and nothing is below 0.
func TestRangeOf(t *testing.T) {
	values := make([]float64, 101)
	for i := range values {
		values[i] = float64(101 - i)
	}
	for _, c := range []struct {
		self, measured float64
		ratio          bool
		want           Range
	}{
		{30, 30, false, Range{0, 96}},
		{30, 30, true, Range{6, 150}},
		{90, 90, false, Range{6, 174}},
		{51, 200, false, Range{6, 200}},
		{51, 2, false, Range{2, 96}},
	} {
		if got := rangeOf(slices.Clone(values), c.self, c.measured, c.ratio, math.Inf(1)); !(math.Abs(got.Low-c.want.Low) <= 1e-9) || !(math.Abs(got.High-c.want.High) <= 1e-9) {
			t.Errorf("about %g, measured %g: %+v, want %+v", c.self, c.measured, got, c.want)
		}
	}
	if got := over(values, 51, 96); !(math.Abs(got-6.0/101) <= 1e-12) { // 96 to 101, and as many mirror images
		t.Errorf("over 96: %g", got)
	}
}

// TestPlanes: a slope of 2 % with a standard error of 0.1 % lies between 1.8355 and 2.1645 % (1.6449 standard errors), and is under 2.083 % with a chance
// of 0.797 (0.8333 standard errors; Abramowitz and Stegun, table 26.1, from memory: 0.7977). One of 0.05 % is never below level.
func TestPlanes(t *testing.T) {
	in := &Input{Slopes: &slope.Slopes{Planes: []slope.Plane{{Slope: 0.02, Sigma: 0.001}, {Slope: 0.0005, Sigma: 0.001}, {Slope: 0.01}}}}
	in.Criteria.MinSlope = 0.0208333333
	p := in.planes()
	if !(math.Abs(p[0].Slope.Low-0.0183551) <= 1e-6) || !(math.Abs(p[0].Slope.High-0.0216449) <= 1e-6) || !(math.Abs(p[0].BelowMin-0.7977) <= 1e-3) {
		t.Errorf("%+v", p[0])
	}
	if p[1].Slope.Low != 0 || !p[1].Known || p[2].Known {
		t.Errorf("%+v", p[1:])
	}
}

// TestLonePit: a drain's inlet stands 30 mm above the spot at it, on a roof that rises 20 mm a metre from there. The depth is the difference of two
// readings of 4 mm: its standard error is 4 root 2 = 5.66 mm, and it lies between 30 - 9.3 and 30 + 9.3 mm; two hundred replicates tell that to two
// millimetres. It is over 20 mm for certain, over 30 mm in one half, and the same call gives the same to the last digit.
func TestLonePit(t *testing.T) {
	r := shape.Pyramid(10, 10, 0.02, 0.3)
	r.Outlets[0].Invert, r.Outlets[0].HasInvert = 0.030, true
	m := modelOf(t, r)
	m.Deep = 0.030
	p := m.pond(0, pondWork)
	if !(math.Abs(p.Depth.Low-0.0207) <= 0.002) || !(math.Abs(p.Depth.High-0.0393) <= 0.002) {
		t.Errorf("depth %+v, want 20.7 to 39.3 mm", p.Depth)
	}
	if !(math.Abs(p.Deep-0.5) <= 0.05) || p.Listed != 1 || p.Trials != mostTrials {
		t.Errorf("%+v", p)
	}
	// 30 mm of water on 20 mm a metre: a square of 3 m, 9 m2
	if p.Area.Low > 9 || p.Area.High < 9 || p.Area.Low < 9*0.4 || p.Area.High > 9*2 {
		t.Errorf("area %+v", p.Area)
	}
	if again := modelOf(t, r).pond(0, pondWork); again.Depth != p.Depth || again.Area != p.Area || again.Volume != p.Volume {
		t.Errorf("%+v, then %+v", p, again)
	}
	if few := m.pond(0, 1); few.Trials != leastTrials || few.Depth.High < 0.033 || few.Depth.High > 0.046 {
		t.Errorf("few trials: %+v", few)
	}
}

// TestCatchments: of two bays of 12 m that fall to a drain each, a ridge between them, either takes the half, 96 m2, and a ridge as sharp as
// that does not move: the bounds stay within one row of spots.
func TestCatchments(t *testing.T) {
	r := shape.New("two", shape.Bare(0, 0), shape.Bare(24, 0), shape.Bare(24, 8), shape.Bare(0, 8))
	shape.Grid(r, 0, 0, 24, 8, 24, 8, func(x, y float64) float64 {
		return 0.02 * math.Max(math.Abs(math.Mod(x, 12)-6), math.Abs(y-4))
	})
	for _, x := range []float64{6, 18} {
		o := shape.Drain(r, x, 4, 0.3)
		o.Invert, o.HasInvert = 0, true
	}
	m := modelOf(t, r)
	var b Bounds
	b.replicas, b.self = m.catchments()
	b.About([]float64{96, 96}, 192)
	c := b.Catchments
	if len(c) != 2 {
		t.Fatalf("%d catchments", len(c))
	}
	for _, got := range c {
		if got.Low > 96 || got.High < 96 || got.Low < 80 || got.High > 112 {
			t.Errorf("%+v", c)
		}
	}
}
