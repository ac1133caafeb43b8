package taper_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

func built(t testing.TB, r *roof.Roof) *surface.Surface {
	t.Helper()
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func domain(t testing.TB, s *surface.Surface) *taper.Domain {
	t.Helper()
	d, err := taper.NewDomain(s.TIN)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// level is a walled level rectangle with its corner at the origin.
func level(l, w float64) *roof.Roof {
	return shape.New("level", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, w, 0), shape.At(0, w, 0))
}

func design(t testing.TB, r *roof.Roof, slope, thickness float64, gauge func(axis orb.Point) taper.Gauge) (*taper.Design, *surface.Surface) {
	t.Helper()
	s := built(t, r)
	d := domain(t, s)
	out, err := taper.Least(&taper.Problem{
		Domain: d, Base: taper.Existing(s.TIN), Sources: taper.Sources(s),
		Gauge: gauge(d.Axis), Slope: slope, Thickness: thickness,
	})
	if err != nil {
		t.Fatal(err)
	}
	return out, s
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g within %.2g", what, got, want, tolerance)
	}
}

// TestPyramidVolume: fill over a level rectangle with a drain in the middle, four-way.
// Closed form s*(L*L*W/4 + W*W*W/12): by hand, COMPUTED.
func TestPyramidVolume(t *testing.T) {
	const l, w, slope = 24.0, 15.0, 0.02
	r := level(l, w)
	o := shape.Drain(r, l/2, w/2, 0.3)
	o.Invert, o.HasInvert = 0, true
	d, s := design(t, r, slope, 0, taper.FourWay)
	near(t, "volume", d.Fill.Volume, slope*(l*l*w/4+w*w*w/12), 1e-6)
	near(t, "area", d.Fill.Area, l*w, 1e-6)
	near(t, "facets", float64(len(d.Facets)), 4, 0)
	near(t, "folds", float64(len(d.Lines)), 4, 0)
	near(t, "vertices", float64(len(d.Vertices)), 9, 0)
	for _, v := range d.Lines {
		near(t, "valley", v.Slope, slope*math.Sqrt(0.5), 1e-9)
	}
	again, err := study.Run(d.Roof(r, s), study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(again.Listed) != 0 {
		t.Errorf("%d ponds listed", len(again.Listed))
	}
	for _, p := range again.Slopes.Planes {
		t.Logf("plane %+v", p)
	}
}

// TestManyCurbs times a roof of 40 x 25 m with six drains and ten curbs.
func busy() *roof.Roof {
	r := level(40, 25)
	for i := range 3 {
		for j := range 2 {
			o := shape.Drain(r, 7.1+13*float64(i), 6.1+12*float64(j), 0.3)
			o.Invert, o.HasInvert = 0.01*float64(i), true
		}
	}
	for i := range 10 {
		x, y := 2+3.7*float64(i), 3+7*float64(i%3)
		shape.Curb(r, shape.Bare(x, y), shape.Bare(x+1.5, y+0.2), shape.Bare(x+1.3, y+1.7), shape.Bare(x-0.2, y+1.5))
	}
	shape.Grid(r, 0, 0, 40, 25, 20, 15, func(_, _ float64) float64 { return 0 })
	return r
}

func TestBusyRoof(t *testing.T) {
	r := busy()
	d, s := design(t, r, 1.0/48, 0.0127, taper.FourWay)
	taper.Count(t, d)
	t.Logf("facets %d lines %d vertices %d fill %+v", len(d.Facets), len(d.Lines), len(d.Vertices), d.Fill)
	again, err := study.Run(d.Roof(r, s), study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range again.Listed {
		t.Errorf("pond %+v", p)
	}
	for _, p := range again.Findings {
		t.Logf("%s %s", p.Kind, p.Severity)
	}
}

func BenchmarkLeast(b *testing.B) {
	r := busy()
	s := built(b, r)
	d := domain(b, s)
	for b.Loop() {
		if _, err := taper.Least(&taper.Problem{
			Domain: d, Base: taper.Existing(s.TIN), Sources: taper.Sources(s),
			Gauge: taper.FourWay(d.Axis), Slope: 1.0 / 48, Thickness: 0.5 * float64(quantity.Inch),
		}); err != nil {
			b.Fatal(err)
		}
	}
}
