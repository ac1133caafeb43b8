package paged

import (
	"fmt"
	"strings"

	"runnel/analysis/finding"
	"runnel/export/content"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
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
	r.Heading("Findings, worst first", 45)
	if len(r.c.Findings) == 0 {
		r.Paragraph("None.", body)
		return
	}
	thumbs := drawing.NewThumbs(r.b, thumbW, thumbH)
	for i := range r.c.Findings {
		r.finding(&r.c.Findings[i], thumbs)
	}
	if r.c.MoreFindings > 0 {
		r.Paragraph(fmt.Sprintf("And %d less severe or smaller findings in the summary file.", r.c.MoreFindings), body)
	}
}

// finding sets one finding: its severity, number and what is wrong over the drawing and the facts.
func (r *report) finding(f *content.Finding, thumbs *drawing.Thumbs) {
	facts := &page.Facts{Style: note, Words: words, Gap: 0.5}
	for _, fact := range f.Facts {
		facts.Rows = append(facts.Rows, [2]string{fact[0], say(fact[1])})
	}
	x, beside := page.Margin+thumbW+4, r.Width()-thumbW-4
	r.Column(x, r.Y(), beside)
	high := r.Height(facts)
	r.Whole()
	r.Need(min(max(high, thumbs.Height)+14, 220))
	r.title(f)
	top := r.Y()
	r.Place(thumbs.Of(f.Index), scene.Point{X: page.Margin, Y: top})
	pages := len(r.Pages)
	r.Column(x, top, beside)
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
func (r *report) title(f *content.Finding) {
	severity := r.b.Study.Findings[f.Index].Severity
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
	r.Paragraph(f.ID+"  "+say(f.What), page.Style{Size: bodyEm, Bold: true})
	r.Whole()
	r.Skip(1.5)
}
