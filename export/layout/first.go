package layout

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"runnel/analysis/choose"
	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	proposal "runnel/export/correction"
	"runnel/export/page"
	"runnel/export/palette"
)

// titleEm is the size of the title of the first sheet [mm].
const titleEm = 4.6

// first sets the first sheet: who has to be asked, what to find out first with its branches, what is then done at each finding in order, what is left
// and who approves; the cautions stand under it where there is room, which told says.
func (h *sheets) first(f *page.Flow) (told bool) {
	f.Mark("What is done")
	f.Paragraph(h.title(), page.Style{Size: titleEm, Bold: true})
	f.Paragraph(h.sentence(), page.Style{Size: textEm})
	f.Skip(2)
	h.asked(f)
	a := h.answer()
	if a != nil {
		h.questions(f, a)
	}
	h.work(f)
	if a != nil {
		h.list(f, "What this leaves", proposal.Leftovers(h.Book, a))
	}
	h.approvals(f)
	for _, size := range []float64{smallEm, smallestEm} {
		if set := h.cautionsAt(size); f.Left() >= height(set, f.Width()) {
			set(f)
			return true
		}
	}
	return false
}

// answer returns the answer that is drawn, nil for an option that is none.
func (h *sheets) answer() *correction.Answer {
	for i := range h.Result.Answers {
		if a := &h.Result.Answers[i]; a.Option == h.Option {
			return a
		}
	}
	return nil
}

// asked says who has to be asked before anything is built.
func (h *sheets) asked(f *page.Flow) {
	var rows []string
	if first, ok := h.Book.KeepOff(); ok {
		rows = append(rows, first.Say())
	}
	for _, r := range h.Result.EngineerFirst {
		rows = append(rows, askEngineer(r.Where)+": "+sentence(h.u.SayText(r.Why)))
	}
	for _, text := range rows {
		f.Paragraph(text, page.Style{Size: textEm + 0.4, Bold: true, Colour: palette.Urgent})
		f.Skip(1)
	}
}

// askEngineer says that an engineer comes first, and where: at a thing that has a name, or at a place in words such as "below P01".
func askEngineer(where string) string {
	switch first, _ := utf8.DecodeRuneInString(where); {
	case where == "":
		return "An engineer first"
	case unicode.IsLower(first):
		return "An engineer first, " + where
	}
	return "An engineer first, at " + where
}

// work sets what is done, in order.
func (h *sheets) work(f *page.Flow) {
	f.Heading("What is done, in order", least)
	t := &page.Table{Size: tableEm, Columns: []page.Column{
		{Head: "no.", Right: true}, {Head: "at"}, {Head: "what is done"}, {Head: "who does it"}, {Head: "who decides"}, {Head: "opened", Right: true},
	}}
	for i := range h.option.Changes {
		c := &h.option.Changes[i]
		opened := choose.If(c.Opened > 0, h.u.SayArea(c.Opened), "")
		place := shortPlace(proposal.Place(h.Book, c))
		t.Rows = append(t.Rows, []string{
			fmt.Sprint(i + 1), place, sentence(strings.TrimPrefix(h.u.SayText(h.Book.Study.KeepOff.Guard(c.What)), place+": ")), doer(c.Kind), c.Decides, opened,
		})
	}
	if len(t.Rows) == 0 {
		f.Paragraph(proposal.NothingDone(h.Book), page.Style{Size: textEm})
		return
	}
	if !slices.ContainsFunc(t.Rows, func(r []string) bool { return r[5] != "" }) {
		t = without(t, 5)
	}
	f.Table(t)
}

// shortPlace is a place as a column has room for it: what stands next to it is on the layout.
func shortPlace(s string) string {
	s, _, _ = strings.Cut(strings.TrimPrefix(s, "at "), ";")
	return s
}

// doer says whose work a change is.
func doer(k mend.Kind) string {
	switch k {
	case mend.LowerOutlet, mend.AddOutlet:
		return finding.Roofer + " and " + finding.Plumber
	case mend.AddScupper:
		return finding.Roofer + ", after the " + finding.Engineer
	case mend.Structure:
		return finding.Engineer
	case mend.RemoveSource, mend.MoveObstacle:
		return "the trade that owns it"
	case mend.RaiseCurb:
		return finding.Roofer + ", " + finding.Mechanical + ", " + finding.Electrical
	case mend.Clear, mend.Dewater, mend.Resecure, mend.LowerRise, mend.ReplacePatch, mend.Cricket,
		mend.LowerEdge, mend.Fill, mend.Retaper, mend.Overlay, mend.Replace, mend.AsFound, mend.Combined:
	}
	return finding.Roofer
}

// questions sets what is not known and decides, with what is done on each finding.
func (h *sheets) questions(f *page.Flow, a *correction.Answer) {
	if len(a.Questions) == 0 {
		return
	}
	f.Heading("Find out first", least)
	t := &page.Table{Size: tableEm, Columns: []page.Column{{Head: "question"}, {Head: "where"}, {Head: "if"}, {Head: "then"}, {Head: "who decides"}}}
	for i := range a.Questions {
		q := &a.Questions[i]
		t.Rows = append(t.Rows, []string{
			h.u.SayText(h.Book.Study.KeepOff.Guard(q.Ask)), q.Where, sentence(h.u.SayText(q.If)), sentence(h.u.SayText(q.Then)), q.Decides,
		})
	}
	f.Table(t)
}
