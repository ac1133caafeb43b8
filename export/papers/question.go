package papers

import (
	"cmp"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/choose"
	"runnel/analysis/correction"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/roof"
	"runnel/analysis/takeoff"
	proposal "runnel/export/correction"
	"runnel/export/record"
)

// Question is one question to somebody, with the answer where there is one.
type Question struct {
	Number int
	Asked  roof.Asked // under which the answer counts; empty: it is kept and shown, and decides nothing here
	At     orb.Point  // where the answer holds, of one that is asked at a place
	Text   string
	Covers string       // of one about cuts: what is to be cut; an answer holds for that alone
	Answer *roof.Answer // nil: nobody has answered
}

// Key is under what the answer is kept: the name of the question where it counts, else its text.
func (q *Question) Key() string { return choose.If(q.Asked != "", string(q.Asked), q.Text) }

// Questions returns what somebody is asked about a proposal, the answered ones among them, by their numbers.
func Questions(p *proposal.Proposal, to roof.Recipient) []Question {
	w := &writer{p}
	switch to {
	case roof.ToWarrantor:
		return w.warrantors()
	case roof.ToOwner:
		return w.owners()
	case roof.ToPlumber, roof.ToEnergy, roof.ToOfficial:
		return w.questionsTo(to)
	case roof.ToEngineer:
	}
	return w.engineers()
}

// loadQuestion is asked of every roof.
const loadQuestion = "How much water may this roof hold, as a load?"

// mayGoUp is asked where people keep off.
const mayGoUp = "May people go onto the roof, where, and with what loads? Until you say so, everybody keeps off."

// list gathers questions, each once.
type list struct {
	questions []Question
}

// add adds a question that nobody has answered and that is not in the list.
func (l *list) add(asked roof.Asked, at orb.Point, text string) {
	if text = strings.TrimSpace(text); text == "" {
		return
	}
	same := func(q Question) bool {
		if asked == "" || q.Asked != asked {
			return asked == "" && q.Asked == "" && q.Text == text
		}
		return !asked.Placed() || planar.Distance(q.At, at) < 1
	}
	if !slices.ContainsFunc(l.questions, same) {
		l.questions = append(l.questions, Question{Asked: asked, At: at, Text: text})
	}
}

// numbered returns the questions with the answers of those who were asked, by number: answered ones keep the number under which they were asked, the
// others take what is left, in their order.
func (l *list) numbered(r *roof.Roof, to roof.Recipient, places func(orb.Point) string) []Question {
	var out []Question
	for i := range r.Answers {
		a := &r.Answers[i]
		if a.To != to {
			continue
		}
		q := Question{Number: a.Number, Text: a.Question, Answer: a}
		if slices.Contains(roof.AskedNames(), a.Question) {
			q.Asked, q.At, q.Text = roof.Asked(a.Question), a.Plan, answeredText(roof.Asked(a.Question), places(a.Plan))
			if i := slices.IndexFunc(l.questions, func(o Question) bool { return o.Asked == q.Asked }); q.Asked.OfCuts() && i >= 0 {
				q.Covers = l.questions[i].Covers
			}
			if newest(r, &q) != a {
				continue // somebody answered anew
			}
		} else if r.Answered(a.Question) != a {
			continue
		}
		out = append(out, q)
	}
	taken := func(n int) bool { return slices.ContainsFunc(out, func(q Question) bool { return q.Number == n }) }
	n := 0
	next := func() int {
		for n++; taken(n); n++ {
		}
		return n
	}
	for i := range out {
		if out[i].Number == 0 || slices.ContainsFunc(out[:i], func(q Question) bool { return q.Number == out[i].Number }) {
			out[i].Number = next()
		}
	}
	n = 0
	for i := range l.questions {
		q := l.questions[i]
		if newest(r, &q) != nil {
			continue
		}
		q.Number = next()
		out = append(out, q)
	}
	slices.SortStableFunc(out, func(a, b Question) int { return cmp.Compare(a.Number, b.Number) })
	return out
}

// newest returns the answer that holds for a question, nil where there is none.
func newest(r *roof.Roof, q *Question) *roof.Answer {
	switch {
	case q.Asked.Placed():
		return r.AnsweredAt(q.Asked, q.At, nil)
	case q.Asked.OfCuts():
		return r.AnsweredFor(q.Asked, q.Covers)
	}
	return r.Answered(q.Key())
}

