package paged

import (
	"strings"

	"runnel/analysis/finding"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/model"
	"runnel/export/page"
	"runnel/export/palette"
)

// Room of a finding's drawing [mm].
const (
	thumbW = 44.0
	thumbH = 32.0
)

// findings sets every finding with where it is.
func (r *report) findings() {
	const heading = "Findings, worst first"
	if len(r.m.Findings) == 0 {
		r.Heading(heading, 15)
		r.Paragraph(model.Nothing, body)
		return
	}
	thumbs := drawing.NewThumbs(r.m.Book, thumbW, thumbH)
	r.Heading(heading, r.room(facts(&r.m.Findings[0]), thumbs))
	for i := range r.m.Findings {
		r.finding(&r.m.Findings[i], thumbs)
	}
	if rest := model.Rest(r.m.MoreFindings, model.FewerFindings); rest != "" {
		r.Paragraph(rest, body)
	}
}

// facts returns what is said of a finding.
func facts(f *model.Finding) *page.Facts {
	facts := &page.Facts{Style: note, Words: words, Gap: 0.5}
	for _, fact := range f.Facts {
		facts.Rows = append(facts.Rows, [2]string{fact[0], fact[1]})
	}
	return facts
}

// room returns how much height a finding needs on one page.
func (r *report) room(facts *page.Facts, thumbs *drawing.Thumbs) float64 {
	r.beside(r.Y())
	high := r.Height(facts)
	r.Whole()
	return min(max(high, thumbs.Height)+14, 220)
}

// beside goes on in the column beside a drawing.
func (r *report) beside(y float64) {
	r.Whole()
	r.Column(page.Margin+thumbW+4, y, r.Width()-thumbW-4)
}

// finding sets one finding: its severity, number and what is wrong over the drawing and the facts.
func (r *report) finding(f *model.Finding, thumbs *drawing.Thumbs) {
	facts := facts(f)
	r.Need(r.room(facts, thumbs))
	r.title(f)
	top := r.Y()
	r.Place(thumbs.Of(f.Index), scene.Point{X: page.Margin, Y: top})
	pages := len(r.Pages)
	r.beside(top)
	r.Facts(facts)
	if end := top + thumbs.Height + 1; len(r.Pages) == pages && r.Y() < end {
		r.Skip(end - r.Y())
	}
	r.Whole()
	r.Skip(1.5)
	r.Rule(0.15)
	r.Skip(2.5)
}

// title sets the line over a finding.
func (r *report) title(f *model.Finding) {
	severity := r.m.Book.Study.Findings[f.Index].Severity
	fill, colour := palette.Note, palette.Ink
	switch severity {
	case finding.Urgent:
		fill, colour = palette.Urgent, "#FFFFFF"
	case finding.Repair:
		fill = palette.Repair
	case finding.Note:
	}
	w := r.Tint(strings.ToUpper(f.Severity), fill, colour, bodyEm)
	r.Column(page.Margin+w+2, r.Y()+0.35, r.Width()-w-2)
	r.Paragraph(f.ID+"  "+f.What, page.Style{Size: bodyEm, Bold: true})
	r.Whole()
	r.Skip(1.5)
}
