package papers

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/study/studytest"

	"runnel/analysis/correction"
	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/roof"
	proposal "runnel/export/correction"
	"runnel/export/drawing/scene"
	"runnel/export/record"
)

// opening is the sample with a first answer that opens the roof.
func opening(t *testing.T, u record.Units) *proposal.Proposal {
	t.Helper()
	p := proposed(t, u)
	for i := range p.Result.Options {
		if o := &p.Result.Options[i]; o.Opened > 0 && p.Counted[i] != nil && len(p.Counted[i].Items) > 1 {
			p.Result.Answers[0].Option, p.Chosen, p.TakeOff = i, i, p.Counted[i]
			p.Result.EngineerFirst = nil
			o.Left = nil
			return p
		}
	}
	t.Fatal("no option opens the roof")
	return nil
}

// told returns all that a paper says, part by part.
func told(a *Paper) string {
	var out []string
	for _, p := range a.Parts {
		out = append(out, p.Heading)
		out = append(out, p.Texts...)
		out = append(out, p.Steps...)
		for _, q := range p.Questions {
			out = append(out, q.Text)
		}
		if p.Table != nil {
			for _, row := range p.Table.Rows {
				out = append(out, strings.Join(row, " | "))
			}
		}
		out = append(out, p.Signed...)
	}
	return strings.Join(out, "\n")
}

func paper(t *testing.T, p *proposal.Proposal, name string) *Paper {
	t.Helper()
	for _, a := range Of(p) {
		if a.Name == name {
			return a
		}
	}
	return nil
}

// Every page of every paper keeps its texts on the sheet, inside its edges, and no two over each other.
func TestPapersKeepTheirTextsApart(t *testing.T) {
	for _, u := range []record.Units{record.SI, record.US} {
		for _, p := range []*proposal.Proposal{proposed(t, u), opening(t, u)} {
			for _, a := range Of(p) {
				for i, s := range a.pages() {
					apart(t, a.Name, i+1, s)
				}
			}
		}
	}
}

func apart(t *testing.T, name string, page int, s *scene.Scene) {
	t.Helper()
	type box struct {
		x, y, w, h float64
		text       string
	}
	var all []box
	for _, l := range s.Layers {
		for i := range l.Texts {
			x := &l.Texts[i]
			if x.Turned || x.String == "" {
				continue
			}
			left := x.At.X - x.Width*[...]float64{0, 0.5, 1}[x.Anchor]
			all = append(all, box{left, x.At.Y - 0.7*x.Size, x.Width, 0.7 * x.Size, x.String})    // capitals are 0.7 of the size high
			if left < 5 || left+x.Width > s.Width-5 || x.At.Y-x.Size < 5 || x.At.Y > s.Height-4 { // which office printers print
				t.Errorf("%s, page %d: %q leaves the sheet", name, page, x.String)
			}
		}
	}
	for i, a := range all {
		for _, b := range all[:i] {
			if across, down := math.Min(a.x+a.w, b.x+b.w)-math.Max(a.x, b.x), math.Min(a.y+a.h, b.y+b.h)-math.Max(a.y, b.y); across > 0.3 && down > 0.3 {
				t.Errorf("%s, page %d: %q overprints %q", name, page, a.text, b.text)
			}
		}
	}
}

// Nothing is bid on before who has to be asked first has answered.
func TestScopeWaits(t *testing.T) {
	p := opening(t, record.SI)
	a := paper(t, p, "scope")
	if a == nil {
		t.Fatal("no scope")
	}
	studytest.Says(t, told(a), "Nothing is cut before the warrantor has answered.", "Coverings are tested for asbestos before they are cut.", "a square metre | allow ______ | ______", "Each cut is authorised by ______________________________, in writing, before it is made: without that name nobody cuts.")
	items := scope(p)
	counted := 0
	for i := range p.TakeOff.Items {
		if !p.TakeOff.Items[i].Told {
			counted++
		}
	}
	if len(items) != counted+6 || items[0].Amount == "" || !items[counted].Unit() || items[counted-1].Unit() {
		t.Errorf("%d items for %d amounts", len(items), counted)
	}
	if rows := a.Parts[1].Table.Rows; len(rows) != len(items) || rows[0][0] != "1" || rows[counted][2] != "allow ______" || rows[0][2] != items[0].Amount {
		t.Errorf("%q", rows)
	}
	studytest.Says(t, told(paper(t, opening(t, record.US), "scope")), "a square foot", "not metre")
	for name, wait := range map[string]func(p *proposal.Proposal){
		"nothing opened":  func(p *proposal.Proposal) { p.Result.Options[p.Chosen].Opened = 0 },
		"keep off":        func(p *proposal.Proposal) { p.Book.Study.KeepOff.Reasons = make([]inspection.Reason, 1) },
		"engineer first":  func(p *proposal.Proposal) { p.Result.EngineerFirst = make([]correction.Reason, 1) },
		"cuts not agreed": func(p *proposal.Proposal) { answerCuts(p, roof.AskCuts, false) },
	} {
		p := opening(t, record.SI)
		wait(p)
		if (&writer{p}).scope() != nil {
			t.Errorf("%s: bids are asked for", name)
		}
	}
}