// answeredText says what was asked where an answer counts.
func answeredText(asked roof.Asked, where string) string {
	switch asked {
	case roof.AskLoad:
		return loadQuestion
	case roof.AskGravity:
		return "What is the design gravity load of the roof?"
	case roof.AskOverflow:
		return "How high may an overflow stand over its primary outlet?"
	case roof.AskBays:
		return "Do the bays hold under the water with every primary outlet blocked?"
	case roof.AskDeck:
		return "Is the deck sound " + where + "?"
	case roof.AskOpening:
		return "May the deck or the parapet be opened " + where + "?"
	case roof.AskLower:
		return "Can the outlet be set down " + where + "?"
	case roof.AskCover:
		return "May the roof be covered again?"
	case roof.AskResistance:
		return "Which thermal resistance must the roof have after the mend, averaged over the roof?"
	case roof.AskWarranty:
		return warrantyQuestion
	case roof.AskCuts:
		return cutsQuestion
	}
	return ""
}

// engineers gathers what the engineer is asked.
func (w *writer) engineers() []Question {
	u, r := w.Book.Units, w.Book.Study.Roof
	var l list
	if w.Book.Study.KeepOff.Is() {
		l.add("", orb.Point{}, mayGoUp)
	}
	for i := range w.Result.EngineerFirst {
		e := &w.Result.EngineerFirst[i]
		l.add(e.Asked, e.At, sentence(u.SayText(e.Why)))
	}
	w.openQuestions(&l, finding.Engineer)
	w.unknownLimits(&l, finding.Engineer)
	w.findings(&l, finding.Engineer, false)
	w.approvals(&l, finding.Engineer)
	if _, known := r.Structure.Limit(); !known {
		l.add(roof.AskLoad, orb.Point{}, loadQuestion)
	}
	return w.numbered(&l, roof.ToEngineer)
}

// numbered numbers a list.
func (w *writer) numbered(l *list, to roof.Recipient) []Question {
	return l.numbered(w.Book.Study.Roof, to, func(p orb.Point) string { return w.Book.Units.SayText(w.Book.Study.Places.Of(p)) })
}

// warrantyQuestion is asked of the warrantor before the first cut.
const warrantyQuestion = "Does the warranty stay in force with these cuts?"

// aboutCuts adds a question of which the answer holds for what is to be cut now, and says where somebody answered for other cuts.
func (w *writer) aboutCuts(l *list, asked roof.Asked, text string) {
	covers := w.covers()
	r := w.Book.Study.Roof
	if old := r.Answered(string(asked)); old != nil && r.AnsweredFor(asked, covers) == nil {
		text += " What " + old.By + " answered on " + old.On + " was for other cuts."
	}
	l.add(asked, orb.Point{}, text)
	l.questions[len(l.questions)-1].Covers = covers
}

// covers names what is to be cut, the same in whatever units the papers are.
func (w *writer) covers() string {
	si := *w.Proposal
	book := *si.Book
	book.Units = record.SI
	si.Book = &book
	cuts, _ := (&writer{&si}).cuts()
	return strings.Join(gather.Each(cuts, func(c []string) string { return c[1] + " " + c[2] }), ", ")
}

// answeredCuts returns what somebody answered about the cuts that are to be made now, nil where nobody did.
func (w *writer) answeredCuts(asked roof.Asked) *roof.Answer {
	return w.Book.Study.Roof.AnsweredFor(asked, w.covers())
}

// warrantors are what the warrantor is asked, where anything is cut.
func (w *writer) warrantors() []Question {
	var l list
	if cuts, _ := w.cuts(); cuts != nil {
		w.aboutCuts(&l, roof.AskWarranty, warrantyQuestion)
		for _, t := range []string{
			"On what conditions, and who may make the cuts and patch them, with which materials?",
			"Do you want to be there? When may we begin?",
			"Does the warranty ask for a slope, or exclude water that stands?",
		} {
			l.add("", orb.Point{}, t)
		}
	}
	return w.numbered(&l, roof.ToWarrantor)
}

// cutsQuestion is asked of the owner.
const cutsQuestion = "May the roof be cut where the notice to the warrantor says?"

// owners are what the owner decides: the cuts, and what the first answer leaves to him.
func (w *writer) owners() []Question {
	var l list
	if cuts, _ := w.cuts(); cuts != nil {
		w.aboutCuts(&l, roof.AskCuts, cutsQuestion)
	}
	for _, t := range w.ownersPart() {
		l.add("", orb.Point{}, t)
	}
	return w.numbered(&l, roof.ToOwner)
}

// questionsTo gathers what somebody else decides: open questions of the answers, limits that nothing measured, findings of theirs, approvals.
func (w *writer) questionsTo(to roof.Recipient) []Question {
	who := to.Who()
	var l list
	w.openQuestions(&l, who)
	w.unknownLimits(&l, who)
	open := len(l.questions) > 0
	if who != takeoff.Energy || !open { // who is asked of the resistance already
		w.approvals(&l, who)
	}
	w.findings(&l, who, open)
	return w.numbered(&l, to)
}

