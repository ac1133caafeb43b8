package model

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/assembly"
	"runnel/analysis/bounds"
	"runnel/analysis/catchment"
	"runnel/analysis/cause"
	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/rainload"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/study"
	"runnel/analysis/study/studytest"
	"runnel/export/record"
	"runnel/export/sample"
)

// stormy is a teller of the sample in a storm.
func stormy() *teller { return newTeller(record.NewBook(sample.Storm(sample.Local()), "", record.SI)) }

func calm() *teller { return newTeller(record.NewBook(sample.Study(sample.Local()), "", record.SI)) }

// The worst case is told first, then the first and that with every primary outlet blocked, each once and only where water stands.
func TestStormInWords(t *testing.T) {
	w := stormy()
	s := w.b.Study.Storm
	s.Unsized = nil
	c := func(name string, depth float64, vertex int32) study.Case {
		c := s.Cases[0]
		own := *c.Result
		c.Result = &own
		c.Name, c.Deepest.Depth, c.Deepest.Vertex, c.Load, c.Deepest.Time = name, depth, vertex, depth*9806.65, 1800
		return c
	}
	s.Cases, s.Worst = []study.Case{c("every outlet at work", 0.02, 3), c("RD-1 blocked", 0.09, 3), c(study.EveryPrimaryBlocked, 0.08, 3), c("every outlet blocked", 0.1, 3)}, 3
	studytest.Says(t, w.worstStorm(), "With every outlet blocked water stands at least 100 mm deep, 0.98 kPa, ", ", 30 min after the rain begins.", " With every outlet at work: at least 20 mm, 0.20 kPa.", " With "+study.EveryPrimaryBlocked+": at least 80 mm, 0.78 kPa.", "not RD-1 blocked", "not It covers part")
	s.Worst = 0
	s.Cases[0].Covered = true
	s.Cases[2].Deepest.Vertex = -1
	if got := w.worstStorm(); strings.Count(got, "every outlet at work") != 1 || strings.Contains(got, study.EveryPrimaryBlocked) {
		t.Error(got)
	}
	studytest.Says(t, w.worstStorm(), "It covers part of the roof to its highest point")
	s.Cases[0].Deepest.Vertex = -1
	studytest.Says(t, w.worstStorm(), "No water stands in any case.")
	for want, labels := range map[string][]string{"OS-1 counts as blocked: no size is stated.": {"OS-1"}, "A, B count as blocked: no size is stated.": {"A", "B"}} {
		s.Unsized = labels
		studytest.Says(t, w.worstStorm(), want)
		if facts := w.stormFacts(s); len(facts) != 4 || facts[2].Texts[0] != want+" Measure what is missing." {
			t.Errorf("%+v", facts)
		}
	}
	s.Unsized = nil
	studytest.Says(t, w.worstStorm(), "not no size is stated")
	if facts := w.stormFacts(s); len(facts) != 3 {
		t.Errorf("%+v", facts)
	}
	studytest.Says(t, w.fallen(s), "75 mm in 1 h, ", "at most 75 mm/h: your figures", "not ponds stand full")
	s.Wet = true
	studytest.Says(t, w.fallen(s), "; ponds stand full when it begins.")
	// 12 of 12 + 3 + 5 litres that came are left. 2 mm a day dry 4 of them.
	one := &s.Cases[0]
	one.Out = 1
	one.Left, one.Fallen, one.Let, one.Before, one.Evaporated, one.DrainTime = 0.012, 0.012, 0.003, 0.005, 0.004, 5400
	came := w.u.SayVolume(one.Came())
	studytest.Says(t, w.left(s), "the roof drains for 1 h 30 min after the rain; after 48 hours 12 litres of "+came+" are left. No drying is counted: none was stated.")
	s.Evaporation = 0.002 / 24 / 3600
	studytest.Says(t, w.left(s), "4.0 litres have dried at your 2 mm a day.", "not No drying")
	s.Evaporation = 0.024 / 24 / 3600
	studytest.Says(t, w.left(s), "at your 24 mm a day.")
	one.Out = 0
	studytest.Says(t, w.left(s), "With every outlet at work nothing drains; after 48 hours")
}

