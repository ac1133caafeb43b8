package correction

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/finding"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/surface"
)

// TestWhichOptionIsNearer: each row is nearer than all below it, whatever the rows below would do better: what can be built, then what is not refused, ponds, what is worse, wide mends, flat planes, limits, and of the same kinds what opens less.
func TestWhichOptionIsNearer(t *testing.T) {
	one, two := []Limit{{}}, []Limit{{}, {}}
	order := []struct {
		name string
		o    Option
	}{
		{"opens less", Option{Possible: true, PondsLeft: 1, wide: 1, FlatLeft: 1, Kind: mend.Fill, Opened: 1}},
		{"as far, opens more", Option{Possible: true, PondsLeft: 1, wide: 1, FlatLeft: 1, Kind: mend.Fill, Opened: 2}},
		{"more flat planes", Option{Possible: true, PondsLeft: 1, wide: 1, FlatLeft: 2, Kind: mend.Fill}},
		{"more wide mends", Option{Possible: true, PondsLeft: 1, wide: 2, Kind: mend.Fill}},
		{"more ponds", Option{Possible: true, PondsLeft: 2, Kind: mend.Fill}},
		{"refused for a limit", Option{Possible: true, Limits: one, Kind: mend.Fill}},
		{"more limits", Option{Possible: true, Limits: two, Kind: mend.Fill}},
		{"refused as worse", Option{Possible: true, Worse: one, Kind: mend.Fill}},
		{"more is worse", Option{Possible: true, Worse: two, Kind: mend.Fill}},
		{"refused, and more ponds", Option{Possible: true, PondsLeft: 3, Limits: one, Kind: mend.Fill}},
		{"not possible", Option{Kind: mend.Fill}},
	}
	for i := range order {
		for k := range order {
			if got := order[i].o.nearer(&order[k].o); got != (i < k) {
				t.Errorf("%q is nearer than %q: %v", order[i].name, order[k].name, got)
			}
		}
	}
	// What opens less counts only among options of the same kinds, in whatever order these stand.
	a := &Option{Kind: mend.Combined, Parts: []mend.Kind{mend.Fill, mend.Cricket}, Possible: true, Opened: 1}
	for _, c := range []struct {
		o    Option
		want bool
	}{{Option{Kind: mend.Combined, Parts: []mend.Kind{mend.Cricket, mend.Fill}}, true}, {Option{Kind: mend.Combined, Parts: []mend.Kind{mend.Cricket}}, false}, {Option{Kind: mend.Fill, Parts: []mend.Kind{mend.Cricket, mend.Combined}}, true}, {Option{Kind: mend.Retaper, Parts: []mend.Kind{mend.Fill, mend.Cricket}}, false}} {
		c.o.Possible, c.o.Opened = true, 2
		if got := a.alike(&c.o); got != c.want || a.nearer(&c.o) != c.want || c.o.nearer(a) {
			t.Errorf("%s with %v: alike %v, nearer %v", c.o.Kind, c.o.Parts, got, a.nearer(&c.o))
		}
	}
}

// TestFirstAnswerThatMeets: the best option is that of the first answer that meets; where none does, the first limit in the way of the answers in their order is told, broken ones before what is worse; else that of what was tried.
func TestFirstAnswerThatMeets(t *testing.T) {
	limit := func(name string) []Limit { return []Limit{{Name: name}} }
	r := &Result{Best: -1, Options: []Option{{Limits: limit("tried")}, {}, {Worse: limit("worse"), Limits: limit("broken")}, {Worse: limit("later")}}, Answers: []Answer{{Option: 1}, {Option: 2}, {Option: 3}}}
	if r.choose(); r.Best != -1 || r.InTheWay == nil || r.InTheWay.Name != "broken" {
		t.Errorf("%d, %+v", r.Best, r.InTheWay)
	}
	r.Answers = []Answer{{Option: 1}, {Option: 3}}
	if r.choose(); r.InTheWay.Name != "later" {
		t.Errorf("%+v", r.InTheWay)
	}
	r.Answers = []Answer{{Option: 1}}
	if r.choose(); r.InTheWay.Name != "tried" {
		t.Errorf("%+v", r.InTheWay)
	}
	r = &Result{Best: -1, Options: make([]Option, 4), Answers: []Answer{{Option: 1}, {Option: 2, Meets: true}, {Option: 3, Meets: true}}}
	if r.choose(); r.Best != 2 || r.InTheWay != nil {
		t.Errorf("%d, %+v", r.Best, r.InTheWay)
	}
}

