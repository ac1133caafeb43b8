package correction

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// TestChangedBesideAPlace: a part of 1 by 1 m stands 0.1 m up and runs out over a metre on every side, from 4 to 7 m: a place a quarter of a metre before that to any side is beside what is changed, one farther off is not.
func TestChangedBesideAPlace(t *testing.T) {
	up := func(x, y float64) float64 {
		if (x == 5 || x == 6) && (y == 5 || y == 6) {
			return 0.1
		}
		return 0
	}
	var spots []orb.Point
	for x := 1.0; x < 12; x++ {
		for y := 2.0; y < 10; y++ {
			spots = append(spots, orb.Point{x, y})
		}
	}
	corners := []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}}
	d := designing(t, func(_, _ float64) float64 { return 0 }, corners, spots...)
	after := *designing(t, up, corners, spots...).in.Study
	where := surface.NewLocator(after.Surface.TIN)
	for q, want := range map[orb.Point]bool{
		{5.5, 5.5}: true, {3.8, 5.5}: true, {3.7, 5.5}: false, {7.2, 5.5}: true, {7.3, 5.5}: false, {5.5, 3.8}: true, {5.5, 3.7}: false, {5.5, 7.2}: true, {5.5, 7.3}: false,
	} {
		if got := d.changedBeside(where, q); got != want {
			t.Errorf("at %v: %v", q, got)
		}
	}
	// Of a flat valley through it as much counts as lies beside what is changed, 3.75 to 7.25 m, to the steps in which it is looked at; of one past it nothing, nor of one that nobody named or that is steep.
	line := func(y float64) slope.Line {
		return slope.Line{Plan: orb.LineString{{1, y}, {11, y}}, BelowMin: true, Resolved: true, Named: true}
	}
	steep, unnamed := line(5.5), line(5.5)
	steep.BelowMin, unnamed.Named = false, false
	for _, c := range []struct {
		lines []slope.Line
		want  float64
		at    orb.Point
	}{{[]slope.Line{line(5.5)}, 3.5, orb.Point{6, 5.5}}, {[]slope.Line{line(9)}, 0, orb.Point{}}, {[]slope.Line{steep, unnamed}, 0, orb.Point{}}, {[]slope.Line{line(9), line(5.5), line(5.5)}, 7, orb.Point{6, 5.5}}} {
		after.Slopes = &slope.Slopes{Valleys: c.lines}
		got, at := d.flatValleys(&after)
		if c.want == 0 && got != 0 || !(math.Abs(got-c.want) <= 0.8) || at != c.at {
			t.Errorf("%d valleys: %g m, the longest at %v, want %g at %v", len(c.lines), got, at, c.want, c.at)
		}
	}
}

// TestWaterThatSomethingFeeds: water that stood for twice as long after rain as it takes to dry at 5 mm a day, and for 48 hours at least: of 5 mm where nobody measured it, as deep as the pond it stands in. The unit within 3 m is looked at first.
func TestWaterThatSomethingFeeds(t *testing.T) {
	square := func(x float64) (out []roof.Position) {
		for _, p := range []orb.Point{{x, 0}, {x + 2, 0}, {x + 2, 2}, {x, 2}, {x, 0}} {
			out = append(out, roof.Position{Plan: p})
		}
		return out
	}
	d := &designer{Designer: &mend.Designer{Roof: &roof.Roof{}, Ponds: []mend.Pond{{ID: "P1", Depth: 0.02, Pit: orb.Point{21, 1}, Finding: finding.Dish}, {ID: "P2", Depth: 0.03, Place: orb.MultiPolygon{{roof.PlanOf(square(30))}}, Pit: orb.Point{99, 99}}}}}
	d.Roof.Curbs = []roof.Curb{{Label: "AHU-1", Ring: square(5)}}
	for _, c := range []struct {
		name          string
		x, hours, mm  float64
		ok            bool
		where, source string
	}{
		{"nobody measured it: 10 mm dry in 48 h", 0, 48, 0, true, "where water was seen", ""}, {"47 hours", 0, 47, 0, false, "", ""}, {"6 mm", 0, 57, 6, false, "", ""}, {"6 mm for 58 hours", 0, 58, 6, true, "where water was seen", ""}, {"over the lowest place of a pond of 20 mm", 20, 191, 0, false, "", ""}, {"there for 193 hours", 20, 193, 0, true, "at P1", "P1"}, {"deeper than that pond", 20, 193, 21, false, "", ""}, {"in a pond of 30 mm", 30, 289, 0, true, "at P2", "P2"}, {"beside a unit", 8.9, 50, 0, true, "where water was seen", ""},
	} {
		got, q, l, ok := d.fed(&roof.Stain{Ring: square(c.x), HoursSinceRain: c.hours, Depth: quantity.Length(c.mm / 1000)})
		if ok != c.ok {
			t.Errorf("%s: %v", c.name, ok)
			continue
		}
		if !ok {
			continue
		}
		if got.Kind != mend.RemoveSource || got.Pond != c.source || q.Where != c.where || !(math.Abs(l.Required.Value-c.hours*0.005/24) <= 1e-9) || strings.Contains(got.What.Format, "AHU-1") != (c.x == 8.9) {
			t.Errorf("%s: %+v, %+v, %s", c.name, l, q, got.What.Format)
		}
		mendtest.SamePlace(t, c.name, got.At, orb.Point{c.x + 1, 1})
	}
}