// The table of cases: dashes where no water stands, and when which overflow starts; of gutters and primary outlets nothing.
func TestTableOfCases(t *testing.T) {
	w := stormy()
	s := w.b.Study.Storm
	c := &s.Cases[0]
	for i := range c.Outlets {
		c.Outlets[i].Start = -1
	}
	if got := w.overflowStarts(c); got != "-" {
		t.Error(got)
	}
	for i := range c.Outlets {
		c.Outlets[i].Start = 0 // RD-1 and the gutter too
	}
	if got := w.overflowStarts(c); got != "OS-1 0 min" {
		t.Error(got)
	}
	for i := range c.Outlets {
		c.Outlets[i].Start = 600
	}
	if got := w.overflowStarts(c); got != "OS-1 10 min" {
		t.Error(got)
	}
	c.Deepest.Vertex = -1
	row := w.caseTable().Rows[0].Cells
	if row[1].Text+row[2].Text+row[3].Text+row[4].Text != "----" || row[5].Text != "OS-1 10 min" {
		t.Errorf("%+v", row)
	}
	// What each outlet did: no head of a gutter, no time where nothing ran, a remark where it is blocked.
	drawn := w.b.StormCases()
	for _, k := range drawn {
		for i := range k.Outlets {
			o := &k.Outlets[i]
			o.Blocked, o.PeakFlow, o.PeakHead, o.Start, o.PeakTime = false, 0.001, 0.03, 0, 1200
		}
	}
	drawn[0].Outlets[0].Blocked, drawn[0].Outlets[1].PeakFlow, drawn[0].Outlets[1].PeakHead, drawn[0].Outlets[1].Start = true, 0, 0, -1
	table := flowTable(w.b)
	if len(table.Rows) != len(drawn)*len(w.b.Study.Surface.Outlets) {
		t.Fatalf("%d rows", len(table.Rows))
	}
	text := func(r Row) string {
		var out []string
		for _, c := range r.Cells {
			out = append(out, c.Text)
		}
		return strings.Join(out, "|")
	}
	studytest.Says(t, text(table.Rows[0]), "RD-1|primary|"+drawn[0].Name+"|1.0 L/s|20 min|30 mm|", "|0 min|blocked")
	studytest.Says(t, text(table.Rows[len(drawn)]), "OS-1|overflow|"+drawn[0].Name+"|0.0 L/s|-|-|", "|-|")
	studytest.Says(t, text(table.Rows[2*len(drawn)]), "|20 min|-|", "|0 min|")
}

// The axis of a time has at most ten steps, in minutes up to three hours; the charts end when nothing runs, from one and a quarter to three times the storm.
func TestAxisOfTime(t *testing.T) {
	for seconds, want := range map[float64]string{
		600: "10 by 1 minutes", 2700: "45 by 5 minutes", 601: "11 by 2 minutes", 3600: "60 by 10 minutes", 10800: "180 by 20 minutes", 10801: "3 by 0.5 hours", 86400: "24 by 3 hours",
		300: "5 by 0.5 minutes", 1201: "20 by 5 minutes", 6001: "100 by 15 minutes", 9001: "150 by 20 minutes",
		18001: "5 by 1 hours", 36001: "10 by 2 hours", 72001: "20 by 3 hours", 108001: "30 by 6 hours", 216001: "60 by 12 hours", 432001: "120 by 24 hours", 864001: "240 by 48 hours",
	} {
		a, unit := clock(seconds)
		var most, step float64
		var word string
		if _, err := fmt.Sscanf(want, "%f by %f %s", &most, &step, &word); err != nil {
			t.Fatal(err)
		}
		size := 60.0
		if word == "hours" {
			size = 3600
		}
		if unit != size || !strings.HasPrefix(a.Label, word) || a.Most < seconds/unit-1e-9 || a.Most > seconds/unit+a.Step || a.Most/a.Step > 10.0001 || a.Step != step {
			t.Errorf("%v s: %+v in units of %v, want about %s", seconds, a, unit, want)
		}
	}
	s := stormy().b.Study.Storm // of an hour
	at := func(stop float64) float64 {
		c := s.Cases[0]
		c.Outlets = slices.Clone(c.Outlets)
		for i := range c.Outlets {
			c.Outlets[i].Stop = stop - float64(i)
		}
		return span(s, []*study.Case{&c})
	}
	for stop, want := range map[float64]float64{0: 4500, 4499: 4500, 7200: 7200, 99999: 10800} {
		if got := at(stop); got != want {
			t.Errorf("nothing runs after %v s: charts of %v, want %v", stop, got, want)
		}
	}
}