// TestMendsTogether: where mends move one vertex the one that moves it farther holds, up or down, a section's always; of two levels of an outlet the lower. A mend's planes are laid where no other sets its outlet lower.
func TestMendsTogether(t *testing.T) {
	d := weighed(t)
	z := d.Base.Z
	up := &mend.Mend{Set: map[int32]float64{0: z[0] + 0.02, 1: z[1] - 0.01}, Inverts: map[int]float64{0: 3.1, 1: 2}}
	down := &mend.Mend{Set: map[int32]float64{0: z[0] - 0.03, 1: z[1] + 0.005}, Inverts: map[int]float64{0: 3.0}}
	section := &mend.Mend{Set: map[int32]float64{0: z[0] + 0.001}, Section: true}
	for _, c := range []struct {
		name  string
		mends []*mend.Mend
		want  [2]float64
	}{{"two", []*mend.Mend{up, down}, [2]float64{-0.03, -0.01}}, {"the other way", []*mend.Mend{down, up}, [2]float64{-0.03, -0.01}}, {"a section last", []*mend.Mend{up, down, section}, [2]float64{0.001, -0.01}}, {"none", nil, [2]float64{}}} {
		got, inverts := d.moved(c.mends)
		for v, want := range c.want {
			mendtest.About(t, c.name, got[v]-z[v], want)
		}
		mendtest.About(t, c.name+", untouched", got[2], z[2])
		if len(c.mends) > 0 && (inverts[0] != 3.0 || inverts[1] != 2 || len(inverts) != 2) {
			t.Errorf("%s: %v", c.name, inverts)
		}
		if len(c.mends) > 0 && (up.Lowest(inverts) || !down.Lowest(inverts) || !section.Lowest(inverts)) {
			t.Errorf("%s: %v, %v", c.name, up.Lowest(inverts), down.Lowest(inverts))
		}
	}
	mendtest.About(t, "the survey stays as it is", d.Surface.TIN.Z[0], z[0])
	for _, c := range []struct {
		parts []mend.Kind
		kind  mend.Kind
		left  int
	}{{nil, mend.Clear, 0}, {[]mend.Kind{mend.Fill}, mend.Fill, 0}, {[]mend.Kind{mend.Fill, mend.Cricket}, mend.Combined, 2}} {
		o := &Option{Parts: c.parts}
		if o.name(); o.Kind != c.kind || len(o.Parts) != c.left {
			t.Errorf("%v: %s with %v", c.parts, o.Kind, o.Parts)
		}
	}
	o := &Option{}
	o.addDecides("a", "", "b", "a")
	if o.addDecides("b", "c"); !slices.Equal(o.Decides, []string{"a", "b", "c"}) {
		t.Errorf("%v", o.Decides)
	}
}