// TestWaysOfATaper: how many ways boards fall, by the directions of their taper: those of 2 % of the area and less are a detail, level ones none.
func TestWaysOfATaper(t *testing.T) {
	facet := func(degrees, area float64) taper.Facet {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return taper.Facet{Area: area, Taper: orb.Point{0.02 * cos, 0.02 * sin}}
	}
	for want, facets := range map[string][]taper.Facet{
		"one-way": {facet(0, 5), facet(5, 5), {Area: 100}, facet(90, 0.19)}, "two-way": {facet(0, 5), facet(180, 5), facet(90, 0.2)}, "three-way": {facet(0, 5), facet(180, 5), facet(90, 0.3)}, "four-way": {facet(0, 5), facet(180, 5), facet(90, 3), facet(270, 3)}, "eight-way": {facet(0, 1), facet(45, 1), facet(90, 1), facet(135, 1), facet(180, 1)},
	} {
		if got := ways(&taper.Design{Facets: facets}); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

// TestPlanesUnderAnOption: of a roof as found under the criterion on a part of it: a place lies on a flat plane there or not; a surface is changed where it leaves the old by more than a millimetre, or lies where no roof was.
func TestPlanesUnderAnOption(t *testing.T) {
	d := weighed(t)
	own := *d.Study
	n := d.Surface.TIN.Facets()
	own.Slopes = &slope.Slopes{Planes: []slope.Plane{{BelowMin: true}, {}}, Plane: make([]int32, n)}
	for f := range own.Slopes.Plane {
		own.Slopes.Plane[f] = int32(f%3) - 1
	}
	d.Study = &own
	for f := range int32(n) {
		q, z := d.Surface.TIN.Middle(f)
		v := d.Surface.TIN.V[3*f : 3*f+3]
		mendtest.SamePlace(t, "middle", q, orb.Point{(d.Surface.TIN.X[v[0]] + d.Surface.TIN.X[v[1]] + d.Surface.TIN.X[v[2]]) / 3, (d.Surface.TIN.Y[v[0]] + d.Surface.TIN.Y[v[1]] + d.Surface.TIN.Y[v[2]]) / 3})
		mendtest.About(t, "height", z, 3)
		if got := d.flatBefore(q); got != (own.Slopes.Plane[f] == 0) {
			t.Errorf("facet %d of plane %d: flat %v", f, own.Slopes.Plane[f], got)
		}
	}
	if d.flatBefore(orb.Point{-5, 5}) {
		t.Error("off the roof it was flat")
	}
	for z, want := range map[float64]bool{3: false, 3.0009: false, 3.0011: true, 2.9991: false, 2.9989: true} {
		if got := d.changedAt(orb.Point{5, 5}, z); got != want {
			t.Errorf("at %g: %v", z, got)
		}
	}
	if !d.changedAt(orb.Point{-5, 5}, 3) {
		t.Error("where no roof was nothing changes")
	}
}