// Charts are drawn with all their texts on the paper, and what they show stands over them; a case in which nothing runs is said and not drawn.
func TestChartsOfFlow(t *testing.T) {
	w := stormy()
	cases := w.b.StormCases()
	all, more := flows(w.b)
	if len(all) == 0 || more != 0 {
		t.Fatalf("%d charts, %d more", len(all), more)
	}
	last := math.Inf(1)
	for _, c := range all {
		most := 0.0
		for i := range w.b.Study.Surface.Outlets {
			if strings.HasPrefix(c.Caption, w.b.Study.Surface.Outlets[i].Label+", ") {
				for _, k := range cases {
					most = max(most, k.Outlets[i].PeakFlow)
				}
			}
		}
		if most == 0 || most > last {
			t.Errorf("%q with %v after %v", c.Caption, most, last)
		}
		last = most
		d := c.Draw(184)
		for _, l := range d.Layers {
			for _, x := range l.Texts {
				if x.At.Y > d.Height || x.At.X < 0 {
					t.Errorf("%q leaves the chart", x.String)
				}
			}
		}
	}
	drain := 0
	for _, k := range cases {
		k.Outlets[drain].PeakFlow = 0
	}
	cases[0].Outlets[drain].PeakFlow = 0.0123
	cases[0].Outlets[drain].PeakTime, cases[0].Outlets[drain].Volume = 1800, 0.5
	caption := flowChart(w.b, cases, drain, 0.0123, 3600).Caption
	studytest.Says(t, caption, "RD-1, primary: with "+cases[0].Name+" at most 12.3 L/s, 30 min after the rain begins, 500 litres in all; nothing with "+cases[1].Name)
}

// A chart of a pond goes by the pond's number, so that page and picture name the same.
func TestChartsOfPonds(t *testing.T) {
	all, _ := volumes(calm().b)
	if len(all) == 0 || all[0].of.Name != "pond-1" || !strings.HasPrefix(all[0].Caption, "P01, full to its lip: ") {
		t.Errorf("%+v", all)
	}
	// The curve of a pond begins with no water at its lowest point and ends with all of it at its lip; each step of depth adds more water than the one
	// before, as a pond widens upward.
	pond, u := &calm().b.Study.Ponds.Ponds[calm().b.Study.Listed[0].Pond], record.SI
	l := all[0].of.Lines[0]
	end := len(l.X) - 1
	if deep, water := l.Y[end]*u.DepthUnit().Size, l.X[end]*u.VolumeUnit().Size; l.X[0] != 0 || l.Y[0] != 0 || !(math.Abs(deep-pond.Depth) <= 1e-9) || !(math.Abs(water-pond.Volume) <= 1e-9*pond.Volume) {
		t.Errorf("from %g, %g to %g m3 at %g m; want %g at %g", l.X[0], l.Y[0], water, deep, pond.Volume, pond.Depth)
	}
	for i := 2; i <= end; i++ {
		if first, next := l.X[i-1]-l.X[i-2], l.X[i]-l.X[i-1]; !(next > 0 && next >= first-1e-9*l.X[end]) {
			t.Errorf("step %d adds %g after %g", i, next, first)
		}
	}
	w := calm()
	for _, forget := range []func(){func() { w.b.Study.RainLoad = nil }, func() { w.b.Study.Drainage.Blocked = nil }} { // without what stands with outlets blocked only ponds are left
		if w = calm(); w.b.Study.RainLoad == nil || w.b.Study.Drainage.Blocked == nil {
			t.Fatal("nothing to forget")
		}
		forget()
		if some, _ := volumes(w.b); len(some) != len(w.b.Study.Listed) {
			t.Errorf("%d charts of %d ponds", len(some), len(w.b.Study.Listed))
		}
	}
}