// TestChangesReadAlike: alike to half a millimetre, of the same thing by name or at the same pond, they are one, with the lines of all; else they are two.
func TestChangesReadOnce(t *testing.T) {
	what := func(mm float64, name string) finding.Text {
		if name == "" {
			return finding.Say("Raise it by {0}", finding.MM("rise", mm/1000))
		}
		return finding.Say("Raise {1} by {0}", finding.MM("rise", mm/1000), finding.Called(name))
	}
	line := func(x float64) orb.LineString { return orb.LineString{{x, 0}, {x, 1}} }
	first := mend.Change{What: what(10, "A"), Pond: "P1", Line: line(0)}
	for _, c := range []struct {
		name string
		c    mend.Change
		want int
	}{
		{"the same", mend.Change{What: what(10, "A"), Pond: "P1", Line: line(1)}, 1}, {"to 0.4 mm, at another pond", mend.Change{What: what(10.4, "A"), Pond: "P2", Line: line(1)}, 1}, {"to 0.6 mm", mend.Change{What: what(10.6, "A"), Pond: "P1"}, 2}, {"another thing", mend.Change{What: what(10, "B"), Pond: "P1"}, 2}, {"other words", mend.Change{What: what(10, ""), Pond: "P1"}, 2},
	} {
		got := tidy([]mend.Change{first, c.c})
		if len(got) != c.want {
			t.Errorf("%s: %d changes", c.name, len(got))
		}
		if c.want == 1 && (len(got[0].More) != 1 || got[0].More[0][0][0] != 1) {
			t.Errorf("%s: lines %v", c.name, got[0].More)
		}
	}
	nameless := mend.Change{What: what(10, ""), Pond: "P1"}
	if got := tidy([]mend.Change{nameless, nameless, {What: what(10, ""), Pond: "P2"}}); len(got) != 2 {
		t.Errorf("without a name, at two ponds: %d changes", len(got))
	}
	load := mend.Change{What: finding.Say("Raise {1} by {0}", finding.Load("rise", 0.01), finding.Called("A"))}
	if got := tidy([]mend.Change{first, load}); len(got) != 2 {
		t.Error("10 mm and 0.01 Pa read alike")
	}
	limits := []Limit{{Name: "a", Where: "x"}, {Name: "a", Where: "x"}, {Name: "a", Where: "y"}, {Name: "b", Where: "x"}, {Name: "a", Where: "x", Required: finding.MM("least", 1)}}
	if got := once(limits); len(got) != 4 {
		t.Errorf("%d limits, want 4", len(got))
	}
	if got := only(limits, "b"); len(got) != 1 || got[0].Where != "x" {
		t.Errorf("%+v", got)
	}
	ask := func(text string, x float64) mend.Question {
		return mend.Question{Ask: finding.Say(text), At: orb.Point{x, 0}}
	}
	if got := unique([]mend.Question{ask("a", 0), ask("a", 0), ask("a", 1), ask("b", 0)}); len(got) != 3 {
		t.Errorf("%d questions, want 3", len(got))
	}
}

// TestRoofsThatDesignsStartFrom: outlets set down keep all else, and the roof as surveyed stays; folds that were found are breaklines of a design once each, and neighbours are those that an edge joins.
func TestRoofsThatDesignsStartFrom(t *testing.T) {
	r := &roof.Roof{Outlets: []roof.Outlet{{Label: "A", Invert: 1}, {Label: "B", Invert: 2, HasInvert: true}}}
	n := setDown(r, map[int]float64{0: 0.5})
	if n.Outlets[0].Invert != 0.5 || !n.Outlets[0].HasInvert || n.Outlets[0].Label != "A" || n.Outlets[1].Invert != 2 || r.Outlets[0].Invert != 1 || r.Outlets[0].HasInvert {
		t.Errorf("%+v, from %+v", n.Outlets, r.Outlets)
	}
	d := weighed(t)
	tin := d.Surface.TIN
	for a := range tin.X {
		want := map[int32]bool{}
		for e := range tin.V {
			v, w := tin.V[e], tin.End(int32(e))
			if int(v) == a {
				want[w] = true
			}
			if int(w) == a {
				want[v] = true
			}
		}
		if len(d.Star[a]) != len(want) {
			t.Errorf("vertex %d: %v, want %v", a, d.Star[a], want)
		}
		for _, w := range d.Star[a] {
			if !want[w] {
				t.Errorf("vertex %d: %d is no neighbour", a, w)
			}
		}
	}
	folds := *tin
	folds.Flag = slices.Clone(tin.Flag)
	inner := int32(-1)
	for e, o := range tin.Twin {
		if o >= 0 && inner < 0 {
			inner = int32(e)
			folds.Flag[e] |= surface.FoldEdge
			folds.Flag[o] |= surface.FoldEdge
		}
	}
	got := mend.Folded(d.Roof, &folds)
	if len(got.Breaklines) != len(d.Roof.Breaklines)+1 || got.Breaklines[0].ID != "found-1" || len(got.Breaklines[0].Line) != 2 || got.Breaklines[0].Line[0].Z != 3 || !got.Breaklines[0].Line[0].HasZ {
		t.Errorf("%+v", got.Breaklines)
	}
	if mendtest.About(t, "3, 4, 5 and on", mend.LineLength(orb.LineString{{0, 0}, {3, 4}, {3, 6}}), 7); mend.LineLength(nil) != 0 {
		t.Error("nothing is long")
	}
}

