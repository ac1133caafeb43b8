package record_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/assembly"
	"runnel/analysis/bounds"
	"runnel/analysis/evidence"
	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/mean"
	"runnel/analysis/nextspot"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/surface"
	"runnel/export/record"
	"runnel/export/sample"
)

func bookOf() *record.Book { return record.NewBook(sample.Study(sample.Local()), "", record.SI) }

// Which low places the error of the survey alone can make, in the number of the noun.
func TestUnresolvedInWords(t *testing.T) {
	for _, c := range []struct {
		count, atLevel int
		listed         bool
		want           string
	}{
		{0, 0, true, ""},
		{1, 0, true, "1 more low place, at most 7 mm deep, may be no more than the error of the survey."},
		{1, 1, false, "1 low place, at most 7 mm deep, may be no more than the error of the survey. If heights are good to 3 mm, it is a pond."},
		{4, 1, false, "4 low places, at most 7 mm deep, may be no more than the error of the survey. If heights are good to 3 mm, 1 of them is a pond."},
		{1200, 3, true, "1,200 more low places, at most 7 mm deep, may be no more than the error of the survey. If heights are good to 3 mm, 3 of them are ponds."},
	} {
		b := bookOf()
		b.Study.Unresolved.Count, b.Study.Unresolved.AtLevel, b.Study.Unresolved.Depth = c.count, c.atLevel, 0.007
		if !c.listed {
			b.Study.Listed = nil
		}
		if got := b.Unresolved(); got != c.want {
			t.Errorf("%s\nwant %s", got, c.want)
		}
	}
}

// How good a height is, by how that is known.
func TestErrorOfTheSurveyInWords(t *testing.T) {
	for _, c := range []struct {
		source evidence.Source
		means  bool
		offset float64
		want   string
	}{
		{evidence.Stated, false, 0, "A height is good to 3 mm (one standard deviation, as stated)."},
		{evidence.Stated, true, 0, "A mean is good to 3 mm (one standard deviation, as stated)."},
		{evidence.Scatter, false, 0, "No accuracy is stated. Scatter and relief cannot be told apart at this spacing: a height is good to 3 mm or better. State the instrument."},
		{evidence.Planes, true, 0, "No accuracy is stated. Spots scatter by 3 mm about the planes of the roof, and a mean is taken to be as good. State the instrument."},
		{evidence.Usual, false, 0.012, "No accuracy is stated; a height is taken to be good to 3 mm. State the instrument. Files whose spots stand among each other differ by 12 mm in level."},
	} {
		b := bookOf()
		b.Study.Errors = &evidence.Errors{Source: c.source, Typical: 0.003, Offset: c.offset}
		if c.means {
			b.Study.Means = &mean.Means{}
		}
		if got := b.SurveyError(); got != c.want {
			t.Errorf("%s\nwant %s", got, c.want)
		}
	}
	b := bookOf()
	b.Study.Errors = &evidence.Errors{Source: evidence.Stated, Typical: 0.003, Scatter: 0.03}
	if got := b.SurveyError(); !b.Study.Errors.Doubtful() || !strings.Contains(got, "But spots lie 30 mm off the planes of their neighbours") {
		t.Error(got)
	}
}

// Points that were brought to means, and those that were left out.
func TestMeansInWords(t *testing.T) {
	b := bookOf()
	if b.Means() != "" || b.Spots() != "77 spots" {
		t.Errorf("%q %q", b.Means(), b.Spots())
	}
	b.Study.Survey.Spots = 1
	if b.Spots() != "1 spot" {
		t.Error(b.Spots())
	}
	b.Study.Survey.Spots = 1512
	b.Study.Means = &mean.Means{Points: 6118, Size: 0.5}
	const lead = "6,118 points are denser than their error supports: the surface is drawn through their means over cells of 0.5 m."
	for _, c := range []struct {
		below []string
		want  string
	}{
		{nil, lead},
		{[]string{"7"}, lead + " Point 7 stands far below those beside it and is left out; --keep 7 says that it is meant."},
		{[]string{"7", "8", "9"}, lead + " 3 points stand far below those beside them and are left out (7, 8, 9); --keep ID says that one is meant."},
		{[]string{"7", "8", "9", "10"}, lead + " 4 points stand far below those beside them and are left out (7, 8, 9 and more); --keep ID says that one is meant."},
	} {
		b.Study.Means.Below = c.below
		if got := b.Means(); got != c.want || b.Spots() != "1,512 means of 6,118 points" {
			t.Errorf("%s\nwant %s", got, c.want)
		}
	}
}