// The first screen keeps people off before all, numbers its steps through, and counts those that are not there.
func TestFirstScreenInWords(t *testing.T) {
	w := calm()
	f := finding.Finding{Kind: "x", Severity: finding.Repair, Pond: -1, Outlet: -1, Decides: "owner"}
	w.b.Study.Findings = nil
	for i := range 6 {
		f.Do = finding.Say(fmt.Sprint("Do ", i, "."))
		w.b.Study.Findings = append(w.b.Study.Findings, f)
	}
	if e := w.next(); len(e.Steps) != 4 || e.Texts[0] != "and 2 more under FINDINGS." || e.Number(0) != 1 {
		t.Errorf("%+v", e)
	}
	w.b.Study.Findings = w.b.Study.Findings[:5]
	if e := w.next(); len(e.Steps) != 4 || e.Texts[0] != "and 1 more under FINDINGS." {
		t.Errorf("%+v", e)
	}
	w.b.Study.Findings = w.b.Study.Findings[:4]
	if e := w.next(); len(e.Steps) != 4 || e.Texts != nil {
		t.Errorf("%+v", e)
	}
	w.b.Study.KeepOff.Reasons = make([]inspection.Reason, 1)
	all := w.first()
	if all[0].Word != "FIRST" || len(all[0].Steps) != 1 || !strings.HasPrefix(all[0].Steps[0], "Keep off") {
		t.Errorf("%+v", all[0])
	}
	for _, e := range all {
		if e.Word == "NEXT" && (e.Number(0) != 2 || e.Number(1) != 3 || strings.HasPrefix(e.Steps[0], "Keep off")) {
			t.Errorf("%+v", e)
		}
		if len(e.Steps) == 0 && (len(e.Texts) == 0 || e.Texts[0] == "") {
			t.Errorf("%s says nothing", e.Word)
		}
	}
	w.b.Study.KeepOff.Reasons, w.b.Study.Findings = nil, nil
	if e := w.next(); !reflect.DeepEqual(e.Texts, []string{record.NoStep}) || e.Steps != nil {
		t.Errorf("%+v", e)
	}
}

// What is taken for granted is said only where it was.
func TestAssumptionsInWords(t *testing.T) {
	w := calm()
	s := &w.b.Study.Survey
	s.AssumedShare, s.EdgesAssumed, s.InvertsAssumed, s.Ties = 0, false, 0, 0
	text := strings.Join(w.assumptions(), "\n")
	studytest.Says(t, text, "Outlets are assumed to be clear.", "not Edges without heights", "not assumed to be walls", "not Outlets without a level", "not a fixed rule")
	s.AssumedShare, s.EdgesAssumed, s.InvertsAssumed, s.Ties = 0.12, true, 1, 1
	studytest.Says(t, strings.Join(w.assumptions(), "\n"), "nearest spots: 12 % of the roof.", "assumed to be walls", "Outlets without a level", "a fixed rule chose: 1 place.")
	studytest.Says(t, strings.Join(stormy().assumptions(), "\n"), "Outside the storm every pond", "except where a case says")
	s.NoCores, s.NoStains, s.NoRain = true, true, true
	if got := w.notMeasured(); !reflect.DeepEqual(got, []string{"the inlet level of 1 outlet", "edge heights (12 % of the roof)", "whether the edges are walls (taken as walls)", "what lies under the membrane", "water as seen after rain", "how much rain the outlets can take"}) {
		t.Errorf("%q", got)
	}
	s.InvertsAssumed = 2
	studytest.Says(t, w.notMeasured()[0], "the inlet levels of 2 outlets")
	v := &w.b.Study.Roof.Visit
	v.HasHours, v.Hours = true, 50
	studytest.Says(t, w.survey(), "Seen 2026-05-02 50 hours after rain.", "Water that still stood then counts as a pond")
	w.b.Study.Roof.Stains = nil
	studytest.Says(t, w.survey(), "not Water that still stood")
	w.b.Study.Roof.Outline.Elevations, s.Sigma = roof.Drawn, 0.004
	studytest.Says(t, w.survey(), "Drawn, not measured: new work on a surface that was surveyed to 4 mm", "Not measured: the inlet levels")
}