// TestPondsAtAPlace: a place belongs to a pond where its water stands, or within a metre of its lowest place.
func TestPondsAtAPlace(t *testing.T) {
	p := &mend.Pond{Pit: orb.Point{1, 1}, Place: orb.MultiPolygon{{{{0, 0}, {4, 0}, {4, 2}, {0, 2}, {0, 0}}}}}
	for q, want := range map[orb.Point]bool{{3.9, 1}: true, {4.1, 1}: false, {1, -0.01}: false, {1, 0.1}: true, {0.4, 0.3}: true} {
		if got := p.Covers(q); got != (want || math.Hypot(q[0]-1, q[1]-1) < 1) {
			t.Errorf("%v: %v", q, got)
		}
	}
	p.Place = nil
	for q, want := range map[orb.Point]bool{{1.99, 1}: true, {2.01, 1}: false, {1, 0.01}: true} {
		if got := p.Covers(q); got != want {
			t.Errorf("%v, without an outline: %v", q, got)
		}
	}
	a := &state{found: []found{{at: orb.Point{9, 9}}, {pond: true, at: orb.Point{1, 1}, bound: orb.Bound{Min: orb.Point{0, 0}, Max: orb.Point{4, 2}}}}}
	for q, want := range map[orb.Point]bool{{3.9, 1.9}: true, {4.1, 1}: false, {1.9, 1}: true, {-0.1, 1}: false, {0.2, 0.5}: true, {9, 9}: false, {1, 2.01}: false} {
		if got := a.pondAt(q); got != (want || (q[0]-1)*(q[0]-1)+(q[1]-1)*(q[1]-1) < 1) {
			t.Errorf("%v: a pond was found %v", q, got)
		}
	}
}

// TestWhatIsWhole: an answer is whole where it meets and leaves no flat plane; it dries where it can be built, was analysed, leaves no pond and is not refused.
func TestWhatIsWhole(t *testing.T) {
	for _, c := range []struct {
		o            Option
		whole, dries bool
	}{
		{Option{Meets: true, Possible: true, Study: &study.Study{}}, true, true},
		{Option{Meets: true, FlatLeft: 1, Possible: true, Study: &study.Study{}}, false, true},
		{Option{Possible: true, Study: &study.Study{}}, false, true},
		{Option{Possible: true, Study: &study.Study{}, PondsLeft: 1}, false, false},
		{Option{Possible: true, Study: &study.Study{}, Worse: []Limit{{}}}, false, false},
		{Option{Possible: true, Study: &study.Study{}, Limits: []Limit{{}}}, false, false},
		{Option{Possible: true}, false, false},
		{Option{Study: &study.Study{}}, false, false},
	} {
		if c.o.whole() != c.whole || c.o.dries() != c.dries {
			t.Errorf("%+v: whole %v, dries %v", c.o, c.o.whole(), c.o.dries())
		}
	}
	for _, c := range []struct {
		f         finding.Finding
		taxed, up bool
	}{
		{finding.Finding{Kind: finding.OutletSmall, Severity: finding.Repair}, true, false}, {finding.Finding{Kind: finding.ScupperFull, Severity: finding.Urgent}, true, true}, {finding.Finding{Kind: finding.ScupperFull, Severity: finding.Note}, false, false}, {finding.Finding{Kind: finding.Dish, Severity: finding.Urgent}, false, true},
	} {
		o := &Option{Study: &study.Study{Findings: []finding.Finding{c.f}}}
		if o.Overtaxed() != c.taxed || o.Urgent() != c.up {
			t.Errorf("%s, %s: overtaxed %v, urgent %v", c.f.Kind, c.f.Severity, o.Overtaxed(), o.Urgent())
		}
	}
	if o := (&Option{}); o.Overtaxed() || o.Urgent() {
		t.Error("nothing was analysed")
	}
}