// answerCuts adds an answer about the cuts that are to be made.
func answerCuts(p *proposal.Proposal, asked roof.Asked, yes bool) {
	text := "no"
	if yes {
		text = "yes"
	}
	p.Book.Study.Roof.Answers = append(p.Book.Study.Roof.Answers, roof.Answer{
		Question: string(asked), To: asked.To(), Text: text, Yes: yes, By: "A. Owner", On: "2026-06-01", Covers: (&writer{p}).covers(),
	})
}

// Cuts are said with who allowed them; an answer for other cuts does not count.
func TestAnswersAboutCuts(t *testing.T) {
	p := opening(t, record.SI)
	w := &writer{p}
	cuts, why := w.cuts()
	if len(cuts) == 0 || cuts[0][0] != "1" || why != "to find out what it is made of and to mend what holds water" {
		t.Fatalf("%q %q", cuts, why)
	}
	if us := opening(t, record.US); (&writer{us}).covers() != w.covers() || w.covers() == "" {
		t.Error("the same cuts have other names in other units")
	}
	studytest.Says(t, told(paper(t, p, "warrantor")), "Does the warranty stay in force with these cuts?", "We mean to cut into this roof at the places below, to find out what it is made of and to mend what holds water.", strings.Join(cuts[0], " | "), "not was for other cuts")
	if to := paper(t, p, "warrantor").To; to != "the warrantor, ____________________" {
		t.Error(to)
	}
	p.Book.Study.Roof.Visit = roof.Visit{Warrantor: "Roof Warrants", CutsAuthorised: "the janitor"}
	if to := paper(t, p, "warrantor").To; to != "Roof Warrants" {
		t.Error(to)
	}
	studytest.Says(t, told(paper(t, p, "scope")), "Each cut is authorised by the janitor, in writing, before it is made.")
	p.Book.Study.Roof.Answers = []roof.Answer{
		{Question: string(roof.AskWarranty), To: roof.ToWarrantor, Text: "yes", Yes: true, By: "B. Warrantor", On: "2026-05-01", Covers: "another cut"},
	}
	studytest.Says(t, told(paper(t, p, "warrantor")), "What B. Warrantor answered on 2026-05-01 was for other cuts.")
	studytest.Says(t, told(paper(t, p, "scope")), "Nothing is cut before the warrantor has answered.")
	answerCuts(p, roof.AskWarranty, true)
	answerCuts(p, roof.AskCuts, true)
	studytest.Says(t, told(paper(t, p, "scope")), "The warranty stays in force with these cuts, says A. Owner, 2026-06-01.", "The cuts are authorised by A. Owner, 2026-06-01.", "not Nothing is cut")
	studytest.Says(t, told(paper(t, p, "warrantor")), "not was for other cuts")
	p.Book.Study.Roof.Answers[1].Yes = false
	studytest.Says(t, told(paper(t, p, "scope")), "The warranty does not stay in force with these cuts, says A. Owner, 2026-06-01.")
	p.Book.Study.Roof.Answers = nil
	answerCuts(p, roof.AskCuts, false)
	if paper(t, p, "warrantor") != nil || paper(t, p, "scope") != nil {
		t.Error("the owner refused the cuts, and they are announced")
	}
	q := Questions(p, roof.ToOwner)
	if len(q) == 0 || q[0].Answer == nil || q[0].Covers != w.covers() {
		t.Errorf("%+v", q)
	}
	p.Book.Study.KeepOff.Reasons = make([]inspection.Reason, 1)
	if cuts, why := w.cuts(); cuts != nil || why != "" {
		t.Errorf("nobody may go up, and cuts are planned: %q", cuts)
	}
}