// What mends the worst pond, with what a trial on the surface leaves, and who decides.
func TestMendInWords(t *testing.T) {
	w := calm()
	d := &w.b.Study.Causes[0]
	d.Mends = []cause.Mended{{Mend: cause.DropOutlet, Tried: true, Cut: 0.02}, {Mend: cause.ShaveRise, Tried: true, Cut: 0.015, Length: 3.24, Depth: 0.006}, {Mend: cause.ShaveAndDrop, Tried: true}, {Mend: cause.DropOutlet}}
	if got, want := w.trials(d), "setting the outlet 20 mm lower empties it; lowering the roof on the water's way out by up to 15 mm over 3.2 m leaves 6 mm of water; doing both empties it"; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	studytest.Says(t, w.mend(), "Likely: ", " Tried on the surveyed surface: setting the outlet", "Decides: the ")
	d.Mends = nil
	studytest.Says(t, w.mend(), "not Tried on")
	f := w.b.PondFinding(0)
	f.Confidence, f.Also = finding.Likely, []finding.Kind{finding.Dish, finding.Camber}
	studytest.Says(t, w.heldBy(), "("+record.Capital(f.Confidence.String())+".)", " It may also be "+cause.Say(finding.Dish).Name+", or "+cause.Say(finding.Camber).Name+".")
	f.Kind = finding.Dish
	for _, who := range []string{finding.Roofer, finding.Engineer} { // a roofer decides where the deck is sound
		f.Decides = who
		if sound := strings.Contains(w.mend(), record.Small(inspection.SoundDish)); sound != (who == finding.Roofer) {
			t.Errorf("a dish that the %s decides on: %s", who, w.mend())
		}
	}
	f.Confidence, f.Also = finding.Shown, nil
	studytest.Says(t, w.heldBy(), "not (", "not may also")
	w.b.Study.Findings = nil
	studytest.Says(t, w.heldBy(), "Only its lip; the shape does not show the cause.")
	if got := w.mend(); got != "" {
		t.Error(got)
	}
	w.b.Study.Listed = nil
	if got := w.heldBy() + w.mend(); got != "" {
		t.Error(got)
	}
}

// Where the slope is: each maker with its regions, and what is open.
func TestSlopeInWords(t *testing.T) {
	w := calm()
	regions := func(vs ...assembly.Verdict) string {
		w.b.Study.Assembly.Regions = nil
		for i, v := range vs {
			g := assembly.Region{Kind: assembly.OnPlane, Index: int32(i), Verdict: v}
			if len(vs) == 1 {
				g.Kind = assembly.OnRoof
			}
			w.b.Study.Assembly.Regions = append(w.b.Study.Assembly.Regions, g)
		}
		return w.slopeIsIn()
	}
	studytest.Says(t, regions(assembly.InsulationTapers), "the insulation: the slope can be changed", "not (", "not Not resolved")
	studytest.Says(t, regions(assembly.StructureSlopes, assembly.InsulationTapers, assembly.NotResolved), "the insulation (plane L02): the slope can", "The structure (plane L01): the slope stays", "Not resolved: plane L03.")
	w.b.NextCores = nil
	studytest.Says(t, regions(assembly.NotResolved), " resolved: the cores do not tell", "not where to cut")
	w.b.NextCores = make([]record.NextCore, 1)
	studytest.Says(t, regions(assembly.NotResolved), "Where to cut next stands under WHAT THE CORES SAY.")
	w.b.Study.Roof.Cores = nil
	if got := w.slopeIsIn(); got != "" {
		t.Error(got)
	}
}

