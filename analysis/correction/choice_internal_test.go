package correction

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

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
		{"opens less", Option{Possible: true, PondsLeft: 1, wide: 1, FlatLeft: 1, Kind: Fill, Opened: 1}},
		{"as far, opens more", Option{Possible: true, PondsLeft: 1, wide: 1, FlatLeft: 1, Kind: Fill, Opened: 2}},
		{"more flat planes", Option{Possible: true, PondsLeft: 1, wide: 1, FlatLeft: 2, Kind: Fill}},
		{"more wide mends", Option{Possible: true, PondsLeft: 1, wide: 2, Kind: Fill}},
		{"more ponds", Option{Possible: true, PondsLeft: 2, Kind: Fill}},
		{"refused for a limit", Option{Possible: true, Limits: one, Kind: Fill}},
		{"more limits", Option{Possible: true, Limits: two, Kind: Fill}},
		{"refused as worse", Option{Possible: true, Worse: one, Kind: Fill}},
		{"more is worse", Option{Possible: true, Worse: two, Kind: Fill}},
		{"refused, and more ponds", Option{Possible: true, PondsLeft: 3, Limits: one, Kind: Fill}},
		{"not possible", Option{Kind: Fill}},
	}
	for i := range order {
		for k := range order {
			if got := order[i].o.nearer(&order[k].o); got != (i < k) {
				t.Errorf("%q is nearer than %q: %v", order[i].name, order[k].name, got)
			}
		}
	}
	// What opens less counts only among options of the same kinds, in whatever order these stand.
	a := &Option{Kind: Combined, Parts: []Kind{Fill, Cricket}, Possible: true, Opened: 1}
	for _, c := range []struct {
		o    Option
		want bool
	}{{Option{Kind: Combined, Parts: []Kind{Cricket, Fill}}, true}, {Option{Kind: Combined, Parts: []Kind{Cricket}}, false}, {Option{Kind: Fill, Parts: []Kind{Cricket, Combined}}, true}, {Option{Kind: Retaper, Parts: []Kind{Fill, Cricket}}, false}} {
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

// TestOrderOfMends: by preference; within a rank the smaller area, from 0.01 m2 on; then fewer trades, a plumber's work inside counting as one more; then less volume, from 0.1 l on; else as they were.
func TestOrderOfMends(t *testing.T) {
	d := &designer{in: &Input{}}
	mends := []mend{
		{kind: Retaper, area: 0, volume: 1, sump: 1},
		{kind: Fill, area: 5, volume: 2, sump: 2},
		{kind: Fill, area: 5.005, volume: 1, sump: 3},
		{kind: Fill, area: 4, volume: 9, sump: 4},
		{kind: Fill, area: 5, volume: 0, decides: []string{finding.Roofer, finding.Engineer}, sump: 5},
		{kind: Fill, area: 5, decides: []string{finding.Plumber}, volume: 0.5, sump: 6},
		{kind: Fill, area: 5.0, volume: 1.00005, sump: 7},
		{kind: LowerRise, area: 9, sump: 8},
	}
	d.order(mends)
	var got []float64
	for i := range mends {
		got = append(got, mends[i].sump)
	}
	if want := []float64{8, 4, 3, 7, 2, 5, 6, 1}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	for want, who := range map[int][]string{0: nil, 1: {finding.Roofer}, 2: {finding.Plumber}, 3: {finding.Roofer, finding.Plumber}} {
		if got := (&mend{decides: who}).effort(); got != want {
			t.Errorf("%v take %d, want %d", who, got, want)
		}
	}
}

// TestPreferenceOfKinds: kinds stand in their order but for those that the user prefers; a scupper's floor comes between crickets and edges, unless the user says where outlets come. What the user forbids, or leaves out of all that is allowed, is not looked at.
func TestPreferenceOfKinds(t *testing.T) {
	s := &Steering{Prefer: []Kind{Retaper, Fill}}
	order := s.preference()
	if order[0] != Retaper || order[1] != Fill || order[2] != Clear || len(order) != len(Kinds()) {
		t.Errorf("%v", order)
	}
	plain := &Steering{}
	rank := func(s *Steering, k Kind, scupper bool) int { return s.rank(&mend{kind: k, scupper: scupper}) }
	if a, b, c := rank(plain, Cricket, false), rank(plain, LowerOutlet, true), rank(plain, LowerEdge, false); a >= b || b >= c {
		t.Errorf("cricket %d, scupper %d, edge %d", a, b, c)
	}
	if a, b, c := rank(plain, LowerRise, false), rank(plain, LowerOutlet, false), rank(plain, ReplacePatch, false); a >= b || b >= c {
		t.Errorf("rise %d, drain %d, patch %d", a, b, c)
	}
	if first := (&Steering{Prefer: []Kind{LowerOutlet}}); rank(first, LowerOutlet, true) != 0 {
		t.Errorf("preferred: %d", rank(first, LowerOutlet, true))
	}
	for _, c := range []struct {
		s    Steering
		want bool
	}{{Steering{}, true}, {Steering{Only: []Kind{Fill}}, true}, {Steering{Only: []Kind{Cricket}}, false}, {Steering{Forbid: []Kind{Fill}}, false}, {Steering{Only: []Kind{Fill}, Forbid: []Kind{Fill}}, false}} {
		if got := c.s.allows(Fill); got != c.want {
			t.Errorf("%+v: %v", c.s, got)
		}
	}
}

// TestPhraseOfEachKind: each kind says in a few words what is done, without its own name's hyphen; a change says its own words first.
func TestPhraseOfEachKind(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range append(Kinds(), AsFound, Combined) {
		p := k.Phrase()
		if p == "" || p == string(k) || seen[p] || strings.ToUpper(p[:1]) == p[:1] || strings.HasSuffix(p, ".") {
			t.Errorf("%s: %q", k, p)
		}
		seen[p] = true
	}
	if got := Kind("no-kind").Phrase(); got != "no-kind" {
		t.Errorf("%q", got)
	}
	if a, b := (&Change{Kind: Fill}).Phrase(), (&Change{Kind: Fill, Brief: "fill it"}).Phrase(); a != Fill.Phrase() || b != "fill it" {
		t.Errorf("%q, %q", a, b)
	}
}

// TestMendsTogether: where mends move one vertex the one that moves it farther holds, up or down, a section's always; of two levels of an outlet the lower. A mend's planes are laid where no other sets its outlet lower.
func TestMendsTogether(t *testing.T) {
	d := weighed(t)
	z := d.base.Z
	up := &mend{set: map[int32]float64{0: z[0] + 0.02, 1: z[1] - 0.01}, inverts: map[int]float64{0: 3.1, 1: 2}}
	down := &mend{set: map[int32]float64{0: z[0] - 0.03, 1: z[1] + 0.005}, inverts: map[int]float64{0: 3.0}}
	section := &mend{set: map[int32]float64{0: z[0] + 0.001}, section: true}
	for _, c := range []struct {
		name  string
		mends []*mend
		want  [2]float64
	}{{"two", []*mend{up, down}, [2]float64{-0.03, -0.01}}, {"the other way", []*mend{down, up}, [2]float64{-0.03, -0.01}}, {"a section last", []*mend{up, down, section}, [2]float64{0.001, -0.01}}, {"none", nil, [2]float64{}}} {
		got, inverts := d.moved(c.mends)
		for v, want := range c.want {
			about(t, c.name, got[v]-z[v], want)
		}
		about(t, c.name+", untouched", got[2], z[2])
		if len(c.mends) > 0 && (inverts[0] != 3.0 || inverts[1] != 2 || len(inverts) != 2) {
			t.Errorf("%s: %v", c.name, inverts)
		}
		if len(c.mends) > 0 && (up.lowest(inverts) || !down.lowest(inverts) || !section.lowest(inverts)) {
			t.Errorf("%s: %v, %v", c.name, up.lowest(inverts), down.lowest(inverts))
		}
	}
	about(t, "the survey stays as it is", d.s.TIN.Z[0], z[0])
	for _, c := range []struct {
		parts []Kind
		kind  Kind
		left  int
	}{{nil, Clear, 0}, {[]Kind{Fill}, Fill, 0}, {[]Kind{Fill, Cricket}, Combined, 2}} {
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
	first := Change{What: what(10, "A"), Pond: "P1", Line: line(0)}
	for _, c := range []struct {
		name string
		c    Change
		want int
	}{
		{"the same", Change{What: what(10, "A"), Pond: "P1", Line: line(1)}, 1}, {"to 0.4 mm, at another pond", Change{What: what(10.4, "A"), Pond: "P2", Line: line(1)}, 1}, {"to 0.6 mm", Change{What: what(10.6, "A"), Pond: "P1"}, 2}, {"another thing", Change{What: what(10, "B"), Pond: "P1"}, 2}, {"other words", Change{What: what(10, ""), Pond: "P1"}, 2},
	} {
		got := tidy([]Change{first, c.c})
		if len(got) != c.want {
			t.Errorf("%s: %d changes", c.name, len(got))
		}
		if c.want == 1 && (len(got[0].More) != 1 || got[0].More[0][0][0] != 1) {
			t.Errorf("%s: lines %v", c.name, got[0].More)
		}
	}
	nameless := Change{What: what(10, ""), Pond: "P1"}
	if got := tidy([]Change{nameless, nameless, {What: what(10, ""), Pond: "P2"}}); len(got) != 2 {
		t.Errorf("without a name, at two ponds: %d changes", len(got))
	}
	load := Change{What: finding.Say("Raise {1} by {0}", finding.Load("rise", 0.01), finding.Called("A"))}
	if got := tidy([]Change{first, load}); len(got) != 2 {
		t.Error("10 mm and 0.01 Pa read alike")
	}
	limits := []Limit{{Name: "a", Where: "x"}, {Name: "a", Where: "x"}, {Name: "a", Where: "y"}, {Name: "b", Where: "x"}, {Name: "a", Where: "x", Required: finding.MM("least", 1)}}
	if got := once(limits); len(got) != 4 {
		t.Errorf("%d limits, want 4", len(got))
	}
	if got := only(limits, "b"); len(got) != 1 || got[0].Where != "x" {
		t.Errorf("%+v", got)
	}
	ask := func(text string, x float64) Question { return Question{Ask: finding.Say(text), At: orb.Point{x, 0}} }
	if got := unique([]Question{ask("a", 0), ask("a", 0), ask("a", 1), ask("b", 0)}); len(got) != 3 {
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
	tin := d.s.TIN
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
		if len(d.star[a]) != len(want) {
			t.Errorf("vertex %d: %v, want %v", a, d.star[a], want)
		}
		for _, w := range d.star[a] {
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
	got := folded(d.roof, &folds)
	if len(got.Breaklines) != len(d.roof.Breaklines)+1 || got.Breaklines[0].ID != "found-1" || len(got.Breaklines[0].Line) != 2 || got.Breaklines[0].Line[0].Z != 3 || !got.Breaklines[0].Line[0].HasZ {
		t.Errorf("%+v", got.Breaklines)
	}
	if about(t, "3, 4, 5 and on", lineLength(orb.LineString{{0, 0}, {3, 4}, {3, 6}}), 7); lineLength(nil) != 0 {
		t.Error("nothing is long")
	}
}

// TestPondsAtAPlace: a place belongs to a pond where its water stands, or within a metre of its lowest place.
func TestPondsAtAPlace(t *testing.T) {
	p := &pond{pit: orb.Point{1, 1}, place: orb.MultiPolygon{{{{0, 0}, {4, 0}, {4, 2}, {0, 2}, {0, 0}}}}}
	for q, want := range map[orb.Point]bool{{3.9, 1}: true, {4.1, 1}: false, {1, -0.01}: false, {1, 0.1}: true, {0.4, 0.3}: true} {
		if got := p.at(q); got != (want || math.Hypot(q[0]-1, q[1]-1) < 1) {
			t.Errorf("%v: %v", q, got)
		}
	}
	p.place = nil
	for q, want := range map[orb.Point]bool{{1.99, 1}: true, {2.01, 1}: false, {1, 0.01}: true} {
		if got := p.at(q); got != want {
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
	d := &designer{}
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
	local, share := standard.LocalArea, standard.LocalShare*d.s.Area
	for _, c := range []struct {
		name string
		m    mend
		most float64
	}{
		{"an outlet", mend{kind: LowerOutlet}, math.Max(local, share)}, {"a cricket", mend{kind: Cricket}, math.Max(2*local, 5*share)}, {"a section", mend{kind: Retaper}, math.Max(2*local, 5*share)}, {"stock boards", mend{kind: Retaper, stock: true}, 1.2 * mostSection * d.s.Area}, {"a fill", mend{kind: Fill, fill: true, volume: 1, area: 2}, math.Max(2*local, 4*share)}, {"a rise", mend{kind: LowerRise}, math.Max(2*local, 4*share)},
	} {
		s := &search{d: d, of: []pond{{id: "P1"}, {id: "P2"}}, ways: [][]mend{{c.m}, {c.m}}, pick: []int{0, 0}}
		change := Change{Kind: c.m.kind, Pond: "P1", Opened: c.most * 1.001}
		for _, o := range []struct {
			change Change
			want   bool
		}{{change, true}, {Change{Kind: c.m.kind, Pond: "P1", Opened: c.most * 0.999}, false}, {Change{Kind: Clear, Pond: "P1", Opened: 1000}, false}, {Change{Kind: c.m.kind, Pond: "P3", Opened: 1000}, false}} {
			if got := s.wide(0, &Option{Changes: []Change{{}, o.change}}); got != o.want {
				t.Errorf("%s, %s at %s opens %g m2: wide %v", c.name, o.change.Kind, o.change.Pond, o.change.Opened, got)
			}
		}
		if s.wide(1, &Option{Changes: []Change{change}}) {
			t.Errorf("%s: what is opened at another pond counts", c.name)
		}
	}
	s := &search{d: d, of: []pond{{id: "P1"}}, ways: [][]mend{{{kind: Fill, fill: true, volume: 1, area: 2}}}, pick: []int{0}}
	if !s.wide(0, &Option{Changes: []Change{{Kind: Retaper, Pond: "P1", Opened: 1000}}}) {
		t.Error("a fill that has become a section is not wide")
	}
	s.ways[0][0] = mend{kind: Fill, fill: true, volume: 0.001, area: 10.01}
	if !s.wide(0, &Option{}) {
		t.Error("a fill that feathers is not wide")
	}
}

// TestNextWayForAPond: the choice for a pond goes on where its pond stays, or where a limit or something worse stands nearest to it; where an option is refused and nobody knows why, or cannot be built, all go on; where nothing failed none does.
func TestNextWayForAPond(t *testing.T) {
	d := weighed(t)
	d.before = &state{}
	ways := func() *search {
		way := func(x float64) []mend {
			return []mend{{kind: LowerOutlet, change: Change{At: orb.Point{x, 5}}}, {kind: LowerOutlet, change: Change{At: orb.Point{x, 5}}}}
		}
		d.ponds = []pond{{id: "P1"}, {id: "P2"}, {id: "P3"}}
		return &search{d: d, of: d.ponds, ways: [][]mend{way(2), way(8), nil}, pick: []int{0, 0, 0}}
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
	ask := Question{Ask: finding.Say("May it be cut?"), At: orb.Point{1, 1}, Then: finding.Say("Cut it")}
	for _, c := range []struct {
		ways []mend
		want string
	}{
		{[]mend{{kind: AddScupper, questions: []Question{ask}}, {kind: AddScupper}, {kind: Retaper}}, "Cut it; not allowed: re-taper the section"},
		{[]mend{{kind: LowerOutlet, questions: []Question{ask}}}, "Cut it; less: an engineer or a re-tapered section"},
		{[]mend{{kind: Fill, questions: []Question{ask}}, {kind: Retaper}}, "Cut it"},
	} {
		s := &search{of: make([]pond, 1), ways: [][]mend{c.ways}, pick: []int{0}}
		other := ask
		other.At = orb.Point{2, 2}
		o := &Option{mends: []*mend{&s.ways[0][0]}, questions: []Question{other, ask}}
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
	d := &designer{ponds: []pond{{id: "P1", pit: orb.Point{1, 1}}, {id: "P2", pit: orb.Point{5, 5}}}}
	s := &study.Study{
		Surface: &surface.Surface{Cut: &surface.TIN{X: []float64{9, 5.2, 1}, Y: []float64{9, 5, 1.3}}}, Ponds: &ponding.Ponds{Ponds: []ponding.Pond{{Pits: []int32{1}}, {Pits: []int32{0}}, {Pits: []int32{0, 2}}}},
		Findings: []finding.Finding{
			{Kind: finding.Dish, Severity: finding.Repair, Pond: 0, Do: finding.Say("A.")}, {Kind: finding.OutletHigh, Severity: finding.Urgent, Pond: 1, Do: finding.Say("B.")}, {Kind: finding.PlaneFlat, Severity: finding.Note, Pond: -1, Do: finding.Say("C.")}, {Kind: finding.DeckSoft, Severity: finding.Repair, Pond: -1, Do: finding.Say("D.")}, {Kind: finding.Step, Severity: finding.Repair, Pond: 2, Do: finding.Say("E.")},
		},
	}
	got := d.leftovers(&Option{Study: s, Changes: []Change{{What: finding.Say("At the core: D.")}, {Pond: "P1"}, {}}})
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
	d := &designer{}
	r := &Result{Options: []Option{{Possible: true, PondsLeft: 1, Changes: []Change{{Kind: Fill, Pond: "P1", Opened: 4}, {Kind: Clear}}, questions: []Question{{Where: "a"}}, Decides: []string{"x"}}}}
	best := 0
	n := &Option{Possible: true, Meets: true, Changes: []Change{{Kind: Retaper}}, earlier: []Change{{Kind: Fill, Pond: "P1", Opened: 3}, {Kind: Fill, Pond: "P2", Opened: 9}}, questions: []Question{{Where: "b"}}}
	if whole := d.onTop(r, 0, n, &best); !whole || best != 1 || len(r.Options) != 2 {
		t.Fatalf("%v, best %d", whole, best)
	}
	o := &r.Options[1]
	if len(o.Changes) != 3 || o.Changes[0].Opened != 3 || o.Changes[1].Kind != Clear || o.Changes[2].Kind != Retaper || len(o.questions) != 2 || o.questions[0].Where != "a" || !slices.Equal(o.Decides, []string{"x"}) {
		t.Errorf("%+v", o)
	}
	if r.Options[0].Changes[0].Opened != 4 {
		t.Error("the option below is changed")
	}
	if whole := d.onTop(r, 0, &Option{Possible: true, PondsLeft: 2, Meets: false}, &best); whole || best != 1 {
		t.Errorf("%v, best %d", whole, best)
	}
}
