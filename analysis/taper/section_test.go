package taper_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// sectioned lays stock on what lies east of x = 12 m on a roof of 20 by 10 m: tapered boards over run, then flat ones.
func sectioned(t *testing.T, s *surface.Surface, run float64, c taper.Courses) (*taper.Design, *taper.Courses) {
	t.Helper()
	d := planOf(t, s)
	base := taper.Existing(s.TIN)
	section := taper.Section{Domain: d, Base: base, Gauge: domain.FourWay(d.Axis), Front: orb.Point{12, 0}, Up: orb.Point{1, 0}, At: orb.Point{18, 5}, Run: run}
	l, err := section.Lay()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "area of the section", l.Area(), 80, 1e-6)
	if box := l.Bound(); !(math.Abs(box.Min[0]-12) <= 1e-9) || !(math.Abs(box.Max[0]-20) <= 1e-9) {
		t.Errorf("the section covers %v, not what lies east of x = 12", box)
	}
	tried, err := l.Try(c)
	if err != nil {
		t.Fatal(err)
	}
	a := taper.Alter(d, base)
	a.Lay(tried)
	return a.Design(), tried
}

// TestSectionOnLevelRoof: boards of 2 % over 2.4 m, then flat ones of 48 mm as far as the walls 8 m off the cut line and 10 m apart. By hand: 10*(2.4*0.048/2 + 5.6*0.048) = 3.264 m3; two sections; what lies west of the
// cut line stays. The corrected roof, read as a survey, has the same heights.
func TestSectionOnLevelRoof(t *testing.T) {
	r := level(20, 10)
	s := built(t, r)
	d, tried := sectioned(t, s, 2.4, taper.Courses{Taper: 0.02, Fall: 0.0001, Within: 0.003})
	near(t, "volume", d.Fill.Volume, 3.264, 1e-6)
	near(t, "volume tried", tried.Volume(), 3.264, 1e-6)
	near(t, "thickest", d.Thickest(), 0.048, 1e-9)
	near(t, "cut", d.Fill.Cut, 0, 1e-9)
	sections := 0
	for i := range d.Facets {
		if f := &d.Facets[i]; !f.Existing {
			sections++
			near(t, "taper", math.Abs(f.Taper[0]), []float64{0.02, 0}[sections-1], 1e-12)
		}
	}
	if sections != 2 || d.Stocked() {
		t.Errorf("%d sections, want 2 on a roof that else stays", sections)
	}
	after := built(t, d.Roof(r, s))
	locate := surface.NewLocator(after.TIN)
	for _, p := range []struct{ x, want float64 }{{6, 0}, {12, 0}, {13.2, 0.024}, {14.4, 0.048}, {19, 0.048}} {
		for _, y := range []float64{0.5, 5, 9.5} {
			if z, ok := locate.HeightAt(p.x, y); !ok || !(math.Abs(z-p.want) <= 2e-4) {
				t.Errorf("(%g, %g) stands at %.5f m, want %.5f", p.x, y, z, p.want)
			}
		}
	}
}

