package papers

import (
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/correction"
	"runnel/analysis/finding"
	"runnel/export/page"
	"runnel/export/record"
)

// engineer is what the structural engineer gets: depths, loads, cores, and numbered questions.
func (w *writer) engineer() *Paper {
	a := w.keepOffFirst("engineer", "To the structural engineer: water on the roof", "the structural engineer")
	questions := w.questionsTo(finding.Engineer)
	if w.Book.Study.Roof.Structure.LoadLimit == 0 {
		questions = append(questions, "How much water may this roof hold, as a load? The answer goes into the roof's file as load_limit, with your name and the date as load_limit_by, and is compared with from then on.")
	}
	a.Parts = append(a.Parts, Part{Heading: "Questions", Texts: []string{askFirst}, Steps: questions, Answers: true})
	a.Parts = append(a.Parts, Part{Heading: "Water that stands, each pond full to its lip", Table: w.pondTable()})
	if t := w.loads(); len(t) > 0 {
		a.Parts = append(a.Parts, Part{Heading: "Loads", Texts: t})
	}
	a.Parts = append(a.Parts, Part{Texts: []string{
		"Depths are on the surveyed shape, taken as rigid: sag under the water, and snow, are not in them. " + notCertified,
		"The plan to scale, the report and the elevations of all spots go with this page.",
	}, Picture: true})
	return a
}

// asks is the page of somebody who decides; nil where nothing is asked.
func (w *writer) asks(decides, name, title string) *Paper {
	questions := w.questionsTo(decides)
	if len(questions) == 0 {
		return nil
	}
	return &Paper{Name: name, Title: title, To: "the " + decides, Parts: []Part{
		{Texts: w.found()},
		{Heading: "Questions", Texts: []string{askFirst}, Steps: questions, Answers: true},
		{Heading: "What is planned", Steps: w.planned(), Picture: true},
		{Texts: []string{notCertified}},
	}}
}

// questionsTo gathers what somebody decides: the open questions of the first answer that does something, what it leaves, findings of theirs, and limits that
// nothing measured.
func (w *writer) questionsTo(who string) []string {
	u := w.Book.Units
	var out []string
	add := func(s string) {
		if s = strings.TrimSpace(s); s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	for _, t := range w.alike(who) {
		add(t)
	}
	if who == finding.Engineer {
		for _, list := range [][]correction.Reason{w.Result.KeepOff, w.Result.EngineerFirst} {
			for i := range list {
				add(sentence(u.SayText(list[i].Why)))
			}
		}
	}
	if t := w.TakeOff; t != nil {
		for i := range t.Approvals {
			if t.Approvals[i].Who == who {
				add(u.SayText(t.Approvals[i].Why) + " What do you ask for?")
			}
		}
	}
	w.ofAnswers(who, add)
	return out
}

// ofAnswers adds what the answers leave open for somebody: questions, and limits for which something was not measured.
func (w *writer) ofAnswers(who string, add func(string)) {
	u, known := w.Book.Units, map[string]bool{} // limits that were asked about: answers share them
	for i := range w.Result.Answers {
		a := &w.Result.Answers[i]
		for k := range a.Questions {
			q := &a.Questions[k]
			if has(q.Decides, who) {
				add(sentence(u.SayText(q.Ask)))
			}
		}
		o := &w.Result.Options[a.Option]
		for _, list := range [][]correction.Limit{o.Unknown, o.Flags} {
			for k := range list {
				if key := list[k].Name + " " + list[k].Where; has(list[k].Decides, who) && !known[key] {
					known[key] = true
					said, _, _ := strings.Cut(w.LimitSaid(&list[k]), "; decides")
					add("Not known here: " + said + ". What do you ask for?")
				}
			}
		}
	}
}

// alike asks about the findings that somebody decides on, those of one kind together.
func (w *writer) alike(who string) []string {
	u := w.Book.Units
	var out []string
	asked := map[finding.Kind]bool{}
	for i := range w.Book.Study.Findings {
		f := &w.Book.Study.Findings[i]
		if !has(f.Decides, who) || f.Severity < finding.Repair || asked[f.Kind] {
			continue
		}
		asked[f.Kind] = true
		var names []string
		for k := i; k < len(w.Book.Study.Findings); k++ {
			if g := &w.Book.Study.Findings[k]; g.Kind == f.Kind && has(g.Decides, who) {
				names = append(names, w.Book.Names.Local(w.Book.Names.Finding(k)))
			}
		}
		out = append(out, record.Some(names)+": "+sentence(u.SayText(f.What))+" "+u.SayText(f.Why)+" What do you ask for?")
	}
	return out
}

// sentence ends a text.
func sentence(s string) string {
	if s == "" || strings.HasSuffix(s, "?") || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}

// has reports whether whether one of several who decide is who.
func has(decides, who string) bool {
	return slices.Contains(strings.Split(decides, ", "), who)
}

// planned are the changes of the first answer.
func (w *writer) planned() []string {
	_, o := w.answer()
	var out []string
	for i := range o.Changes {
		c := &o.Changes[i]
		if c.Kind == correction.Clear {
			continue
		}
		out = append(out, strings.TrimSuffix(w.guard(c.What), ".")+".")
	}
	return out
}

// pondTable lists the ponds with level, depth, area, weight and load.
func (w *writer) pondTable() *page.Table {
	b := w.Book
	var rows [][]string
	for i := range b.Study.Listed {
		l := &b.Study.Listed[i]
		p := &b.Study.Ponds.Ponds[l.Pond]
		rows = append(rows, []string{
			l.ID, b.Units.SayElevation(p.Level), b.SayPondDepth(i), b.SayPondArea(i), b.SayPondWeight(i), b.SayPondLoad(i),
			b.Units.SayText(b.Study.Places.Of(w.pit(i))),
		})
	}
	if rows == nil {
		rows = [][]string{{"none found in this survey", "", "", "", "", "", ""}}
	}
	return table([]string{"pond", "level", "deep", "area", "weighs", "load at the deepest", "deepest place"}, rows)
}

// loads says the water with outlets blocked, the assembly's dead load and what the first answer adds.
func (w *writer) loads() []string {
	u := w.Book.Units
	var out []string
	if s := w.Book.Blocked(); s != "" {
		out = append(out, s)
	} else if l := w.Book.Study.RainLoad; l != nil && l.Depth > 0 {
		out = append(out, fmt.Sprintf("With every primary outlet blocked water stands at least %s deep, %s, %s in all; the head of the flow is not in it, since no rate of rain was stated.", u.SayDepth(l.Depth), u.SayPressure(l.Load), u.SayMass(l.Weight)))
	}
	_, o := w.answer()
	if o.Most > 0 {
		out = append(out, "The first answer adds at most "+u.SayPressure(o.Most)+" of dead load.")
	}
	for i := range w.Book.Study.Roof.Cores {
		if w.Book.Study.Roof.Cores[i].Deck != "" {
			out = append(out, "Deck, as cores say: "+w.Book.Study.Roof.Cores[i].Deck+".")
			break
		}
	}
	return out
}
