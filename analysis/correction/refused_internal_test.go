package correction

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/rainload"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// twoOutlets is a roof with a primary drain, number 0, and an overflow drain, number 1.
func twoOutlets() *roof.Roof {
	r := shape.New("two", shape.At(0, 0, 3), shape.At(10, 0, 3), shape.At(10, 10, 3), shape.At(0, 10, 3))
	r.Outlets = []roof.Outlet{{Label: "RD-1"}, {Label: "OD-1", Duty: roof.Overflow}}
	return r
}

// TestNewFindingIsRefused: a finding at repair or above is new where the roof had none of its kind in that place or at that outlet, or a pond that was 2 mm shallower: 3 mm deeper is new, 1 mm is what a level does not tell.
func TestNewFindingIsRefused(t *testing.T) {
	box := func(x float64) orb.Bound { return orb.Bound{Min: orb.Point{x, 0}, Max: orb.Point{x + 2, 2}} }
	pond := func(x, depth float64) found {
		return found{kind: finding.LowPlace, source: -1, pond: true, depth: depth, at: orb.Point{x + 1, 1}, bound: box(x)}
	}
	a := &state{found: []found{pond(0, 0.020), {kind: finding.OutletSmall, source: 0, bound: box(0)}, {kind: finding.PlaneFlat, source: -1, bound: box(0)}}}
	s := &study.Study{Roof: twoOutlets()}
	for _, c := range []struct {
		name string
		f    found
		want string
	}{
		{"pond as deep", pond(0, 0.021), ""},
		{"pond 3 mm deeper", pond(0, 0.023), "new finding: low-place"},
		{"pond elsewhere", pond(6, 0.010), "new finding: low-place"},
		{"the same outlet", found{kind: finding.OutletSmall, source: 0, bound: box(0)}, ""},
		{"another outlet", found{kind: finding.OutletSmall, source: 1, bound: box(0)}, "new finding: outlet-small"},
		{"the same plane", found{kind: finding.PlaneFlat, source: -1, bound: box(1)}, ""},
		{"a plane elsewhere", found{kind: finding.PlaneFlat, source: -1, bound: box(6)}, "new finding: plane-flat"},
		{"another kind there", found{kind: finding.ValleyFlat, source: -1, bound: box(0)}, "new finding: valley-flat"},
	} {
		got := a.newFindings(&state{s: s, found: []found{c.f}})
		if c.want == "" && len(got) > 0 || c.want != "" && (len(got) != 1 || got[0].Name != c.want) {
			t.Errorf("%s: %+v, want %q", c.name, got, c.want)
		}
	}
}