// The water with every primary outlet blocked: what the head is made of, or why it is not known.
func TestLoadInWords(t *testing.T) {
	w := stormy()
	l := w.b.Study.RainLoad
	l.Depth, l.Load, l.Weight, l.Area, l.Enclosed = 0.1, 980.665, 1234, 56, false
	l.Waters = []rainload.Water{{StaticHead: 0.08, Head: 0.02, HeadKnown: true, Inflow: 0.0063}}
	text := strings.Join(w.rainLoad(), "\n")
	studytest.Says(t, text, "At least 100 mm deep, 0.98 kPa, ", "; 1,234 kg over 56.0 m² in all. Static head 80 mm, hydraulic head 20 mm at 6.3 L/s.", "not no way out", "not open edge")
	l.Enclosed, l.Waters[0].HeadKnown, l.Waters[0].OverEdge = true, false, true
	studytest.Says(t, strings.Join(w.rainLoad(), "\n"), "Static head 80 mm; the depth that the flow itself adds is not included: an outlet there takes less than what comes, or its size was not stated.", "no way out at any level", "open edge")
	if got := whyNoHead(0); got != "no rain_overflow was stated" {
		t.Error(got)
	}
	l.Waters = nil
	studytest.Says(t, w.rainLoad()[0], "not Static head")
}