// What an owner is told of waiting, and what he may sign, by how bad it is.
func TestLetterByHowBadItIs(t *testing.T) {
	p := opening(t, record.SI)
	const sign = "Please go ahead with answer no. ____, signed"
	for i := range p.Book.Study.Findings {
		p.Book.Study.Findings[i].Severity = finding.Repair
	}
	studytest.Says(t, told(paper(t, p, "letter")), sign, "What waiting costs", "read yours", "What you decide", "not Waiting is not offered")
	p.Book.Study.Roof.Visit.Warrantor = "Roof Warrants"
	studytest.Says(t, told(paper(t, p, "letter")), "read that of Roof Warrants", "not read yours")
	p.Book.Study.Findings[len(p.Book.Study.Findings)-1].Severity = finding.Urgent
	studytest.Says(t, told(paper(t, p, "letter")), "Waiting is not offered: something here is urgent.", "not read that of")

	p = opening(t, record.SI)
	p.Result.EngineerFirst = make([]correction.Reason, 1)
	studytest.Says(t, told(paper(t, p, "letter")), "not "+sign)
	p = opening(t, record.SI)
	p.Book.Study.KeepOff.Reasons = make([]inspection.Reason, 1)
	studytest.Says(t, told(paper(t, p, "letter")), "not "+sign, "Waiting is not offered")

	p = opening(t, record.SI)
	p.Book.Study.Listed, p.Book.Study.Assembly.Ponds = nil, nil
	for i := range p.Book.Study.Findings {
		p.Book.Study.Findings[i].Severity = finding.Repair
		p.Book.Study.Findings[i].Pond = -1
	}
	w := &writer{p}
	studytest.Says(t, told(w.letter()), "What waiting costs", "No pond is listed, but what was found above stays as it is.")
	for i := range p.Book.Study.Findings {
		p.Book.Study.Findings[i].Severity = finding.Note
	}
	studytest.Says(t, told(w.letter()), "Until the next look", "No pond is listed. Have the outlets cleaned in spring", "not What waiting costs")
	if w.pondTable() != nil {
		t.Error("a table of no ponds")
	}
}

// The three answers side by side, an answer that is another one told as that, with what each costs where that is known.
func TestThreeAnswers(t *testing.T) {
	p := opening(t, record.SI)
	options := p.Result.Options
	first := p.Result.Answers[0].Option
	other := -1
	for i := range options {
		if i != first && options[i].Possible && len(options[i].Changes) > 0 {
			other = i
		}
	}
	if other < 0 {
		t.Fatal("one option")
	}
	p.Result.Answers[1].Option, p.Result.Answers[2].Option = other, first
	options[first].PondsLeft, options[other].PondsLeft = 0, 2
	options[first].Opened, options[other].Opened = 12.34, 0
	p.Costs = []proposal.Cost{{Money: "$", Cost: 1234}, {Money: "$", Cost: 50}, {Money: "$", Cost: 1234}}
	table := (&writer{p}).threeAnswers()
	for i, want := range [][]string{{"1", "", "12.3 m²", "no pond", "$1,234"}, {"2", "", "0 m²", "2 ponds", "$50"}, {"3", "as answer 1", "12.3 m²", "no pond", "$1,234"}} {
		row := table.Rows[i]
		if row[0] != want[0] || want[1] != "" && row[2] != want[1] || want[1] == "" && (row[2] == "" || strings.HasPrefix(row[2], "as answer")) || !reflect.DeepEqual([]string{row[3], row[4], row[6]}, want[2:]) || row[5] != strings.Join(options[p.Result.Answers[i].Option].Decides, ", ") {
			t.Errorf("%q, want %q", row, want)
		}
	}
	if heads := table.Columns; len(heads) != 7 || heads[6].Head != "cost" {
		t.Errorf("%+v", heads)
	}
	p.Costs = nil
	if table := (&writer{p}).threeAnswers(); len(table.Columns) != 6 || len(table.Rows[0]) != 6 {
		t.Errorf("%+v", table.Columns)
	}
	for i := range p.Result.Answers {
		options[p.Result.Answers[i].Option].Changes = nil
	}
	options[other].Changes = make([]mend.Change, 1)
	if (&writer{p}).idle() {
		t.Error("an answer changes something, and nothing is done")
	}
	options[other].Changes = nil
	studytest.Says(t, told((&writer{p}).letter()), proposal.NothingDone(p.Book), "not as answer 1", "not Please go ahead")
}