// TestOverflowLeftHighIsRefused: an overflow that comes to stand more than 2 in over its primary outlet and the half inch to which an inlet is set, 63.5 mm, is refused; one that stood as high before is not, nor one
// that the engineer's figure allows.
func TestOverflowLeftHighIsRefused(t *testing.T) {
	for _, c := range []struct {
		name               string
		was, now, engineer float64 // [m]; engineer 0: no figure
		refused            bool
	}{
		{"2-3/8 in", 0.050, 0.060, 0, false},
		{"2-3/4 in", 0.050, 0.070, 0, true},
		{"as high before", 0.070, 0.071, 0, false},
		{"high before, higher now", 0.070, 0.080, 0, true},
		{"2-3/4 in, engineer: 3 in", 0.050, 0.070, 0.0762, false},
	} {
		s := &study.Study{Roof: twoOutlets(), Criteria: standard.Criteria{OverflowStated: c.engineer}}
		a, b := &state{above: map[int]float64{1: c.was}}, &state{s: s, above: map[int]float64{1: c.now}}
		if got := a.higherOverflows(b); (len(got) > 0) != c.refused || c.refused && got[0].Where != "OD-1" {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// TestMoreBlockedWaterIsRefused: with every primary outlet blocked the level at an outlet may not rise, by 2 mm at most for what a level resolves, and by as much as the inlet itself comes up where the roof is covered; nor
// may the weight, by more than a fiftieth and 1 kg and what a cut makes room for: 0.1 m3 hold 100 kg. Deeper water at the same level, in a sump, is not refused.
func TestMoreBlockedWaterIsRefused(t *testing.T) {
	for _, c := range []struct {
		name                string
		level, inlet        float64 // after; 3.050 and 3.000 m before
		weight, cut         float64 // after; 1000 kg before [m3]
		highers, heavierToo bool
	}{
		{"as before", 3.050, 3.000, 1000, 0, false, false},
		{"1 mm higher", 3.051, 3.000, 1000, 0, false, false},
		{"3 mm higher", 3.053, 3.000, 1000, 0, true, false},
		{"covered, with its inlet", 3.063, 3.013, 1000, 0, false, false},
		{"covered, higher than its inlet came up", 3.066, 3.013, 1000, 0, true, false},
		{"a sump 30 mm deep", 3.050, 2.970, 1000, 0.05, false, false},
		{"20 kg heavier", 3.050, 3.000, 1020, 0, false, false},
		{"22 kg heavier", 3.050, 3.000, 1022, 0, false, true},
		{"119 kg in a sump of 100 kg", 3.050, 2.970, 1119, 0.1, false, false},
		{"123 kg in a sump of 100 kg", 3.050, 2.970, 1123, 0.1, false, true},
	} {
		s := func(weight float64) *study.Study {
			return &study.Study{Roof: twoOutlets(), RainLoad: &rainload.Load{Weight: weight}}
		}
		a := &state{s: s(1000), weight: 1000, levels: map[int]float64{0: 3.050}, inlets: map[int]float64{0: 3}}
		b := &state{s: s(c.weight), weight: c.weight, levels: map[int]float64{0: c.level}, inlets: map[int]float64{0: c.inlet}}
		o := &Option{}
		d := weighed(t)
		o.Design = moved(d, 0, 0)
		o.Design.Fill.Cut = c.cut
		got := a.moreWater(b, o)
		if limited(got, "level of the water with every primary outlet blocked") != c.highers || limited(got, "weight of the water with every primary outlet blocked") != c.heavierToo {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// TestLongerFlatValleyIsRefused: of a valley that is named, under the criterion and 4 m long, what lies on changed roof counts as new, where the roof as found had none within 2 m; a valley on roof that stays, one that is
// not named and one beside an old one do not.
func TestLongerFlatValleyIsRefused(t *testing.T) {
	d := weighed(t)
	after, err := study.Run(moved(d, 0.05, 0).Roof(d.Roof, d.Surface), study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	own := *d.Study
	d.Study = &own
	line := func(x0, x1, y float64, named bool) slope.Line {
		return slope.Line{Kind: slope.ValleyLine, Named: named, BelowMin: true, Resolved: true, Length: x1 - x0, Plan: orb.LineString{{x0, y}, {x1, y}}}
	}
	for _, c := range []struct {
		name  string
		line  slope.Line
		found []slope.Line
		want  float64
	}{
		{"on changed roof", line(1, 5, 5, true), nil, 4},
		{"not named", line(1, 5, 5, false), nil, 0},
		{"along the border, which stays", line(1, 5, 0, true), nil, 0},
		{"beside one that was flat", line(1, 5, 5, true), []slope.Line{line(1, 5, 6, true)}, 0},
	} {
		s := &study.Study{Roof: d.Roof, Surface: after.Surface, Slopes: &slope.Slopes{Valleys: []slope.Line{c.line}}}
		own.Slopes = &slope.Slopes{Valleys: c.found}
		if got, _ := d.flatValleys(s); got < c.want-0.3 || got > c.want+0.3 {
			t.Errorf("%s: %g m, want %g", c.name, got, c.want)
		}
	}
}
