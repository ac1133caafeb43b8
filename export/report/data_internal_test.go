package report

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/contour"
	"runnel/analysis/finding"
	"runnel/analysis/flood"
	"runnel/analysis/inspection"
	"runnel/analysis/rainfall"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/export/model"
	"runnel/export/palette"
	"runnel/export/record"
	"runnel/export/sample"
)

// sums returns what a list of differences stands for.
func sums(list []int64) []int64 {
	out := make([]int64, len(list))
	last := int64(0)
	for i, d := range list {
		last += d
		out[i] = last
	}
	return out
}

// What the page's scripts read is the surface: every corner to half a grid, every facet's corners, the class of its plane (by how many limits its slope reaches), and of the border, by hand, 12 m of
// gutter that take water and 52 m of wall that hold it; the curb's 6 m are neither.
func TestSurfaceReadsBack(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.US)
	var page struct {
		Grid         float64
		Units, Class string
		X, Y, Z, V   []int64
		Closed, Open []int
		Steep        []string
		Limits       []float64
		Depths       [][2]float64
		Palette      map[string]string
		File         map[string]float64
	}
	if err := json.Unmarshal(surfaceData(b), &page); err != nil {
		t.Fatal(err)
	}
	tin, slopes := b.Study.Surface.TIN, b.Study.Slopes
	for axis, c := range map[string]struct {
		got  []int64
		want []float64
	}{"x": {page.X, tin.X}, "y": {page.Y, tin.Y}, "z": {page.Z, tin.Z}} {
		if len(c.got) != len(c.want) {
			t.Fatalf("%d of %d %s", len(c.got), len(c.want), axis)
		}
		for i, n := range sums(c.got) {
			if !(math.Abs(float64(n)*page.Grid-c.want[i]) <= 0.51*page.Grid) {
				t.Fatalf("%s of corner %d is %v, want %v", axis, i, float64(n)*page.Grid, c.want[i])
			}
		}
	}
	for i, v := range sums(page.V) {
		if v != int64(tin.V[i]) {
			t.Fatalf("corner %d of all facets is %d, want %d", i, v, tin.V[i])
		}
	}
	for f, p := range slopes.Plane {
		class := 0
		for _, limit := range page.Limits {
			if p >= 0 && slopes.Planes[p].Slope >= limit {
				class++
			}
		}
		if int(page.Class[f]-'0') != class {
			t.Errorf("facet %d of plane %d: class %c, want %d", f, p, page.Class[f], class)
		}
	}
	for name, c := range map[string]struct {
		edges []int
		long  float64
	}{"open": {page.Open, 12}, "closed": {page.Closed, 52}} {
		long := 0.0
		for _, e := range c.edges {
			a, b := tin.V[e], tin.V[e-e%3+(e+1)%3]
			long += math.Hypot(tin.X[a]-tin.X[b], tin.Y[a]-tin.Y[b])
		}
		if !(math.Abs(long-c.long) <= 1e-6) {
			t.Errorf("%s: %v m, want %v", name, long, c.long)
		}
	}
	if page.Units != "us" || page.Palette["ink"] != palette.Ink || page.Palette["water"] != palette.Water || page.Palette["primary"] != palette.Primary || page.Palette["overflow"] != palette.Overflow ||
		strings.Join(page.Steep, " ") != strings.Join(palette.Steepness[:], " ") || len(page.Limits) != 4 || page.File["east"] != 1000 || page.File["north"] != 2000 || page.File["metres"] != 1 {
		t.Errorf("%+v", page)
	}
	for i, inches := range []float64{0, 0.5, 1, 2} { // where the classes of depth begin
		if !(math.Abs(page.Depths[i][0]-inches*0.0254) <= 1e-7) || i > 0 && page.Depths[i][1] <= page.Depths[i-1][1] {
			t.Errorf("class %d of depth: %v", i, page.Depths[i])
		}
	}
}