// Ponds that are too shallow to list, in the number of the noun.
func TestShallowInWords(t *testing.T) {
	for _, c := range []struct {
		count       int
		depth, area float64
		want        string
	}{
		{1, 0.003, 0.04, "Water too shallow to list stands in 1 place, at most 3 mm deep."},
		{1, 0.003, 0.05, "Water too shallow to list stands in 1 place, at most 3 mm deep, over 0.050 m²."},
		{3, 0.0004, 12, "Water too shallow to list stands in 3 places, less than 1 mm deep, over 12.0 m² in all."},
	} {
		b := bookOf()
		b.Study.Shallow.Count, b.Study.Shallow.Depth, b.Study.Shallow.Area = c.count, c.depth, c.area
		if got := b.Shallow(); got != c.want {
			t.Errorf("%s\nwant %s", got, c.want)
		}
	}
}

// A page begins with the worst thing known: the ponds, unless a finding that is to be repaired is about something else.
func TestWhatAPageBeginsWith(t *testing.T) {
	b := bookOf()
	pond := int(b.Study.Listed[0].Pond)
	about := func(k finding.Kind, s finding.Severity, pond int) finding.Finding {
		return finding.Finding{Kind: k, Severity: s, Pond: pond, Outlet: -1, What: finding.Say("Something."), Where: finding.Say("at RD-1.")}
	}
	for name, c := range map[string]struct {
		findings []finding.Finding
		word     string
		text     string
	}{
		"nothing":    {nil, "PONDS", "1 pond: P01"},
		"a note":     {[]finding.Finding{about("x", finding.Note, -1)}, "PONDS", "1 pond: P01"},
		"a pond":     {[]finding.Finding{about("x", finding.Repair, pond)}, "PONDS", "1 pond: P01"},
		"an outlet":  {[]finding.Finding{about("x", finding.Repair, -1), about("y", finding.Repair, pond)}, "WORST", "Something. Where: at RD-1."},
		"an urgency": {[]finding.Finding{about("x", finding.Urgent, -1)}, "WORST", "Something. Where: at RD-1."},
	} {
		b.Study.Findings = c.findings
		if l := b.Lead(); l.Word != c.word || !strings.HasPrefix(l.Text, c.text) {
			t.Errorf("%s: %+v", name, l)
		}
	}
	// The place is not said twice, and a vague one not at all.
	f := about("x", finding.Repair, -1)
	for where, want := range map[string]string{"at RD-1.": "Water by RD-1 rises.", "on the roof": "Water by RD-1 rises.", "3.0 m from the wall": "Water by RD-1 rises. Where: 3.0 m from the wall."} {
		f.What, f.Where = finding.Say("Water by RD-1 rises."), finding.Say(where)
		b.Study.Findings = []finding.Finding{f}
		if l := b.Lead(); l.Text != want {
			t.Errorf("%s: %q", where, l.Text)
		}
	}
	b = bookOf()
	b.Study.Listed, b.Study.Survey.Spacing = nil, 2
	if got := b.Ponds(); got != "No ponds found. Ponds smaller than the 2.0 m between spots may be missed." {
		t.Error(got)
	}
	b.Study.Shallow.Count, b.Study.Shallow.Depth = 1, 0.003
	if got := b.Ponds(); !strings.HasSuffix(got, "may be missed. Water too shallow to list stands in 1 place, at most 3 mm deep.") {
		t.Error(got)
	}
	two := bookOf()
	two.Study.Listed = append(two.Study.Listed, two.Study.Listed[0])
	if got := two.Ponds(); !strings.HasPrefix(got, "2 ponds. The worst is P01, ") {
		t.Error(got)
	}
	two.Study.Ponds.Ponds[two.Study.Listed[0].Pond].Undrained = true
	if got := two.Ponds(); !strings.HasSuffix(got, " It has no way out at any level.") {
		t.Error(got)
	}
}