// TestFlatForNewWork: planes of 10 sq ft and more that are not shown to fall as new work must, by two errors.
func TestFlatForNewWork(t *testing.T) {
	d := &designer{Designer: &mend.Designer{}}
	for _, c := range []struct {
		p    slope.Plane
		want bool
	}{
		{slope.Plane{Area: 1, Slope: 0.019}, true}, {slope.Plane{Area: 1, Slope: 0.02}, false}, {slope.Plane{Area: 0.92, Slope: 0.019}, false}, {slope.Plane{Area: 1, Slope: 0.019, Sigma: 0.00051}, false}, {slope.Plane{Area: 1, Slope: 0.019, Sigma: 0.00049}, true},
	} {
		s := &study.Study{Slopes: &slope.Slopes{Planes: []slope.Plane{{Area: 9, Slope: 0.05}, c.p}}}
		s.Criteria.MinSlopeNew = 0.02
		if got := d.flatForNew(&Option{Study: s}); got != c.want {
			t.Errorf("%+v: %v", c.p, got)
		}
	}
}

// TestWideMends: a local mend may open standard.LocalArea, or standard.LocalShare of the roof where that is more; one that fills or takes off a rise twice the area or four shares, a cricket or a section five shares; what is laid in stock boards as much as a section and a fifth. Only what is opened for that pond in that way counts. A fill that feathers is wide however small.
func TestWideMends(t *testing.T) {
	d := weighed(t)
	local, share := standard.LocalArea, standard.LocalShare*d.Surface.Area
	for _, c := range []struct {
		name string
		m    mend.Mend
		most float64
	}{
		{"an outlet", mend.Mend{Kind: mend.LowerOutlet}, math.Max(local, share)}, {"a cricket", mend.Mend{Kind: mend.Cricket}, math.Max(2*local, 5*share)}, {"a section", mend.Mend{Kind: mend.Retaper}, math.Max(2*local, 5*share)}, {"stock boards", mend.Mend{Kind: mend.Retaper, Stock: true}, 1.2 * mend.MostSection * d.Surface.Area}, {"a fill", mend.Mend{Kind: mend.Fill, Fill: true, Volume: 1, Area: 2}, math.Max(2*local, 4*share)}, {"a rise", mend.Mend{Kind: mend.LowerRise}, math.Max(2*local, 4*share)},
	} {
		s := &search{d: d, of: []mend.Pond{{ID: "P1"}, {ID: "P2"}}, ways: [][]mend.Mend{{c.m}, {c.m}}, pick: []int{0, 0}}
		change := mend.Change{Kind: c.m.Kind, Pond: "P1", Opened: c.most * 1.001}
		for _, o := range []struct {
			change mend.Change
			want   bool
		}{{change, true}, {mend.Change{Kind: c.m.Kind, Pond: "P1", Opened: c.most * 0.999}, false}, {mend.Change{Kind: mend.Clear, Pond: "P1", Opened: 1000}, false}, {mend.Change{Kind: c.m.Kind, Pond: "P3", Opened: 1000}, false}} {
			if got := s.wide(0, &Option{Changes: []mend.Change{{}, o.change}}); got != o.want {
				t.Errorf("%s, %s at %s opens %g m2: wide %v", c.name, o.change.Kind, o.change.Pond, o.change.Opened, got)
			}
		}
		if s.wide(1, &Option{Changes: []mend.Change{change}}) {
			t.Errorf("%s: what is opened at another pond counts", c.name)
		}
	}
	s := &search{d: d, of: []mend.Pond{{ID: "P1"}}, ways: [][]mend.Mend{{{Kind: mend.Fill, Fill: true, Volume: 1, Area: 2}}}, pick: []int{0}}
	if !s.wide(0, &Option{Changes: []mend.Change{{Kind: mend.Retaper, Pond: "P1", Opened: 1000}}}) {
		t.Error("a fill that has become a section is not wide")
	}
	s.ways[0][0] = mend.Mend{Kind: mend.Fill, Fill: true, Volume: 0.001, Area: 10.01}
	if !s.wide(0, &Option{}) {
		t.Error("a fill that feathers is not wide")
	}
}