// approvals adds what somebody has to allow.
func (w *writer) approvals(l *list, who string) {
	if t := w.TakeOff; t != nil {
		for i := range t.Approvals {
			if t.Approvals[i].Who == who {
				l.add("", orb.Point{}, w.Book.Units.SayText(t.Approvals[i].Why)+" What do you ask for?")
			}
		}
	}
}

// openQuestions adds what the answers leave open for somebody.
func (w *writer) openQuestions(l *list, who string) {
	for i := range w.Result.Answers {
		a := &w.Result.Answers[i]
		for k := range a.Questions {
			if q := &a.Questions[k]; has(q.Decides, who) {
				l.add(q.Asked, q.At, sentence(w.Book.Units.SayText(q.Ask)))
			}
		}
	}
}

// unknownLimits adds the limits for which something was not measured: answers share them.
func (w *writer) unknownLimits(l *list, who string) {
	known := map[string]bool{}
	for i := range w.Result.Answers {
		o := &w.Result.Options[w.Result.Answers[i].Option]
		for _, limits := range [][]correction.Limit{o.Unknown, o.Flags} {
			for k := range limits {
				key := limits[k].Name + " " + limits[k].Where
				if !has(limits[k].Decides, who) || known[key] {
					continue
				}
				known[key] = true
				if limits[k].Name == correction.GravityShare {
					l.add(roof.AskGravity, orb.Point{}, "What is the design gravity load of the roof? The mend adds at most "+w.Book.Units.SayPressure(o.Most)+" of dead load, which is compared with a share of it.")
					continue
				}
				l.add(limitAsks[limits[k].Name], orb.Point{}, w.limitQuestion(&limits[k]))
			}
		}
	}
}

// limitQuestion asks about a limit for which something is not known, or which somebody else has to allow.
func (w *writer) limitQuestion(l *correction.Limit) string {
	said := w.LimitSaid(l)
	switch l.Name {
	case correction.Resisting:
		return "What the roof's thermal resistance is before and after is not known here. Which must it have, averaged over the roof, after a mend of this size?"
	case correction.ResistanceReduced, correction.ResistanceShort:
		return "The mend takes thermal resistance away (" + said + "). Which must the roof have after it, averaged over the roof?"
	case correction.TwoRoofs:
		covering := record.Covering(&w.Book.Study.Roof.Visit)
		if w.Book.Study.Roof.Visit.Coverings == 0 {
			covering += " How many coverings lie on each other is not known."
		}
		return strings.TrimSpace("At re-roofing: may the roof be covered again (else what lies there comes off)? " + strings.TrimSpace(covering))
	}
	return "Not known here: " + said + ". What do you ask for?"
}

// findings asks about the findings that somebody decides on, those of one kind together; not about a high outlet where open questions do.
func (w *writer) findings(l *list, who string, open bool) {
	u := w.Book.Units
	asked := map[finding.Kind]bool{}
	for i := range w.Book.Study.Findings {
		f := &w.Book.Study.Findings[i]
		if !has(f.Decides, who) || f.Severity < finding.Repair || asked[f.Kind] || who == finding.Engineer && slices.Contains(asksItself, f.Kind) || open && f.Kind == finding.OutletHigh {
			continue
		}
		if f.Kind == finding.OutletHigh && f.Outlet >= 0 { // each for itself: the answer holds for one outlet
			name := w.Book.Names.Local(w.Book.Names.Finding(i)) + " at " + w.Book.Study.Surface.Outlets[f.Outlet].Label
			l.add(roof.AskLower, w.Book.Study.Surface.Outlets[f.Outlet].Plan, name+": "+sentence(u.SayText(f.What))+" "+u.SayText(f.Why)+" "+askOf(f.Kind))
			continue
		}
		asked[f.Kind] = true
		var names []string
		for k := i; k < len(w.Book.Study.Findings); k++ {
			if g := &w.Book.Study.Findings[k]; g.Kind == f.Kind && has(g.Decides, who) {
				name := w.Book.Names.Local(w.Book.Names.Finding(k))
				if g.Outlet >= 0 {
					name += " at " + w.Book.Study.Surface.Outlets[g.Outlet].Label
				}
				names = append(names, name)
			}
		}
		l.add("", orb.Point{}, record.Some(names)+": "+sentence(u.SayText(f.What))+" "+u.SayText(f.Why)+" "+askOf(f.Kind))
	}
}

// sentence ends a text.
func sentence(s string) string {
	return choose.If(s == "" || strings.HasSuffix(s, "?") || strings.HasSuffix(s, "."), s, s+".")
}

// has reports whether one of several who decide is who.
func has(decides, who string) bool { return slices.Contains(strings.Split(decides, ", "), who) }
