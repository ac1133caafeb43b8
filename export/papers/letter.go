package papers

import (
	"slices"
	"strconv"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/correction"
	"runnel/analysis/finding"
	proposal "runnel/export/correction"
	"runnel/export/model"
	"runnel/export/page"
	"runnel/export/text"
)

// letter is what the owner gets: what was found, what can be done, what waiting costs.
func (w *writer) letter() *Paper {
	a := w.keepOffFirst("letter", "What was found on the roof, and what can be done", "the owner")
	r := w.Book.Study.Roof
	a.Parts = append(a.Parts, Part{Heading: "What was found", Texts: append(seen(r), w.found()...), Picture: true})
	if w.idle() {
		a.Parts = append(a.Parts, Part{Heading: "What can be done", Texts: []string{proposal.NothingDone(w.Book)}})
	} else {
		a.Parts = append(a.Parts, Part{Heading: "What can be done", Table: w.threeAnswers()})
	}
	heading := choose.If(len(w.Book.Study.Listed) == 0 && !w.urgent() && !w.toRepair(), "Until the next look", "What waiting costs")
	a.Parts = append(a.Parts, Part{Heading: heading, Texts: []string{w.waiting()}})
	questions, known := owners(&r.Visit)
	if known != "" {
		a.Parts = append(a.Parts, Part{Heading: "What we have noted", Texts: []string{known}})
	}
	if decided := w.owners(); len(decided) > 0 {
		a.Parts = append(a.Parts, Part{Heading: "What you decide", Questions: decided})
	}
	if len(questions) > 0 {
		a.Parts = append(a.Parts, Part{Heading: "What we need to know from you", Steps: questions})
	}
	last := Part{Texts: []string{notCertified}}
	if _, o := w.answer(); !w.Book.Study.KeepOff.Is() && len(w.Result.EngineerFirst) == 0 && !o.Urgent() && !w.idle() {
		last.Signed = []string{"Please go ahead with answer no. ____, signed"}
	}
	a.Parts = append(a.Parts, last)
	return a
}

// idle reports whether nothing is done in any answer.
func (w *writer) idle() bool {
	return !slices.ContainsFunc(w.Result.Answers, func(x correction.Answer) bool { return len(w.Result.Options[x.Option].Changes) > 0 })
}

// found says the worst thing known and what holds it, in the words of the check.
func (w *writer) found() []string {
	var out []string
	for _, e := range model.Of(w.Book).First {
		switch e.Word {
		case "WORST", "STORM", "PONDS", "HELD BY", "BLOCKED":
			out = append(out, e.Texts...)
		}
	}
	return out
}

// threeAnswers sets the answers side by side, as an owner asks: what is done, how much is opened, who decides, what it costs.
func (w *writer) threeAnswers() *page.Table {
	heads := []string{"", "answer", "what is done", "opens", "what it leaves", "who decides"}
	priced := len(w.Costs) > 0
	if priced {
		heads = append(heads, "cost")
	}
	var rows [][]string
	for i := range w.Result.Answers {
		a := &w.Result.Answers[i]
		o := &w.Result.Options[a.Option]
		done, leaves := w.Said(a.Option), "no pond"
		if o.PondsLeft > 0 {
			leaves = text.Plural(o.PondsLeft, "pond")
		}
		if len(o.Changes) == 0 {
			done = proposal.NothingDone(w.Book)
		}
		for k := range i {
			if w.Result.Answers[k].Option == a.Option {
				done = "as answer " + strconv.Itoa(k+1)
				break
			}
		}
		row := []string{strconv.Itoa(i + 1), proposal.Title(w.Book, a.Name), done, w.Book.Units.SayArea(o.Opened), leaves, strings.Join(o.Decides, ", ")}
		if priced {
			row = append(row, w.Costs[i].Money+text.Count(w.Costs[i].Cost))
		}
		rows = append(rows, row)
	}
	return table(heads, rows)
}

// clean is when outlets are cleaned.
const clean = "in spring, after the leaves have fallen and before frost"

// waiting says what it costs to do nothing; it is not offered where something is urgent.
func (w *writer) waiting() string {
	if w.Book.Study.KeepOff.Is() || w.urgent() {
		return notOffered
	}
	if len(w.Book.Study.Listed) == 0 && w.toRepair() {
		return "No pond is listed, but what was found above stays as it is. Have the outlets cleaned " + clean + ", and before and after every heavy rain: while they are blocked, water stands as deep as said above. (Common practice, no source.)"
	}
	if len(w.Book.Study.Listed) == 0 {
		return "No pond is listed. Have the outlets cleaned " + clean + ", and the roof looked at after heavy rain."
	}
	return waitingCosts(&w.Book.Study.Roof.Visit)
}

func (w *writer) urgent() bool { return w.worst() >= finding.Urgent }

// toRepair reports whether something calls for repair.
func (w *writer) toRepair() bool { return w.worst() >= finding.Repair }

func (w *writer) worst() finding.Severity {
	worst := finding.Note
	for i := range w.Book.Study.Findings {
		worst = max(worst, w.Book.Study.Findings[i].Severity)
	}
	return worst
}

// ownersPart are the questions of the first answer that the owner answers.
func (w *writer) ownersPart() []string {
	var out []string
	a, _ := w.answer()
	for i := range a.Questions {
		if strings.Contains(a.Questions[i].Decides, finding.Owner) {
			out = append(out, sentence(w.guard(a.Questions[i].Ask)))
		}
	}
	return out
}