// The engineer is told the loads that are known, and asked for what is not. By hand: 958 Pa are 20.0 psf (47.88 Pa each).
func TestEngineersPage(t *testing.T) {
	p := proposed(t, record.US)
	p.Book.Study.Roof.Structure = roof.Structure{LoadLimit: 957.6, LoadLimitBy: "A. Engineer"}
	o := &p.Result.Options[p.Result.Answers[0].Option]
	o.Most = 95.76
	p.Assembly.Load.Known, p.Assembly.Load.Cores, p.Assembly.Load.Mean, p.Assembly.Load.Greatest = true, 1, 143.64, 191.52
	text := told(paper(t, p, "engineer"))
	studytest.Says(t, text, "The roof may hold 20.0 psf of water, says A. Engineer.", "The first answer adds at most 2.0 psf of dead load.", "as the cores tell: on average 3.0 psf, at most 4.0 psf.", "C1 | ", "not How much water may this roof hold")
	o.Most = 0.01 // which reads as nothing
	p.Assembly.Load.Cores = 0
	p.Book.Study.Roof.Structure = roof.Structure{}
	text = told(paper(t, p, "engineer"))
	studytest.Says(t, text, "not The first answer adds", "not as the cores tell", "not The roof may hold", "How much water may this roof hold, as a load?")
	if rows := (&writer{p}).pondTable().Rows; len(rows) != 1 || rows[0][0] != "P01" || rows[0][1] != "328.15 ft" || rows[0][2] != p.Book.SayPondDepth(0) || rows[0][6] == "" {
		t.Errorf("%q", rows) // 100.02 / 0.3048
	}
	p.Book.Study.Roof.Cores = nil
	if (&writer{p}).coreTable() != nil {
		t.Error("a table of no cores")
	}
	p = proposed(t, record.SI)
	p.Book.Study.RainLoad.Depth = 0
	studytest.Says(t, strings.Join((&writer{p}).loads(), " "), "not With every primary outlet blocked")
	p.Assembly.Cores[0].HasDeck = false
	if rows := (&writer{p}).coreTable().Rows; rows[0][3] != "-" || !strings.Contains(rows[0][2], "foam") {
		t.Errorf("%q", rows)
	}
	p.Result.EngineerFirst = []correction.Reason{{Why: finding.Say("Is the deck sound"), Asked: roof.AskDeck, At: orb.Point{6, 6}}}
	studytest.Says(t, told(paper(t, p, "engineer")), "Is the deck sound.", askFirst, "not "+goesIntoFile)
	p.Result.EngineerFirst = nil
	studytest.Says(t, told(paper(t, p, "engineer")), "and is compared with from then on", "not "+askFirst)
	p.Book.Study.KeepOff.Reasons = make([]inspection.Reason, 1)
	if q := Questions(p, roof.ToEngineer); q[0].Text != mayGoUp || q[0].Number != 1 {
		t.Errorf("%+v", q[0])
	}
}

// Questions keep the number under which they were answered; the others take what is left, in their order; what was asked at one place is one question, what was asked elsewhere another.
func TestNumbersOfQuestions(t *testing.T) {
	var l list
	l.add("", orb.Point{}, " first ")
	l.add("", orb.Point{}, "first")
	l.add("", orb.Point{}, "")
	l.add(roof.AskDeck, orb.Point{1, 1}, "deck here")
	l.add(roof.AskDeck, orb.Point{1.9, 1}, "deck beside")
	l.add(roof.AskDeck, orb.Point{1, 2.1}, "deck there")
	l.add(roof.AskLoad, orb.Point{}, "load")
	l.add(roof.AskLoad, orb.Point{9, 9}, "load again")
	l.add("", orb.Point{}, "last")
	var texts []string
	for _, q := range l.questions {
		texts = append(texts, q.Text)
	}
	if want := []string{"first", "deck here", "deck there", "load", "last"}; !reflect.DeepEqual(texts, want) {
		t.Fatalf("%q, want %q", texts, want)
	}
	place := func(orb.Point) string { return "by the drain" }
	r := &roof.Roof{}
	numbers := func() string {
		var out []string
		for _, q := range l.numbered(r, roof.ToEngineer, place) {
			mark := ""
			if q.Answer != nil {
				mark = "=" + q.Answer.Text
			}
			out = append(out, record.Count(float64(q.Number))+" "+q.Text+mark)
		}
		return strings.Join(out, "; ")
	}
	if got := numbers(); got != "1 first; 2 deck here; 3 deck there; 4 load; 5 last" {
		t.Error(got)
	}
	answer := func(question, text, on string, number int, at orb.Point) {
		r.Answers = append(r.Answers, roof.Answer{Question: question, Text: text, On: on, Number: number, Plan: at, Placed: roof.Asked(question).Placed(), To: roof.ToEngineer, By: "E"})
	}
	answer("load_limit", "1 kPa", "2026-05-01", 2, orb.Point{})
	if got := numbers(); got != "1 first; 2 "+loadQuestion+"=1 kPa; 3 deck here; 4 deck there; 5 last" {
		t.Error(got)
	}
	answer("load_limit", "2 kPa", "2026-05-02", 2, orb.Point{}) // anew
	answer("deck_sound", "yes", "2026-05-02", 2, orb.Point{1, 1})
	answer("an old question", "perhaps", "2026-05-02", 0, orb.Point{})
	answer("an old question", "no", "2026-05-03", 0, orb.Point{})
	if got := numbers(); got != "1 Is the deck sound by the drain?=yes; 2 "+loadQuestion+"=2 kPa; 3 an old question=no; 4 first; 5 deck there; 6 last" {
		t.Error(got)
	}
	r.Answers[0].To, r.Answers[1].To = roof.ToOwner, roof.ToOwner // of another's
	if got := numbers(); strings.Contains(got, loadQuestion) {
		t.Error(got)
	}
	// Every question that counts can be told again from its name.
	for _, name := range roof.AskedNames() {
		if text := answeredText(roof.Asked(name), "by RD-1"); !strings.HasSuffix(text, "?") || roof.Asked(name).Placed() != strings.Contains(text, "by RD-1") {
			t.Errorf("%s: %q", name, text)
		}
	}
	if q := (&Question{Asked: roof.AskLoad, Text: "x"}); q.Key() != "load_limit" || (&Question{Text: "x"}).Key() != "x" {
		t.Error("a question is kept under another name")
	}
}