// TestSectionFollowsTheRoof: over a dish of 2 by 2 m, a pyramid 10 mm deep, flat boards of 100 mm follow it down unless it is levelled first: then leveller of 2*2*0.010/3 m3 and the 0.4 mm in the metre that it must fall
// lies under them, and the boards are the same.
func TestSectionFollowsTheRoof(t *testing.T) {
	s := built(t, dished())
	boards := 10 * (1*0.1/2 + 7*0.1)
	d, _ := sectioned(t, s, 1, taper.Courses{Taper: 0.1, Fall: 0.0004, Within: 0.02})
	near(t, "boards over the dish", d.Fill.Volume, boards, 1e-6)
	z, _ := d.Height(orb.Point{16, 5})
	near(t, "middle of the dish", z, 0.09, 1e-9)
	d, _ = sectioned(t, s, 1, taper.Courses{Taper: 0.1, Fall: 0.0004, Within: 0})
	if least := 2 * 2 * 0.010 / 3; d.Leveller.Volume < least || d.Leveller.Volume > least+80*0.0032 {
		t.Errorf("%g m3 of leveller, want %g and little more", d.Leveller.Volume, least)
	}
	near(t, "boards on leveller", d.Fill.Volume-d.Leveller.Volume, boards, 1e-6)
	boarded := 0.0
	d.Parts(func(p *taper.Part) {
		for k := 2; k < len(p.On); k++ {
			a, b := orb.Point{p.On[k-1][0] - p.On[0][0], p.On[k-1][1] - p.On[0][1]}, orb.Point{p.On[k][0] - p.On[0][0], p.On[k][1] - p.On[0][1]}
			boarded += (a[0]*b[1] - a[1]*b[0]) / 2 * (p.Boards[0] + p.Boards[k-1] + p.Boards[k]) / 3
		}
	})
	near(t, "boards part by part", boarded, boards, 1e-6)
}

// TestTwoSectionsFollowTheRoof: dishes of 2 by 2 m, 10 mm deep, lie on the cut lines x = 12 m and x = 8 m of two sections, laid to the east and to the west. The corrected roof, read as a survey, follows both alike: on the cut line it is as deep as
// it was, half a metre beyond it half as deep and 10 mm of boards higher.
func TestTwoSectionsFollowTheRoof(t *testing.T) {
	r := level(20, 10)
	for _, x := range []float64{12, 8} {
		for _, p := range []orb.Point{{x - 1, 4}, {x + 1, 4}, {x + 1, 6}, {x - 1, 6}} {
			shape.Spot(r, p[0], p[1], 0)
		}
		shape.Spot(r, x, 5, -0.010)
	}
	s := built(t, r)
	d := planOf(t, s)
	base := taper.Existing(s.TIN)
	a := taper.Alter(d, base)
	for _, sign := range []float64{1, -1} {
		section := taper.Section{Domain: d, Base: base, Gauge: domain.FourWay(d.Axis), Front: orb.Point{10 + 2*sign, 0}, Up: orb.Point{sign, 0}, At: orb.Point{10 + 8*sign, 5}, Run: 2.4}
		l, err := section.Lay()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "area", l.Area(), 80, 1e-6)
		c, err := l.Try(taper.Courses{Taper: 0.02, Fall: 0.0001, Within: 0.02})
		if err != nil {
			t.Fatal(err)
		}
		a.Lay(c)
	}
	out := a.Design()
	near(t, "boards of both", out.Fill.Volume, 2*3.264, 1e-6)
	after := built(t, out.Roof(r, s))
	for _, sign := range []float64{1, -1} {
		for _, p := range []struct{ off, want float64 }{{2, -0.010}, {2.5, 0.005}, {1.5, -0.005}, {3.2, 0.024}, {6, 0.048}, {0.5, 0}} {
			z, _ := height(after, orb.Point{10 + sign*p.off, 5})
			near(t, "height", z, p.want, 2e-4)
		}
	}
}

// TestNoSection: where the roof ends before the cut line nothing can be laid, nor where the place that tells which part is off the roof.
func TestNoSection(t *testing.T) {
	s := built(t, level(20, 10))
	d := planOf(t, s)
	for _, c := range []struct {
		front, at orb.Point
		fails     bool
	}{{orb.Point{21, 0}, orb.Point{22, 5}, true}, {orb.Point{12, 0}, orb.Point{18, 15}, true}, {orb.Point{12, 0}, orb.Point{18, 5}, false}} {
		section := taper.Section{Domain: d, Base: taper.Existing(s.TIN), Gauge: domain.FourWay(d.Axis), Front: c.front, Up: orb.Point{1, 0}, At: c.at, Run: 1}
		if _, err := section.Lay(); (err != nil) != c.fails {
			t.Errorf("beyond %v at %v: %v", c.front, c.at, err)
		}
	}
}
