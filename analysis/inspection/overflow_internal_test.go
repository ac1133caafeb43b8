package inspection

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/cause"
	"runnel/analysis/drainage"
	"runnel/analysis/finding"
	"runnel/analysis/place"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

const in2 = float64(quantity.Inch) // an inch [m]

// TestHeightOfAnOverflow: an inlet is set no better than half an inch: an overflow counts as high from 2-1/2 in over the primary on where 2 in are used, and as low from half an inch below it; where spots are good to 5 mm three errors of a difference, 21.2 mm, count instead. What nobody measured is not judged, nor a gutter, nor where there is no primary outlet.
// The roof at an inlet counts where it stands higher.
func TestHeightOfAnOverflow(t *testing.T) {
	most := standard.OverflowHeight
	for _, c := range []struct {
		name   string
		above  float64
		sigma  float64
		change func(primary, over *surface.Outlet)
		want   finding.Kind // none: ""
	}{
		{"as used", most, 0, nil, ""},
		{"half an inch over", most + in2/2 - 1e-4, 0, nil, ""},
		{"more than that over", most + in2/2 + 1e-4, 0, nil, finding.OverflowHigh},
		{"within three errors", most + 0.0211, 0.005, nil, ""},
		{"over three errors", most + 0.0213, 0.005, nil, finding.OverflowHigh},
		{"level", 0, 0, nil, ""},
		{"half an inch under", -in2/2 + 1e-4, 0, nil, ""},
		{"more than that under", -in2/2 - 1e-4, 0, nil, finding.OverflowLow},
		{"nobody measured it", most + 1, 0, func(_, o *surface.Outlet) { o.InvertAssumed = true }, ""},
		{"nobody measured the primary", most + 1, 0, func(p, _ *surface.Outlet) { p.InvertAssumed = true }, ""},
		{"an edge", most + 1, 0, func(_, o *surface.Outlet) { o.Type = roof.EdgeOutlet }, ""},
		{"no primary", most + 1, 0, func(p, _ *surface.Outlet) { p.Duty = roof.Overflow }, ""},
		{"a primary edge alone", most + 1, 0, func(p, _ *surface.Outlet) { p.Type = roof.EdgeOutlet }, ""},
		{"the roof at the primary is as high", most + 1, 0, func(p, _ *surface.Outlet) { p.Low = most + 1 }, ""},
		{"the roof at the overflow is high", 0, 0, func(_, o *surface.Outlet) { o.Low = most + 1 }, finding.OverflowHigh},
	} {
		in := box(t)
		in.Criteria.OverflowStated = 0
		in.Surface.Outlets = []surface.Outlet{{Plan: orb.Point{5, 5}, Duty: roof.Primary, Label: "A", Low: -1}, {Plan: orb.Point{6, 5}, Duty: roof.Overflow, Label: "B", Invert: c.above, Low: -1}}
		if c.sigma > 0 {
			in.Surface.TIN.Sigma = []float64{c.sigma, 0, c.sigma}
		}
		if c.change != nil {
			c.change(&in.Surface.Outlets[0], &in.Surface.Outlets[1])
		}
		f := in.heights()
		if got := len(f); got != 0 && c.want == "" || c.want != "" && (got != 1 || f[0].Kind != c.want || f[0].Outlet != 1) {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}

// TestWhatAHighOverflowWeighs: 5 in over the primary where 2 in are used are 3 in more: by hand 76.2 mm of water at 1,000 kg/m3 weigh 747 Pa, an inch 249 Pa. Over the low point of the roof at the primary, 1 in under its inlet, it is 6 in. Where a figure was stated for the roof, that is required.
func TestWhatAHighOverflowWeighs(t *testing.T) {
	in := box(t)
	in.Surface.Outlets = []surface.Outlet{{Plan: orb.Point{5, 5}, Duty: roof.Primary, Label: "A", Low: -in2}, {Plan: orb.Point{6, 5}, Duty: roof.Overflow, Label: "B", Invert: 5 * in2, Low: -in2}}
	f := in.heights()[0]
	for i, want := range []float64{5 * in2, 6 * in2, 3 * in2 * 1000 * standard.Gravity, in2 * 1000 * standard.Gravity} {
		if !(math.Abs(f.Measured[i].Value-want) <= 2e-3*want) {
			t.Errorf("%s: %g, want %g", f.Measured[i].Name, f.Measured[i].Value, want)
		}
	}
	if !(math.Abs(f.Required[0].Value-2*in2) <= 1e-9) || f.Size != 5*in2 || f.Severity != finding.Repair || f.Decides != finding.Engineer || !strings.Contains(f.Why.Format, "Sources disagree") {
		t.Errorf("%+v", f)
	}
	in.Criteria.OverflowStated = 4 * in2
	f = in.heights()[0]
	if !(math.Abs(f.Required[0].Value-4*in2) <= 1e-9) || !(math.Abs(f.Measured[2].Value-in2*1000*standard.Gravity) <= 1) || !strings.Contains(f.Why.Format, "The figure stated for this roof is {0}") {
		t.Errorf("%+v", f)
	}
	// Each rule on heights is named, with what it says.
	for _, r := range in.rules().Heights {
		if !strings.Contains(f.Source, r.Source.Text+": "+r.What+"; ") {
			t.Errorf("%s is not named in %s", r.What, f.Source)
		}
	}
}

// TestLowOverflowBesideAHighPrimary: where a pond's finding already says that the primary stands high, the low overflow is a note.
func TestLowOverflowBesideAHighPrimary(t *testing.T) {
	in := box(t)
	in.Surface.Outlets = []surface.Outlet{{Plan: orb.Point{5, 5}, Duty: roof.Primary, Invert: 0.05}, {Plan: orb.Point{6, 5}, Duty: roof.Overflow}}
	for outlet, want := range map[int32]finding.Severity{-1: finding.Repair, 1: finding.Repair, 0: finding.Note} {
		in.Causes = []cause.Diagnosis{{Outlet: outlet}}
		f := in.heights()
		if len(f) != 1 || f[0].Severity != want || !(math.Abs(f[0].Size-0.05) <= 1e-12) {
			t.Errorf("a pond's outlet %d: %+v", outlet, f)
		}
	}
}

// TestPrimaryOfAnOverflow: where nobody knows the flow the nearest primary drain or scupper, no overflow, no edge and not itself; -1 where there is none. (TestOverflowStandsForTheOutletItsWaterRunsTo has a flow.)
func TestPrimaryOfAnOverflow(t *testing.T) {
	for x, want := range map[float64]int{5: 0, 6.9: 0, 7.1: 1, 40: 1} {
		in := box(t)
		in.Surface.Outlets = []surface.Outlet{{Plan: orb.Point{2, 5}, Duty: roof.Primary}, {Plan: orb.Point{12, 5}, Duty: roof.Primary}, {Plan: orb.Point{x, 5}, Type: roof.EdgeOutlet, Duty: roof.Primary}, {Plan: orb.Point{x, 5}, Duty: roof.Overflow}}
		if got := in.primaryOf(3); got != want {
			t.Errorf("at %g m: %d, want %d", x, got, want)
		}
	}
	in := box(t)
	in.Surface.Outlets = []surface.Outlet{{Duty: roof.Overflow}}
	if got := in.primaryOf(0); got != -1 {
		t.Errorf("without a primary: %d", got)
	}
}

// TestOneWayOut: a walled roof with one primary outlet is told so; two, an open edge, none, or walls that are assumed are not.
func TestOneWayOut(t *testing.T) {
	primary, overflow, edge := surface.Outlet{Duty: roof.Primary, Label: "A"}, surface.Outlet{Duty: roof.Overflow}, surface.Outlet{Type: roof.EdgeOutlet, Duty: roof.Primary}
	for _, c := range []struct {
		name    string
		outlets []surface.Outlet
		assumed bool
		want    int // which one; -1 none
	}{
		{"one", []surface.Outlet{primary}, false, 0},
		{"one after overflows", []surface.Outlet{overflow, primary, overflow}, false, 1},
		{"two", []surface.Outlet{primary, primary}, false, -1},
		{"two apart", []surface.Outlet{primary, overflow, primary}, false, -1},
		{"an open edge", []surface.Outlet{primary, edge}, false, -1},
		{"an open edge first", []surface.Outlet{edge, primary}, false, -1},
		{"overflows alone", []surface.Outlet{overflow}, false, -1},
		{"none", nil, false, -1},
		{"edges assumed", []surface.Outlet{primary}, true, -1},
	} {
		in := box(t)
		in.Surface.Outlets, in.Roof.Outline.EdgeAssumed = c.outlets, c.assumed
		f := in.single()
		if len(f) == 0 && c.want >= 0 || len(f) > 0 && (c.want < 0 || f[0].Outlet != c.want || f[0].Measured[0].Value != 1 || f[0].Required[0].Value != 2 || f[0].Kind != finding.OutletSingle) {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}

// TestSmallOpenings: a scupper under 4 in the lesser way, by more than 2 mm; a height that nobody gave counts for nothing, and so does a width that was assumed.
func TestSmallOpenings(t *testing.T) {
	for _, c := range []struct {
		name          string
		width, height float64
		assumed       bool
		want          bool
		side          float64
	}{
		{"100 mm", 0.1, 0.1, false, false, 0}, {"99 mm wide", 0.099, 0.3, false, true, 0.099}, {"99 mm high", 0.3, 0.099, false, true, 0.099}, {"no height", 0.1, 0, false, false, 0}, {"an assumed width", 0.05, 0, true, false, 0}, {"an assumed width and a low opening", 0.05, 0.08, true, true, 0.08},
	} {
		in := box(t)
		in.Surface.Outlets = []surface.Outlet{{Source: 0, Duty: roof.Overflow, Type: roof.Scupper, Label: "S"}}
		m := roof.Outlet{Type: roof.Scupper, Width: quantity.Length(c.width), OpeningHeight: quantity.Length(c.height), WidthAssumed: c.assumed}
		in.Roof.Outlets = []roof.Outlet{m}
		f := in.openings()
		if (len(f) == 1) != c.want || c.want && (!(math.Abs(f[0].Measured[0].Value-c.side) <= 1e-12) || f[0].Kind != finding.OverflowSmall || f[0].Severity != finding.Repair || f[0].Outlet != 0) {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
	in := box(t)
	small := roof.Outlet{Type: roof.Scupper, Width: 0.05}
	in.Roof.Outlets = []roof.Outlet{small, small, small}
	in.Surface.Outlets = []surface.Outlet{{Source: 0, Duty: roof.Primary, Type: roof.Scupper}, {Source: -1, Duty: roof.Overflow, Type: roof.EdgeOutlet}, {Source: 1, Duty: roof.Overflow, Type: roof.EdgeOutlet}, {Source: 2, Duty: roof.Overflow, Type: roof.Drain}}
	if f := in.openings(); len(f) != 0 {
		t.Errorf("of no overflow scupper: %+v", f)
	}
}

// TestSizesOfOverflowsByRule: beside a drain of 100 mm an overflow drain is to be as large, a scupper as wide as the drain is round, 314 mm, and three times its area, 23,562 mm2. Each that it misses stands with its figures; none where it takes the secondary rain, or where sizes are not known.
func TestSizesOfOverflowsByRule(t *testing.T) {
	const d = 0.1
	girth, area := math.Pi*d, standard.OverflowTimes*math.Pi/4*d*d
	for _, c := range []struct {
		name    string
		m       roof.Outlet
		takes   bool
		primary roof.OutletType
		want    [][2]float64 // have and asked
	}{
		{"a drain as large", roof.Outlet{Type: roof.Drain, Diameter: d}, false, roof.Drain, nil},
		{"a smaller drain", roof.Outlet{Type: roof.Drain, Diameter: 0.099}, false, roof.Drain, [][2]float64{{0.099, d}}},
		{"a drain of no size", roof.Outlet{Type: roof.Drain}, false, roof.Drain, nil},
		{"a scupper as wide and as large", roof.Outlet{Type: roof.Scupper, Width: quantity.Length(girth), OpeningHeight: quantity.Length(area/girth + 1e-6)}, false, roof.Drain, nil},
		{"narrower", roof.Outlet{Type: roof.Scupper, Width: 0.31, OpeningHeight: 0.5}, false, roof.Drain, [][2]float64{{0.31, girth}}},
		{"as wide, too low", roof.Outlet{Type: roof.Scupper, Width: 0.32, OpeningHeight: 0.05}, false, roof.Drain, [][2]float64{{0.016, area}}},
		{"both", roof.Outlet{Type: roof.Scupper, Width: 0.2, OpeningHeight: 0.05}, false, roof.Drain, [][2]float64{{0.2, girth}, {0.01, area}}},
		{"no height", roof.Outlet{Type: roof.Scupper, Width: 0.2}, false, roof.Drain, [][2]float64{{0.2, girth}}},
		{"a width that is assumed", roof.Outlet{Type: roof.Scupper, Width: 0.2, WidthAssumed: true}, false, roof.Drain, nil},
		{"it takes what comes", roof.Outlet{Type: roof.Scupper, Width: 0.2}, true, roof.Drain, nil},
		{"beside a scupper", roof.Outlet{Type: roof.Scupper, Width: 0.2}, false, roof.Scupper, nil},
	} {
		in := box(t)
		in.Surface.Outlets = []surface.Outlet{{Label: "A"}, {Label: "B"}}
		in.Drainage = &drainage.Drainage{Outlets: []drainage.Outlet{{}, {Takes: c.takes}}}
		f, missed := in.variants(1, 0, &c.m, &roof.Outlet{Type: c.primary, Diameter: d})
		if missed != (len(c.want) > 0) || missed && len(f.Measured) != len(c.want) {
			t.Errorf("%s: %v, %+v", c.name, missed, f)
			continue
		}
		for i, want := range c.want {
			if !(math.Abs(f.Measured[i].Value-want[0]) <= 1e-9) || !(math.Abs(f.Required[i].Value-want[1]) <= 1e-9) {
				t.Errorf("%s: %g of %g, want %g of %g", c.name, f.Measured[i].Value, f.Required[i].Value, want[0], want[1])
			}
		}
		if missed && (f.Severity != finding.Note || strings.Count(f.What.Format, ",") != len(c.want)-1 || !strings.HasSuffix(f.Source, standard.LocalCode)) {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
	in := box(t)
	in.Surface.Outlets = make([]surface.Outlet, 2)
	if _, missed := in.variants(1, 0, &roof.Outlet{Type: roof.Drain, Diameter: 0.05}, &roof.Outlet{Type: roof.Drain}); missed {
		t.Error("beside a drain of no size")
	}
	if in.takes(0) {
		t.Error("nobody asked what it takes")
	}
}

// TestLevelsThatContradict: of sills and cores: a sill 2 ft off the roof is still at it, farther it is astray; one more than half an inch below the roof before it is to be repaired; a core off the roof is astray. Each is called by its label, else its id.
func TestLevelsThatContradict(t *testing.T) {
	in := box(t)
	in.Places = place.New(in.Roof, in.Surface.TIN, nil)
	sill := func(id, label string, x, y, z float64) roof.Sill {
		s := roof.Sill{Position: roof.Position{Plan: orb.Point{x, y}, Z: z, HasZ: true}, Label: label}
		s.ID = id
		return s
	}
	core := func(id string, x float64) roof.Core {
		c := roof.Core{Position: roof.Position{Plan: orb.Point{x, 5}}}
		c.ID = id
		return c
	}
	in.Roof.Sills = []roof.Sill{sill("S1", "", 5, 0, -0.0126), sill("S2", "door", 5, 0, -0.0128), sill("S3", "", 5, -0.6, 1), sill("S4", "", 5, -0.62, 1), sill("S5", "", 5, -0.62, -1)}
	in.Roof.Cores = []roof.Core{core("K1", 3), core("K2", -0.06)}
	want := []struct {
		kind finding.Kind
		says string
	}{
		{finding.SillBelowRoof, "Sill door lies 0.0128 below the roof before it."}, {finding.OffRoof, "The sill S4 lies off the roof: nothing is said of it."}, {finding.OffRoof, "The sill S5 lies off the roof: nothing is said of it."}, {finding.OffRoof, "The core K2 lies off the roof: nothing is said of it."},
	}
	got := in.levels()
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i, w := range want {
		if got[i].Kind != w.kind || spoken(got[i].What) != w.says {
			t.Errorf("%d: %s, %s; want %s", i, got[i].Kind, spoken(got[i].What), w.says)
		}
	}
	if got[0].Size != 0.0128 || got[0].Severity != finding.Repair {
		t.Errorf("%+v", got[0])
	}
}

// TestNamesInALine: up to six by name, the last after "and"; of more the first six and how many are left.
func TestNamesInALine(t *testing.T) {
	for want, names := range map[string][]string{
		"A": {"A"}, "A and B": {"A", "B"}, "A, B, C, D, E and F": {"A", "B", "C", "D", "E", "F"}, "A, B, C, D, E, F and 1 more": {"A", "B", "C", "D", "E", "F", "G"}, "A, B, C, D, E, F and 2 more": {"A", "B", "C", "D", "E", "F", "G", "H"},
	} {
		if got := listed(names); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