// TestNextWayForAPond: the choice for a pond goes on where its pond stays, or where a limit or something worse stands nearest to it; where an option is refused and nobody knows why, or cannot be built, all go on; where nothing failed none does.
func TestNextWayForAPond(t *testing.T) {
	d := weighed(t)
	d.before = &state{}
	ways := func() *search {
		way := func(x float64) []mend.Mend {
			return []mend.Mend{{Kind: mend.LowerOutlet, Change: mend.Change{At: orb.Point{x, 5}}}, {Kind: mend.LowerOutlet, Change: mend.Change{At: orb.Point{x, 5}}}}
		}
		d.Ponds = []mend.Pond{{ID: "P1"}, {ID: "P2"}, {ID: "P3"}}
		return &search{d: d, of: d.Ponds, ways: [][]mend.Mend{way(2), way(8), nil}, pick: []int{0, 0, 0}}
	}
	at := func(x float64) []Limit { return []Limit{{At: orb.Point{x, 5}}} }
	for _, c := range []struct {
		name string
		o    Option
		want []int
		any  bool
	}{
		{"nothing failed", Option{Possible: true}, []int{0, 0, 0}, false},
		{"a pond stays", Option{Possible: true, Left: []string{"P2"}}, []int{0, 1, 0}, true},
		{"a pond without a way stays", Option{Possible: true, Left: []string{"P3"}}, []int{0, 0, 0}, false},
		{"a limit near the first", Option{Possible: true, Limits: at(4)}, []int{1, 0, 0}, true},
		{"worse near the second", Option{Possible: true, Worse: at(6)}, []int{0, 1, 0}, true},
		{"refused, no place known", Option{Possible: true, Worse: []Limit{{}}}, []int{1, 1, 0}, true},
		{"not possible", Option{}, []int{1, 1, 0}, true},
	} {
		s := ways()
		if any := s.advance(&c.o); any != c.any || !slices.Equal(s.pick, c.want) {
			t.Errorf("%s: %v, %v; want %v", c.name, any, s.pick, c.want)
		}
	}
	s := ways()
	s.pick = []int{2, 1, 0}
	if chosen := s.chosen(); len(chosen) != 1 || chosen[0] != &s.ways[1][1] || s.live(0) || !s.live(1) || s.live(2) {
		t.Errorf("%d chosen", len(chosen))
	}
	if any := s.advance(&Option{}); !any || !slices.Equal(s.pick, []int{2, 2, 0}) {
		t.Errorf("the last way of one: %v", s.pick)
	}
	if any := s.advance(&Option{}); any {
		t.Error("nothing is left to try")
	}
}

// TestWhatElseIsDone: a question on a way that was taken says what is done where it cannot be: the next way of another kind for that pond, else who is asked; questions of others stay.
func TestWhatElseIsDone(t *testing.T) {
	ask := mend.Question{Ask: finding.Say("May it be cut?"), At: orb.Point{1, 1}, Then: finding.Say("Cut it")}
	for _, c := range []struct {
		ways []mend.Mend
		want string
	}{
		{[]mend.Mend{{Kind: mend.AddScupper, Questions: []mend.Question{ask}}, {Kind: mend.AddScupper}, {Kind: mend.Retaper}}, "Cut it; not allowed: re-taper the section"},
		{[]mend.Mend{{Kind: mend.LowerOutlet, Questions: []mend.Question{ask}}}, "Cut it; less: an engineer or a re-tapered section"},
		{[]mend.Mend{{Kind: mend.Fill, Questions: []mend.Question{ask}}, {Kind: mend.Retaper}}, "Cut it"},
	} {
		s := &search{of: make([]mend.Pond, 1), ways: [][]mend.Mend{c.ways}, pick: []int{0}}
		other := ask
		other.At = orb.Point{2, 2}
		o := &Option{mends: []*mend.Mend{&s.ways[0][0]}, questions: []mend.Question{other, ask}}
		s.elses(o)
		if got := o.questions[1].Then.Format; got != c.want || o.questions[0].Then.Format != "Cut it" {
			t.Errorf("%q and %q, want %q", got, o.questions[0].Then.Format, c.want)
		}
		o.mends = nil
		s.elses(o)
		if got := o.questions[1].Then.Format; got != c.want {
			t.Errorf("a way that was not taken: %q", got)
		}
	}
}