// What an owner is asked is what nobody noted; what was noted is told for him to correct.
func TestOwnersQuestions(t *testing.T) {
	all, known := owners(&roof.Visit{})
	if len(all) != 4 || known != "" {
		t.Errorf("%q %q", all, known)
	}
	full := roof.Visit{HasAge: true, Age: 12, Coverings: 2, Warrantor: "W", WarrantyUntil: "2030", CutsAuthorised: "O", Access: "by the ladder", Leaks: "in May"}
	none, known := owners(&full)
	if len(none) != 0 || known != "We have noted, and ask you to correct what is wrong: The covering is 12 years old, and 2 coverings lie on each other. Leaks: in May. Warranted by W. Warranty until 2030. Who may authorise a cut: O. Access: by the ladder." {
		t.Errorf("%q %q", none, known)
	}
	for i, forget := range []func(v *roof.Visit){func(v *roof.Visit) { v.HasAge = false }, func(v *roof.Visit) { v.WarrantyUntil = "" }, func(v *roof.Visit) { v.Access = "" }, func(v *roof.Visit) { v.Leaks = "" }} {
		v := full
		forget(&v)
		if q, _ := owners(&v); len(q) != 1 || q[0] != all[i] {
			t.Errorf("%d: %q, want %q", i, q, all[i])
		}
	}
	v := full
	v.Coverings = 0
	if q, _ := owners(&v); len(q) != 1 || q[0] != all[0] {
		t.Errorf("%q", q)
	}
}

// A limit that somebody has to allow is asked about in words of its own.
func TestQuestionsAboutLimits(t *testing.T) {
	p := proposed(t, record.SI)
	o := &p.Result.Options[p.Result.Answers[0].Option]
	limit := func(name, decides string) correction.Limit { return correction.Limit{Name: name, Decides: decides} }
	o.Most = 500
	o.Unknown = []correction.Limit{limit(correction.GravityShare, "engineer"), limit(correction.GravityShare, "engineer"), limit(correction.Resisting, "energy authority"), limit("flashing height", "engineer, owner")}
	o.Flags = []correction.Limit{limit(correction.TwoRoofs, "building official")}
	o.Limits = nil
	p.TakeOff = nil
	texts := func(to roof.Recipient) string {
		var out []string
		for _, q := range Questions(p, to) {
			out = append(out, string(q.Asked)+": "+q.Text)
		}
		return strings.Join(out, "\n")
	}
	got := texts(roof.ToEngineer)
	studytest.Says(t, got, "gravity_load: What is the design gravity load of the roof? The mend adds at most 0.50 kPa of dead load,", "Not known here: ")
	if strings.Count(got, "design gravity load") != 1 {
		t.Error(got)
	}
	studytest.Says(t, texts(roof.ToEnergy), "resistance: What the roof's thermal resistance is before and after is not known here.", "not gravity")
	studytest.Says(t, texts(roof.ToOfficial), "cover_again: At re-roofing: may the roof be covered again (else what lies there comes off)? How many coverings lie on each other is not known.")
	p.Book.Study.Roof.Visit.Coverings = 1
	studytest.Says(t, texts(roof.ToOfficial), "No older one lies under it.", "not is not known")
	if q := Questions(p, roof.ToPlumber); len(q) > 0 && strings.Contains(texts(roof.ToPlumber), "gravity") {
		t.Errorf("%+v", q)
	}
}