// Where each corner stands under water at each moment, and how high, reads back as the storm has it; rain of 75 mm in an hour falls until the hour is over.
func TestStormReadsBack(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
	w := standingOf(b)
	var page struct {
		Grid             float64
		Moments          []float64
		Rain             []string
		Limits, Strength []float64
		Cases            [][][2][]int64
	}
	if err := json.Unmarshal(w.data(b), &page); err != nil {
		t.Fatal(err)
	}
	for i, limit := range w.Limits { // darker in even steps, by hand
		if page.Limits[i] != limit || !(math.Abs(page.Strength[i]-0.25-0.65*float64(i+1)/float64(len(w.Limits))) <= 1e-9) {
			t.Errorf("class %d from %v: %v, %v", i, limit, page.Limits[i], page.Strength[i])
		}
	}
	tin, wet := b.Study.Surface.TIN, 0
	if len(page.Cases) != len(b.StormCases()) || len(page.Limits) != len(w.Limits) || len(page.Strength) != len(w.Limits) {
		t.Fatalf("%d cases, %v, %v", len(page.Cases), page.Limits, page.Strength)
	}
	for i, c := range b.StormCases() {
		for k, moment := range b.Study.Storm.Moments {
			rain := map[bool]string{true: "75 mm/h", false: "0 mm/h"}[moment > 0 && moment <= 3600]
			if !(math.Abs(page.Moments[k]-moment) <= 0.5) || page.Rain[k] != rain {
				t.Errorf("moment %d is %v s with %s, want %v with %s", k, page.Moments[k], page.Rain[k], moment, rain)
			}
			levels, runs, v := sums(page.Cases[i][k][0]), page.Cases[i][k][1], 0
			for r := 0; r < len(runs); r += 2 {
				if r > 0 && runs[r] == runs[r-2] {
					t.Errorf("%s, %v s: a run goes on in the next", c.Name, moment)
				}
				for range runs[r+1] {
					want, got := c.Levels[k][v], math.Inf(-1)
					if n := runs[r]; n > 0 {
						got = float64(levels[n-1]) * page.Grid
						wet++
					}
					if under := want > tin.Z[v]; under != !math.IsInf(got, -1) || under && !(math.Abs(got-want) <= 0.51*page.Grid) {
						t.Fatalf("%s, %v s: corner %d at %v is under %v, want %v", c.Name, moment, v, tin.Z[v], got, want)
					}
					v++
				}
			}
			if v != len(tin.Z) {
				t.Errorf("%s, %v s: %d corners of %d", c.Name, moment, v, len(tin.Z))
			}
		}
	}
	if wet == 0 {
		t.Error("no corner was under water")
	}
}

// A rate holds from after its beginning up to its end, both by hand.
func TestRateAt(t *testing.T) {
	s := &study.Storm{Design: &study.Design{Rain: rainfall.Hyetograph{Time: []float64{0, 600, 1200}, Rate: []float64{3, 5}}}}
	for at, want := range map[float64]float64{0: 0, 1: 3, 600: 3, 601: 5, 1200: 5, 1201: 0} {
		if got := rateAt(s, at); got != want {
			t.Errorf("after %v s it rains %v, want %v", at, got, want)
		}
	}
}

// Classes of water darken in even steps to 0.9, by hand; each says up to where it goes, the last from where on, one alone that it is water.
func TestClassesOfTheStorm(t *testing.T) {
	for _, c := range []struct {
		limits []float64
		want   string
	}{
		{[]float64{0}, "water 0.90"},
		{[]float64{0, 0.05}, "to 50 mm 0.57, over 50 mm 0.90"},
		{[]float64{0, 0.025, 0.05, 0.075, 0.1}, "to 25 mm 0.38, to 50 mm 0.51, to 75 mm 0.64, to 100 mm 0.77, over 100 mm 0.90"},
	} {
		var got []string
		for _, s := range (&standing{Limits: c.limits}).classes(record.SI) {
			got = append(got, s.Text+" "+s.Strength)
		}
		if strings.Join(got, ", ") != c.want {
			t.Errorf("%v: %q, want %q", c.limits, got, c.want)
		}
	}
}

// A layer stays out of the page only where it has more points than the page takes, and is named as left out.
func TestLayersOfThePage(t *testing.T) {
	line := func(n int) orb.LineString { return make(orb.LineString, n) }
	for name, put := range map[string]func(b *record.Book, over int){
		"spot": func(b *record.Book, over int) { b.Study.Roof.Spots = make([]roof.Spot, 3000+over) },
		"contour": func(b *record.Book, over int) {
			b.Study.Contours = []contour.Line{{Plan: line(20000)}, {Plan: line(40000 + over)}}
		},
		"water": func(b *record.Book, over int) {
			ring := orb.Ring(line(30000))
			b.Waters = []record.Water{{Bands: []flood.Band{{Outline: orb.MultiPolygon{{ring}}}}}, {Bands: []flood.Band{{Outline: orb.MultiPolygon{{ring[:29999]}, {ring[:1+over]}}}}}}
		},
	} {
		for over, out := range []bool{false, true} {
			b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
			put(b, over)
			names, left := inPage(b)
			if got := strings.Contains(strings.Join(left, " ")+" ", name+" "); got != out || strings.Contains(" "+strings.Join(names, " ")+" ", " "+name+" ") == out || out && len(left) != 1 {
				t.Errorf("%s with %d over: %q in, %q left out", name, over, names, left)
			}
		}
	}
}