// Steps say each thing once, with all places where it is to be done; nothing is said twice.
func TestStepsInWords(t *testing.T) {
	for want, s := range map[string]record.Step{
		"URGENT. Water gets in. Mend it. Decides: the owner, the engineer.": {Urgent: true, What: "Water gets in.", Do: "Mend it.", Decides: "owner, engineer"},
		"RD-1: Clean it. Decides: the owner.":                               {Do: "Clean it.", Decides: "owner", Names: []string{"RD-1"}},
		"Clean RD-1. Decides: the owner.":                                   {Do: "Clean RD-1.", Decides: "owner", Names: []string{"RD-1"}},
		"RD-1, RD-2: Clean RD-1. Decides: the owner.":                       {Do: "Clean RD-1.", Decides: "owner", Names: []string{"RD-1", "RD-2"}},
		"a, b, c, d, e, f and 2 more: Clean. Decides: the owner.":           {Do: "Clean.", Decides: "owner", Names: strings.Split("a b c d e f g h", " ")},
		"a, b, c, d, e, f: Clean. Decides: the owner.":                      {Do: "Clean.", Decides: "owner", Names: strings.Split("a b c d e f", " ")},
	} {
		if got := s.Say(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	b := bookOf()
	do := func(what, do string, outlet int, s finding.Severity) finding.Finding {
		return finding.Finding{Kind: "x", Severity: s, Pond: -1, Outlet: outlet, What: finding.Say(what), Do: finding.Say(do), Decides: "owner"}
	}
	b.Study.Findings = []finding.Finding{do("A.", "Clean it.", 0, finding.Repair), do("B.", "Clean it.", 1, finding.Repair), do("A.", "Clean it.", 0, finding.Repair), do("A.", "Clean it.", 1, finding.Urgent), do("C.", "", -1, finding.Note), do("D.", "Look.", -1, finding.Note)}
	var got []string
	for _, s := range b.Steps() {
		got = append(got, s.Say())
	}
	if want := "RD-1, OS-1: Clean it. Decides: the owner.|URGENT. A. Clean it. Decides: the owner.|N06: D. Look. Decides: the owner."; strings.Join(got, "|") != strings.Replace(want, "URGENT. A.", "OS-1: URGENT. A.", 1) {
		t.Errorf("%q", got)
	}
	b.Study.KeepOff.Reasons = make([]inspection.Reason, 1)
	if first := b.Steps()[0]; first.Decides != finding.Engineer || !strings.HasPrefix(first.Do, "Keep off") {
		t.Errorf("%+v", first)
	}
	found := bookOf()
	b.Found = found.Study // who goes up there goes onto the roof as it stands
	if _, ok := b.KeepOff(); ok {
		t.Error("the design keeps people off, not the roof")
	}
}

// What a place to shoot tells of.
func TestWhatASpotIsFor(t *testing.T) {
	b := bookOf()
	place := func(k nextspot.Kind) nextspot.Place {
		return nextspot.Place{Kind: k, Odd: -1, Pond: -1, Outlet: -1, Plane: -1}
	}
	listed, unlisted, outlet, plane := place(nextspot.Lip), place(nextspot.Lowest), place(nextspot.Inlet), place(nextspot.PlaneLow)
	listed.Pond, unlisted.Pond, outlet.Outlet, plane.Plane = b.Study.Listed[0].Pond, 9999, 0, 1
	b.Study.NextSpots = []nextspot.Place{listed, unlisted, outlet, plane, place(nextspot.Gap)}
	got := record.NewBook(b.Study, "", record.SI).NextSpots
	for i, want := range []string{"pond P01", "a low place that the spots do not show", "RD-1", "plane L02", "the roof"} {
		if got[i].For != want || record.SI.SayText(got[i].Why) == "" {
			t.Errorf("%d: %+v, want %q", i, got[i], want)
		}
	}
	b = record.NewBook(b.Study, "", record.SI)
	var o record.Object
	b.NextSpot(&o, 2)
	if o.Value("order") != "3" || o.Value("for") != "RD-1" || o.Value("place") == "" {
		t.Errorf("%s", o.Append(nil))
	}
}

// What the cores were taken together over, and what they say makes the slope: one word for all regions that tell, "mixed" where they differ.
func TestRegionsOfCores(t *testing.T) {
	b := bookOf()
	full := int32(-1)
	for i := range b.Study.Catchments.Full {
		if b.Study.Catchments.Full[i].Outlet == 0 {
			full = int32(i)
		}
	}
	for _, c := range []struct {
		region assembly.Region
		want   string
	}{{assembly.Region{Kind: assembly.OnPlane, Index: 1}, "plane L02"}, {assembly.Region{Kind: assembly.OnCatchment, Index: full}, "catchment of RD-1"}, {assembly.Region{Kind: assembly.OnRoof}, "the roof"}} {
		if got := b.RegionName(&c.region); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	b.Study.Catchments.Full[full].Outlet = -1
	if got := b.RegionName(&assembly.Region{Kind: assembly.OnCatchment, Index: full}); got != "catchment without an outlet" {
		t.Error(got)
	}
	verdicts := func(vs ...assembly.Verdict) string {
		b := bookOf()
		b.Study.Assembly.Regions = nil
		for _, v := range vs {
			b.Study.Assembly.Regions = append(b.Study.Assembly.Regions, assembly.Region{Kind: assembly.OnRoof, Verdict: v})
		}
		var o record.Object
		b.Assembly(&o)
		return o.Value("slope_is_in")
	}
	for want, got := range map[string]string{
		"the structure":  verdicts(assembly.NotResolved, assembly.StructureSlopes, assembly.StructureSlopes),
		"the insulation": verdicts(assembly.InsulationTapers), "both": verdicts(assembly.BothSlope), "both, against each other": verdicts(assembly.TaperFights), "neither": verdicts(assembly.NothingSlopes),
		"mixed": verdicts(assembly.StructureSlopes, assembly.InsulationTapers), "not resolved": verdicts(assembly.NotResolved),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Whether errors leave open how much of the roof runs to an outlet: a range wider than a fifth of the roof, or than a twentieth and the figure itself. The sample has 238 m2, RD-1 166 of them.
func TestOpenCatchments(t *testing.T) {
	b := bookOf()
	b.Study.Bounds = nil
	if b.OpenCatchment(0) {
		t.Error("open, though nothing is known")
	}
	b.Study.Bounds = &bounds.Bounds{Catchments: make([]bounds.Range, len(b.Study.Surface.Outlets))}
	for _, c := range []struct {
		outlet    int
		low, high float64
		open      bool
		said      string
	}{
		{0, 140, 187, false, "166 m²"}, {0, 140, 188, true, "140 m² to 188 m²"}, // a fifth are 47.6 m2
		{1, 0, 11, false, "0 m²"}, {1, 0, 13, true, "up to 13.0 m²"}, // a twentieth are 11.9 m2; nothing runs to OS-1
		{0, 160, 175, false, "166 m²"},
	} {
		b.Study.Bounds.Catchments[c.outlet] = bounds.Range{Low: c.low, High: c.high}
		if got := b.SayCatchment(c.outlet); b.OpenCatchment(c.outlet) != c.open || got != c.said {
			t.Errorf("%v to %v: %q, open %v", c.low, c.high, got, b.OpenCatchment(c.outlet))
		}
		b.Study.Bounds.Catchments[c.outlet] = bounds.Range{}
	}
}

// Facts of a pond that spills over a lip, of one that an outlet holds, and of an outlet with its ways.
func TestFactsOfPondsAndOutlets(t *testing.T) {
	b := bookOf()
	value := func(fill func(o *record.Object), name string) string {
		var o record.Object
		fill(&o)
		return o.Value(name)
	}
	pond := func(o *record.Object) { b.Pond(o, 0) }
	if got := value(pond, "held_by") + " " + value(pond, "spills_to") + " " + value(pond, "level_m"); got != "SR1.RD-1 SR1.RD-1 100.02" {
		t.Error(got)
	}
	p := &b.Study.Ponds.Ponds[b.Study.Listed[0].Pond]
	p.HeldBy, p.Lip, p.ToOutlet, p.ToPond = -1, 3, -1, b.Study.Listed[0].Pond
	if got := value(pond, "held_by") + " " + value(pond, "spills_to"); got != "SR1.P01.lip SR1.P01" {
		t.Error(got)
	}
	p.Lip, p.ToPond = -1, -1
	if got := value(pond, "held_by") + value(pond, "spills_to"); got != "" {
		t.Error(got)
	}
	drain, scupper := func(o *record.Object) { b.Outlet(o, 0) }, func(o *record.Object) { b.Outlet(o, 1) }
	// By hand: RD-1 takes 166 m2 with the pond full; the pond's own way from the far corner at the ridge, (14, 0) to (6, 6), is 10 m as the crow flies.
	if got := value(drain, "catchment_m2"); got != "166" {
		t.Error(got)
	}
	if got := b.Travel(0).Longest; got < 10 || got > 14 || b.Travel(0).Mean >= got || b.Travel(0).Mean <= 0 {
		t.Errorf("%+v", b.Travel(0))
	}
	if value(scupper, "travel_max_m") != "" || value(scupper, "catchment_m2") != "0" || value(drain, "travel_max_m") == "" {
		t.Error("an outlet to which nothing runs has a longest way")
	}
	b.Study.Roof.Outlets[0].HasInvert = false
	if got := b.Invert(&b.Study.Surface.Outlets[0]); got != b.Study.Surface.Outlets[0].Invert {
		t.Error(got)
	}
	b.Study.Roof.Outlets[0].HasInvert, b.Study.Roof.Outlets[0].Invert = true, 101
	if got := b.Invert(&b.Study.Surface.Outlets[0]); got != 101 {
		t.Error(got)
	}
	for want, o := range map[string]surface.Outlet{"drain": {Type: roof.Drain}, "scupper": {Type: roof.Scupper}, "gutter": {Type: roof.EdgeOutlet, Edge: roof.Gutter}} {
		if got := record.OutletType(&o); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	line := func(o *record.Object) {
		b.Line(o, &slope.Line{Slope: 0.02, Length: 3, Drop: 0.06, BackFall: 0.004, Named: true, Type: roof.Hip})
	}
	if got := value(line, "slope_pct") + " " + value(line, "length_m") + " " + value(line, "drop_mm") + " " + value(line, "back_fall_mm") + " " + value(line, "type"); got != "2 3 60 4 hip" {
		t.Error(got)
	}
	bare := func(o *record.Object) { b.Line(o, &slope.Line{Type: roof.Hip}) }
	if value(bare, "type") != "" || value(bare, "back_fall_mm") != "" {
		t.Error("a line that nobody named has a type")
	}
}

// Water under a storm: what is drawn is the first case, the worst, and that in which every primary outlet alone is blocked; codes load a roof with the last.
func TestWatersOfAStorm(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
	primary, deepest := 0, 0.0
	for i := range b.Waters {
		w := &b.Waters[i]
		deepest = math.Max(deepest, w.Depth)
		if w.Primary {
			primary++
			if b.DesignWater() != w {
				t.Error("codes load the roof with another water")
			}
		}
		from := 0.0
		for k := range w.Bands {
			var o record.Object
			b.Band(&o, i, k)
			band := &w.Bands[k]
			// A millimetre of water is 9.80665 Pa, at the deepest of a band.
			if band.From < from || band.To <= band.From || !(math.Abs(o.Fact("load_kpa").Number-band.To*9.80665) <= 1e-9) || o.Value("case") != w.Case {
				t.Errorf("%s: band %d: %s", w.Case, k, o.Append(nil))
			}
			from = band.To
		}
		if len(w.Bands) > 0 && w.Depth > from+0.025 {
			t.Errorf("%s: %v deep, bands to %v", w.Case, w.Depth, from)
		}
	}
	if primary != 1 || len(b.StormCases()) != len(b.Waters) || b.StormCases()[0] != &b.Study.Storm.Cases[0] {
		t.Errorf("%d of %d waters have every primary outlet blocked", primary, len(b.Waters))
	}
	for i := range b.Waters {
		b.Waters[i].Primary = false
	}
	if w := b.DesignWater(); w.Depth != deepest {
		t.Errorf("the deepest is %v, not %v", deepest, w.Depth)
	}
	b.Waters = nil
	if b.DesignWater() != nil {
		t.Error("water of no state")
	}
	if id := b.BandID(0, 2); id != "SR1.H103" {
		t.Error(id)
	}
	// The nearest outlet, by hand: RD-1 stands at (6, 6), OS-1 at (0, 6); the gutter is none to stand near.
	cut := b.Study.Surface.Cut
	for v := range cut.X {
		want := "RD-1"
		if cut.X[v] < 3 {
			want = "OS-1"
		}
		if !(math.Abs(cut.X[v]-3) <= 1e-6) && b.OutletNear(v) != want {
			t.Errorf("%s is near (%v, %v)", b.OutletNear(v), cut.X[v], cut.Y[v])
		}
	}
}

// Confidence and limits: a source is said once, later ones name the first.
func TestLimitsNameTheirSourceOnce(t *testing.T) {
	b := bookOf()
	depth := []finding.Quantity{{Name: "depth", Value: 0.006, Dim: finding.Depth}}
	b.Study.Findings = []finding.Finding{
		{Pond: -1, Outlet: -1, Required: depth, Source: "A code"},
		{Pond: -1, Outlet: -1, Required: depth, Source: "Another"},
		{Pond: -1, Outlet: -1, Required: depth, Source: "A code"},
		{Pond: -1, Outlet: -1, Source: "A code"},
		{Pond: -1, Outlet: -1, Required: depth},
		{Pond: -1, Outlet: -1},
	}
	for i, want := range []string{"depth 6 mm (A code)", "depth 6 mm (Another)", "depth 6 mm (source: see N01)", "source: see N01", "depth 6 mm", ""} {
		if got := b.Limit(i); got != want {
			t.Errorf("%d: %q, want %q", i, got, want)
		}
	}
	var o record.Object
	b.Study.Findings[0].Measured = []finding.Quantity{
		{Name: "Pond's depth", Value: 0.0254, Dim: finding.Depth}, {Name: "share", Value: 0.12, Dim: finding.Share}, {Name: "towards", Value: 90, Dim: finding.Bearing}, {Name: "at the-door", Word: "east", Dim: finding.Name}, {Name: "spots", Value: 3, Dim: finding.Count},
	}
	b.Study.Findings[0].Outlet, b.Study.Findings[0].Also = 0, []finding.Kind{"x", "y"}
	b.Finding(&o, 0)
	for name, want := range map[string]string{
		"measured_ponds_depth_mm": "25.4", "measured_share_share": "0.12", "measured_towards_deg": "90", "measured_at_the_door": "east", "measured_spots": "3", "required_depth_mm": "6", "outlet": "SR1.RD-1", "pond": "", "also": "x, y",
		"measured": "Pond's depth 25 mm, share 12 %, towards east, at the-door east, spots 3",
	} {
		if got := o.Value(name); got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
}

// Times as people say them.
func TestTimesInWords(t *testing.T) {
	for s, want := range map[float64]string{0: "0 min", 20: "under 1 min", 40: "1 min", 59 * 60: "59 min", 3600: "1 h", 4800: "1 h 20 min", 3600*3 - 20: "3 h", 7260: "2 h 1 min"} {
		if got := record.SayTime(s); got != want {
			t.Errorf("%v s: %q, want %q", s, got, want)
		}
	}
}

// Words and titles are cut where they are longer than a line, by characters, not by bytes.
func TestLongWordsAreCut(t *testing.T) {
	for _, c := range []struct {
		text string
		most int
		want string
	}{{"ab cde f", 3, "ab cde f"}, {"ab cdef g", 3, "ab cd… g"}, {"éééé", 3, "éé…"}, {"ééé", 3, "ééé"}, {"a b", 1, "a b"}} {
		if got := record.Cut(c.text, c.most); got != c.want {
			t.Errorf("%q to %d: %q", c.text, c.most, got)
		}
	}
	if got := record.Beginning("abc def", 5); got != "abc…" {
		t.Error(got)
	}
	if got := record.Title(strings.Repeat("x", 121)); len([]rune(got)) != 120 {
		t.Error(got)
	}
	if got := record.Short(strings.Repeat("x", 82)); len([]rune(got)) != 81 {
		t.Error(got)
	}
}

// The limits of the classes of depth are whole in the reader's unit, and the deeper the stronger.
func TestDepthClasses(t *testing.T) {
	for u, want := range map[record.Units][]float64{record.SI: {0, 10, 25, 50}, record.US: {0, 12.7, 25.4, 50.8}} {
		last := 0.0
		for i, c := range record.DepthClasses(u) {
			if !(math.Abs(c.From*1000-want[i]) <= 1e-9) || c.Strength <= last {
				t.Errorf("class %d: %+v", i, c)
			}
			last = c.Strength
		}
	}
}

// The limits of a roof name their source; one that was stated for this roof says so, and what is usual beside it.
func TestCitedCriteria(t *testing.T) {
	si, us := bookOf(), record.NewBook(sample.Study(sample.Feet()), "", record.US)
	if got := us.CiteCriterion("min_slope", true); got == "" || strings.Contains(got, "stated for this roof") {
		t.Error(got)
	}
	if got := us.CiteCriterion("min_slope", false); !strings.HasPrefix(got, "stated for this roof; usual: ") {
		t.Error(got)
	}
	if a, b := si.CiteCriterion("min_slope", true), us.CiteCriterion("min_slope", true); !strings.HasPrefix(a, b) {
		t.Errorf("%q beside %q", a, b)
	}
}

// Area from which water runs to an outlet before any low place overflows, and how far; a pond that rests on a height that does not fit has no bounds, nor has one of which no trials were made.
func TestDirectWaysAndBounds(t *testing.T) {
	s := sample.Study(sample.Local())
	for i := range s.Catchments.Dry {
		if c := &s.Catchments.Dry[i]; c.Outlet < 0 {
			c.Outlet, c.Pond, c.TravelMax, c.TravelMean = 0, -1, 12, 5
		}
	}
	b := record.NewBook(s, "", record.SI)
	if got := b.DirectTravel(0); !(math.Abs(b.Direct(0)-166) <= 1e-3) || got.Longest != 12 || got.Mean != 5 {
		t.Errorf("%v m2, %+v", b.Direct(0), got)
	}
	var o record.Object
	b.Outlet(&o, 0)
	if o.Value("direct_travel_max_m") != "12" || o.Value("direct_m2") != "166" {
		t.Errorf("%s", o.Append(nil))
	}
	range1 := bounds.Range{Low: 0.012, High: 0.028}
	s.Bounds = &bounds.Bounds{Ponds: []bounds.Pond{{Trials: 9, Depth: range1, Barely: true, Listed: 0.9}}}
	facts := func() string {
		var o record.Object
		b.Pond(&o, 0)
		return o.Value("depth_mm_5") + " " + o.Value("depth_mm_95") + " " + o.Value("depth_mm")
	}
	if got := facts(); got != "12 28 " || !b.Barely(0) || b.SayPondRange(0) != "" || b.SayPondDepth(0) != "12 mm to 28 mm" {
		t.Errorf("%q %q", got, b.SayPondDepth(0))
	}
	s.Bounds.Ponds[0].Barely = false
	if got := facts(); got != "12 28 20" || b.SayPondRange(0) != "12 mm to 28 mm" || b.SayPondDepth(0) != "20 mm" {
		t.Errorf("%q %q", got, b.SayPondRange(0))
	}
	s.Bounds.Ponds[0].Depth = bounds.Range{Low: 0.0199, High: 0.0201}
	if got := b.SayPondRange(0); got != "" {
		t.Errorf("both ends read as the figure: %q", got)
	}
	s.Bounds.Ponds[0].Trials = 0
	if got := facts(); got != "  20" || b.SayPondRange(0) != "" {
		t.Errorf("no trials: %q", got)
	}
	s.Bounds.Ponds[0].Trials = 9
	s.Rests = [][]int32{{1}}
	if got := facts(); got != "  20" {
		t.Errorf("rests on a height that does not fit: %q", got)
	}
}