// TestLeftoversSayWhatMends: of what is left each finding at repair and above is told with what to do, unless a change says it or mends its pond; a pond has its id on the roof as found.
func TestLeftoversSayWhatMends(t *testing.T) {
	d := &designer{Designer: &mend.Designer{Ponds: []mend.Pond{{ID: "P1", Pit: orb.Point{1, 1}}, {ID: "P2", Pit: orb.Point{5, 5}}}}}
	s := &study.Study{
		Surface: &surface.Surface{Cut: &surface.TIN{X: []float64{9, 5.2, 1}, Y: []float64{9, 5, 1.3}}}, Ponds: &ponding.Ponds{Ponds: []ponding.Pond{{Pits: []int32{1}}, {Pits: []int32{0}}, {Pits: []int32{0, 2}}}},
		Findings: []finding.Finding{
			{Kind: finding.Dish, Severity: finding.Repair, Pond: 0, Do: finding.Say("A.")}, {Kind: finding.OutletHigh, Severity: finding.Urgent, Pond: 1, Do: finding.Say("B.")}, {Kind: finding.PlaneFlat, Severity: finding.Note, Pond: -1, Do: finding.Say("C.")}, {Kind: finding.DeckSoft, Severity: finding.Repair, Pond: -1, Do: finding.Say("D.")}, {Kind: finding.Step, Severity: finding.Repair, Pond: 2, Do: finding.Say("E.")},
		},
	}
	got := d.leftovers(&Option{Study: s, Changes: []mend.Change{{What: finding.Say("At the core: D.")}, {Pond: "P1"}, {}}})
	want := []struct {
		kind     finding.Kind
		pond, do string
	}{{finding.Dish, "P2", "A."}, {finding.OutletHigh, "", "B."}, {finding.DeckSoft, "", ""}, {finding.Step, "P1", ""}}
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i, w := range want {
		if got[i].Kind != w.kind || got[i].Pond != w.pond || got[i].Do.Format != w.do {
			t.Errorf("%+v, want %+v", got[i], w)
		}
	}
}

// TestOptionsOnTop: an option made on top of another keeps that one's changes, with what they open on the new roof, its questions and who decides; it is the best where it is nearer.
func TestOptionsOnTop(t *testing.T) {
	d := &designer{Designer: &mend.Designer{}}
	r := &Result{Options: []Option{{Possible: true, PondsLeft: 1, Changes: []mend.Change{{Kind: mend.Fill, Pond: "P1", Opened: 4}, {Kind: mend.Clear}}, questions: []mend.Question{{Where: "a"}}, Decides: []string{"x"}}}}
	best := 0
	n := &Option{Possible: true, Meets: true, Changes: []mend.Change{{Kind: mend.Retaper}}, earlier: []mend.Change{{Kind: mend.Fill, Pond: "P1", Opened: 3}, {Kind: mend.Fill, Pond: "P2", Opened: 9}}, questions: []mend.Question{{Where: "b"}}}
	if whole := d.onTop(r, 0, n, &best); !whole || best != 1 || len(r.Options) != 2 {
		t.Fatalf("%v, best %d", whole, best)
	}
	o := &r.Options[1]
	if len(o.Changes) != 3 || o.Changes[0].Opened != 3 || o.Changes[1].Kind != mend.Clear || o.Changes[2].Kind != mend.Retaper || len(o.questions) != 2 || o.questions[0].Where != "a" || !slices.Equal(o.Decides, []string{"x"}) {
		t.Errorf("%+v", o)
	}
	if r.Options[0].Changes[0].Opened != 4 {
		t.Error("the option below is changed")
	}
	if whole := d.onTop(r, 0, &Option{Possible: true, PondsLeft: 2, Meets: false}, &best); whole || best != 1 {
		t.Errorf("%v, best %d", whole, best)
	}
}

// TestEngineerIsAskedOnce: what is asked in the same words at two places is asked once, whether or not it is put as a question; what a roofer decides is not the engineer's.
func TestEngineerIsAskedOnce(t *testing.T) {
	d := &designer{Designer: &mend.Designer{}}
	for _, text := range []string{"Say what the deck carries", "What does the deck carry?"} {
		ask := func(x float64, who string) mend.Question {
			return mend.Question{Ask: finding.Say(text), At: orb.Point{x, 0}, Decides: who}
		}
		r := &Result{Options: []Option{{questions: []mend.Question{ask(1, finding.Roofer), ask(2, finding.Engineer), ask(3, finding.Engineer)}}}}
		d.opened(r, 0)
		if len(r.EngineerFirst) != 1 || r.EngineerFirst[0].At[0] != 2 {
			t.Errorf("%s: %+v", text, r.EngineerFirst)
		}
	}
}