// Tables: a level plane or valley is called that, one under the criterion is marked, small planes and short valleys come last, areas without a way out are said under the outlets.
func TestRowsOfTables(t *testing.T) {
	w := calm()
	s := w.b.Study
	s.Slopes.Planes = []slope.Plane{{Area: 100, Slope: 0.02, Aspect: 90}, {Area: 50, Level: true, BelowMin: true}, {Area: 2.3}}
	s.Bounds = nil
	rows := planeTable(w.b).Rows
	for i, want := range []string{"L01|100 m²|2.00 %|east|", "L02|50.0 m²|level|-|under the criterion"} {
		if got := texts(rows[i]); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	if n := planeTable(w.b).Small; n != 1 { // of 238 m2, 2.38 are a hundredth
		t.Errorf("%d planes too small for a page", n)
	}
	s.Surface.Spacing = 2
	s.Slopes.Valleys = []slope.Line{{Length: 3.9, Drop: 0.1, Slope: 0.02}, {Length: 4, Drop: 0.01, Slope: 0.00004, BelowMin: true, BackFall: 0.005}}
	v := valleyTable(w.b)
	if v.Small != 1 || texts(v.Rows[0]) != "V02|4.0 m|10 mm|level|under the criterion, runs back up 5 mm" || texts(v.Rows[1]) != "V01|3.9 m|100 mm|2.00 %|" || v.More != "more valleys" {
		t.Errorf("%+v", v)
	}
	s.Slopes.Valleys = s.Slopes.Valleys[:1]
	if v := valleyTable(w.b); v.More != "short valleys" {
		t.Error(v.More)
	}
	if _, rest := (&Table{Rows: make([]Row, 1), Small: 1, More: "short valleys"}).Page(9); rest != "1 short valley in the files." {
		t.Error(rest)
	}
	w.b.Undrained = 0.8
	s.Flow.Indeterminate = 24 // of 238: a tenth
	s.Catchments.Shares = []catchment.Share{{Pond: s.Listed[0].Pond, Outlet: 0, Part: 0.6}}
	notes := strings.Join(outletNotes(w.b), "\n")
	studytest.Says(t, notes, "No way out at any level: 0.8 m².", "no direction of its own: 24.0 m² (10 % of the roof).", "RD-1 takes 60 % of what runs to P01, which outlets", "not is a range")
	w.b.Undrained, s.Flow.Indeterminate, s.Catchments.Shares = 0, 1, nil
	s.Bounds = &bounds.Bounds{Catchments: []bounds.Range{{Low: 10, High: 230}, {}, {}}}
	studytest.Says(t, strings.Join(outletNotes(w.b), "\n"), "not No way out", "not no direction", "not takes", "Where \"runs to it\" is a range")
	s.Bounds = nil
	s.Surface.Outlets[0].InvertAssumed = true
	if got := texts(outletTable(w.b).Rows[0]); !strings.Contains(got, "100.020 m (assumed)|166 m²|") {
		t.Error(got)
	}
	p := pondTable(w.b)
	if got := texts(p.Rows[0]); !strings.HasPrefix(got, "P01|20 mm|") || !strings.HasSuffix(got, "|RD-1") || len(p.Notes) != 1 {
		t.Errorf("%s %q", got, p.Notes)
	}
	s.Shallow.Count = 1
	s.Ponds.Ponds[s.Listed[0].Pond].ToOutlet, s.Ponds.Ponds[s.Listed[0].Pond].ToPond = -1, -1
	if p := pondTable(w.b); !strings.HasSuffix(texts(p.Rows[0]), "|nowhere") || len(p.Notes) != 2 {
		t.Errorf("%+v", p)
	}
	s.Criteria.MaxTravel = 30
	c := criteriaTable(w.b)
	if got := texts(c.Rows[len(c.Rows)-1]); !strings.HasPrefix(got, "longest travel|30.0 m|stated for this roof") && !strings.HasPrefix(got, "longest travel|30.0 m|stated by the user") {
		t.Error(got)
	}
	s.Criteria.MaxTravel = 0
	if n := len(criteriaTable(w.b).Rows); n != len(c.Rows)-1 {
		t.Errorf("%d criteria", n)
	}
}

func texts(r Row) string {
	var out []string
	for _, c := range r.Cells {
		out = append(out, c.Text)
	}
	return strings.Join(out, "|")
}

// What an outlet needs with its strainer half clogged is said where it was asked, and a dash, which sorts before every figure, where it was not.
func TestHalfCloggedInTheTable(t *testing.T) {
	w := stormy()
	d := w.b.Study.Drainage.Outlets[0]
	if d.Demand <= 0 {
		t.Fatalf("nothing comes to %+v", d)
	}
	for _, c := range []struct {
		clogged float64
		want    string
	}{{0, "-"}, {0.05, "50 mm"}, {-1, "does not take it"}} {
		d.Clogged = c.clogged
		if got := rated(w.b, &d)[1]; got.Text != c.want || (got.Value < 0) != (c.want == "-") {
			t.Errorf("%v: %+v, want %s", c.clogged, got, c.want)
		}
	}
}

// A sill under the water is said to let it in; one without a label goes by its id.
func TestSillsInTheTable(t *testing.T) {
	w := stormy()
	s := w.b.Study
	for i := range s.Sills {
		s.Sills[i].Margin = 0
	}
	s.Sills[0].Margin = 0.025
	s.Roof.Sills[s.Sills[0].Sill].Label = ""
	rows := sillTable(w.b).Rows
	if got := texts(rows[0]); !strings.HasPrefix(got, s.Roof.Sills[s.Sills[0].Sill].ID+"|") || !strings.HasSuffix(got, "|25 mm") {
		t.Error(got)
	}
	if got := texts(rows[1]); !strings.HasSuffix(got, "|water gets in") {
		t.Error(got)
	}
}

// What is known of each core: dashes for the rest, layers from the top with what is wrong with them, the weights that no table has.
func TestCoresInTheTable(t *testing.T) {
	w := calm()
	a := w.b.Study.Assembly
	a.Cores[0] = assembly.Core{ID: "C1", Layers: []assembly.Layer{{Material: "membrane"}, {Material: "foam", Thickness: 0.1, Condition: "wet"}, {Material: "board", Thickness: 0.025, Condition: "sound"}}, DeckType: "steel"}
	k := &coreSection{book: w.b, u: w.b.Units, a: a}
	if got := texts(k.cores().Table.Rows[0]); got != "C1|-|-|-|-|-|membrane, 100 mm foam (wet), 25 mm board, deck: steel|-" {
		t.Error(got)
	}
	a.Cores[0].HasThickness, a.Cores[0].Thickness, a.Cores[0].Sigma, a.Cores[0].HasDeck, a.Cores[0].Deck = true, 0.125, 0.003, true, 99.9
	a.Cores[0].RKnown, a.Cores[0].R, a.Cores[0].LoadKnown, a.Cores[0].Load, a.Cores[0].Flags = true, 4, true, 150, nil
	if got := texts(k.cores().Table.Rows[0]); !strings.HasPrefix(got, "C1|125 mm|3 mm|99.900 m|4.00 m² K/W|0.15 kPa|") {
		t.Error(got)
	}
	a.Wet = []assembly.Wet{{Core: 0, Layer: 1, Material: "foam", Condition: "wet", Thickness: 0.1}} // layers count from the membrane, the first
	if b := k.wet(); len(b.Texts) != 2 || b.Texts[0] != "Core C1, layer 2: 100 mm of foam, wet." {
		t.Errorf("%q", b.Texts)
	}
	if got := k.ids([]int{0}); got != "core C1" {
		t.Error(got)
	}
	if got := k.ids([]int{0, 0}); got != "cores C1, C1" {
		t.Error(got)
	}
	a.Load = assembly.Load{Cores: 1, Mean: 100, Greatest: 200}
	a.Unknown = []assembly.Unknown{{Material: "slate", R: true, Load: true}, {Material: "felt", Load: true}}
	text := strings.Join(k.load().Texts, "\n")
	studytest.Says(t, text, "At least, since not every layer's weight is known: on average 0.10 kPa, at most 0.20 kPa over 1 core.", "Not in the tables, of slate: R per thickness (state it with --materials) and weight.", "Not in the tables, of felt: weight.")
	a.Load.Known = true
	studytest.Says(t, k.load().Texts[0], "On average 0.10 kPa")
	a.Load.Cores, a.Unknown = 0, nil
	if texts := k.load().Texts; len(texts) != 0 {
		t.Errorf("%q", texts)
	}
	a.Regions = nil
	studytest.Says(t, strings.Join(k.regions().Texts, "\n"), "No core gives a thickness on this roof, so nothing can be said.")
	a.R.Known, a.R.Why = false, "no thickness."
	studytest.Says(t, k.resistance().Texts[0], "Only that of each core is known: no thickness.", "not ..")
}

// Findings that are not described are counted; kinds that fit as well are named.
func TestFindingsInTheModel(t *testing.T) {
	w := calm()
	f := finding.Finding{Kind: "x", Pond: -1, Outlet: -1, Also: []finding.Kind{"y", "z"}, What: finding.Say("a")}
	if got := kinds(&f); got != "; kind x; may also be y, z" {
		t.Error(got)
	}
	w.b.Study.Findings = slices.Repeat([]finding.Finding{f}, 203)
	m := Of(w.b)
	if len(m.Findings) != 200 || m.MoreFindings != 3 || m.Findings[7].ID != "N08" || m.Findings[7].Full != "SR1.N08" {
		t.Errorf("%d findings, %d more", len(m.Findings), m.MoreFindings)
	}
	for _, fact := range m.Findings[0].Facts {
		if fact[1] == "" {
			t.Errorf("%s says nothing", fact[0])
		}
	}
	if got := m.Heading(); got != "Sample house, Sample roof 1 (SR1), surveyed 2026-05-02" {
		t.Error(got)
	}
	for building, want := range map[string]string{"": "Sample roof 1: ", "Sample roof 1": "Sample roof 1: ", "Sample house": "Sample house, Sample roof 1: "} {
		if w.b.Study.Roof.Building = building; !strings.HasPrefix(Of(w.b).Client[0], want) {
			t.Errorf("in %q: %q", building, Of(w.b).Client[0])
		}
	}
	w.b.Study.Roof.Building, w.b.Study.Roof.Surveyed = w.b.Study.Roof.Name, ""
	if got := Of(w.b).Heading(); got != "Sample roof 1 (SR1)" {
		t.Error(got)
	}
	for _, line := range m.Client {
		if strings.Contains(line, "\n") || line == "" {
			t.Errorf("%q", line)
		}
	}
	w.b.Study.Roof.Warnings, w.b.Study.Surface.Warnings, w.b.Study.Warnings = []string{"a", "b"}, []string{"b"}, []string{"c", "a"}
	if got := warnings(w.b); !slices.Equal(got, []string{"a", "b", "c"}) {
		t.Errorf("%q", got)
	}
}