// By hand: of 20 by 12 m on a canvas of 1000 a metre is 50, round it are 24, and north is up.
func TestWhereThingsAreDrawn(t *testing.T) {
	c := newCanvas(record.NewBook(sample.Study(sample.Local()), "", record.SI), 1000)
	if c.w != 1048 || c.h != 648 {
		t.Errorf("%d by %d", c.w, c.h)
	}
	line := orb.LineString{{0, 0}, {0.001, 0}, {10, 6}, {10.001, 6}, {20, 12}}
	if got := c.path(line, false); got != "M24 624L524 324L1024 24" {
		t.Errorf("the path is %s", got)
	}
	if got := c.path(nil, true); got != "" {
		t.Errorf("a path of nothing is %s", got)
	}
	ring := orb.Ring{{0, 0}, {1, 0}, {1, 1}, {0, 0}}
	for _, of := range []struct {
		g    orb.Geometry
		want string
	}{
		{orb.Point{1, 2}, `<circle cx="74" cy="524" r="30"`},
		{line, `d="M24 624L524 324L1024 24"`},
		{orb.Polygon{ring}, `d="M24 624L74 624L74 574L24 624Z"`},
		{orb.MultiPolygon{{ring}, {ring}}, `d="M24 624L74 624L74 574L24 624ZM24 624L74 624L74 574L24 624Z"`},
	} {
		if got := c.mark(&finding.Finding{Severity: finding.Repair, Geometry: of.g}); !strings.Contains(got, of.want) || !strings.Contains(got, `fill="`+palette.Repair+`"`) {
			t.Errorf("%v: %s", of.g, got)
		}
	}
	if got := c.mark(&finding.Finding{}); got != "" {
		t.Errorf("of what has no place: %s", got)
	}
}

// Whoever must keep off reads that alone before the lead; elsewhere the first step is taken out of the list, which then counts from 2. The storm's water is named where it is shaded.
func TestFrontOfThePage(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
	lead, next := model.Entry{Word: "PONDS", Texts: []string{"lead"}}, model.Entry{Word: "NEXT", Steps: []string{"a", "b"}, Start: 1}
	alone := model.Entry{Word: "NEXT", Steps: []string{"a"}, Start: 1}
	f, err := newFront(b, []model.Entry{lead, next})
	if err != nil || f.KeepOff != "" || f.Lead.Word != "PONDS" || f.Step != "a" || len(f.Rest) != 1 || f.Rest[0].Steps[0] != "b" || f.Rest[0].Number(0) != 2 || !strings.HasPrefix(f.Shaded, "Shaded: the greatest water with ") {
		t.Errorf("%+v, %v", f, err)
	}
	if f, err = newFront(b, []model.Entry{lead, alone}); err != nil || f.Step != "a" || len(f.Rest) != 0 {
		t.Errorf("%+v, %v", f.Rest, err)
	}
	off := model.Entry{Word: model.FirstOfAll, Steps: []string{"Keep off."}}
	if f, err = newFront(b, []model.Entry{off, lead, next}); err != nil || f.KeepOff != "Keep off." || f.Lead.Word != "PONDS" || f.Step != "" || len(f.Rest) != 1 || len(f.Rest[0].Steps) != 2 {
		t.Errorf("%+v, %v", f, err)
	}
	for i := range b.Waters {
		b.Waters[i].Bands = nil
	}
	calm := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	calm.Study.KeepOff.Reasons = make([]inspection.Reason, 1)
	for _, dry := range []*record.Book{b, calm} {
		if f, err = newFront(dry, []model.Entry{lead}); err != nil || f.Shaded != "" {
			t.Errorf("%q, %v", f.Shaded, err)
		}
	}
}

// Relief lies lowest, then the outline with the facets over it. What is on at first, and planes, catchments, spots and the storm's water, stand in the short list; the rest behind it.
func TestListOfLayers(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
	var v view
	v.layers(b)
	var short, more []string
	for _, l := range v.Layers {
		if l.On {
			short = append(short, l.Name)
		} else {
			short = append(short, l.Name+"-")
		}
		if water := l.Name == "pond" || strings.HasPrefix(l.Name, "water-"); water != (len(l.Classes) > 0) || l.Label == "" {
			t.Errorf("%+v", l)
		}
	}
	for _, l := range v.MoreLayers {
		if more = append(more, l.Name); l.On {
			t.Errorf("%s is on behind the list", l.Name)
		}
	}
	wantShort, wantMore := "relief outline plane- catchment- contour water-1- water-2- water-3- pond curb edge flowpath spot- outlet finding", "facet stain breakline valley ridge core next-core sill control"
	if strings.Join(short, " ") != wantShort || strings.Join(more, " ") != wantMore {
		t.Errorf("%q, and behind the list %q", short, more)
	}
	if got := v.Layers[0].Label + "; " + layerLabel("new-kind"); got != "Relief, lit from the north-west; new kind" {
		t.Error(got)
	}
	whole, err := newView(model.Of(b))
	if err != nil || whole.LastMoment != len(b.Study.Storm.Moments)-1 || len(whole.Classes) != len(whole.Standing.Limits) {
		t.Errorf("moments 0 to %d, %d classes, %v", whole.LastMoment, len(whole.Classes), err)
	}
	if len(v.LeftOut) > 0 || pondClasses(record.SI)[1] != (swatch{"10 to 25 mm", "0.45"}) {
		t.Errorf("%v, %v", v.LeftOut, pondClasses(record.SI))
	}
}
