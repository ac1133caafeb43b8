// Package paged writes the report of one roof as pages to print, file and send: what the report for the browser says, in PDF.
//
// The first page answers: how many ponds, the worst of them, what holds it, what to do next, who decides, how good the survey is; with
// a picture of the roof. Then the plan on its own sheet, to scale; ponds and outlets; every finding with a drawing of where it is;
// what was assumed and not measured; the survey; the limits and where they come from; the cautions. Every page has its number
// and a line of caution. The same roof gives the same bytes.
package paged

import (
	"fmt"
	"io"
	"strings"

	"runnel/analysis/gather"
	"runnel/export/caution"
	"runnel/export/drawing"
	"runnel/export/drawing/pdf"
	"runnel/export/drawing/scene"
	"runnel/export/model"
	"runnel/export/page"
	"runnel/export/record"
)

// foot stands at the bottom of every page.
const foot = caution.Off + " " + drawing.Limit + " Cautions: last page."

// question explains the marks that stand for letters.
const question = "A ? in a name stands for a letter that the typeface of these pages does not have; the report for the browser shows it."

// Sizes on the sheet [mm].
const (
	titleEm = 6.0
	firstEm = 3.4 // of the answer
	bodyEm  = 3.1
	noteEm  = 2.8
	tableEm = 2.7
	words   = 22.0 // column of words
	gap     = 1.4
)

var (
	body = page.Style{Size: bodyEm}
	note = page.Style{Size: noteEm}
)

// report is one document being set.
type report struct {
	*page.Flow
	m *model.Model
}

// Write writes the report of m.
func Write(w io.Writer, m *model.Model) error {
	pages, err := Pages(m)
	if err != nil {
		return err
	}
	return pdf.Write(w, pages...)
}

// Pages sets the report of m.
func Pages(m *model.Model) ([]*scene.Scene, error) {
	width, height := page.Paper(m.Book.Units)
	r := &report{m: m}
	r.Flow = page.New(r.name()+": roof report", width, height)
	r.first()
	plan, err := m.Plan()
	if err != nil {
		return nil, fmt.Errorf("draw the plan: %w", err)
	}
	r.Insert(plan[0], "Plan")
	r.cores()
	r.tables()
	r.rain()
	r.storm()
	r.findings()
	r.assumed()
	r.survey()
	r.table(m.Criteria)
	r.cautions()
	head := r.name() + ", roof report"
	if r.m.Surveyed != "" {
		head += ", surveyed " + r.m.Surveyed
	}
	r.Number(head, foot)
	return r.Pages, nil
}

// name is the roof's name, with the building's before it.
func (r *report) name() string {
	name := short(r.m.Name)
	if strings.TrimSpace(name) == "" {
		name = "Roof " + r.m.ID
	}
	if r.m.Building != "" {
		name = short(r.m.Building) + ", " + name
	}
	return name
}

// short cuts a name so that two of them have room on one line.
func short(name string) string {
	const longest = 60 // characters
	return record.Beginning(name, longest)
}

// first sets the answer and the picture.
func (r *report) first() {
	r.Mark("The answer")
	r.Line(r.name(), page.Style{Size: titleEm, Bold: true})
	about := "Roof report, as found. Roof " + r.m.ID
	if r.m.Surveyed != "" {
		about += ", surveyed " + r.m.Surveyed
	}
	r.Line(about+", "+r.m.Book.Units.SayArea(r.m.Book.Area), body)
	r.Skip(1.5)
	r.Rule(0.5)
	r.Skip(2)
	for k := range r.m.First {
		e := &r.m.First[k]
		var rows [][2]string
		for i, s := range e.Steps {
			rows = append(rows, [2]string{"", fmt.Sprintf("%d. %s", e.Number(i), s)})
		}
		for _, s := range e.Texts {
			rows = append(rows, [2]string{"", s})
		}
		if len(rows) > 0 {
			rows[0][0] = e.Word
		}
		r.Facts(&page.Facts{Rows: rows, Style: page.Style{Size: firstEm}, Words: words, Gap: 0.4})
		r.Skip(gap)
	}
	r.picture()
}

// least and most are how high the picture of the first page gets [mm].
const (
	least = 45.0
	most  = 185.0
)

func (r *report) picture() {
	const caption = noteEm*page.Leading + 2
	room := r.Left() - caption - 3
	if len(r.Pages) > 1 || room < least {
		return
	}
	r.Skip(2)
	picture := drawing.Picture(r.m.Book, r.Width(), min(room, most))
	r.Place(picture, scene.Point{X: page.Margin, Y: r.Y()})
	r.Skip(picture.Height + 1)
	r.Line("Fitted to this page, not to a scale. The numbers are those of the findings. The plan, to scale, is the next page.", note)
}

// tables sets ponds and outlets.
func (r *report) tables() {
	r.table(r.m.Ponds)
	r.table(r.m.Outlets)
}

// mostRows is how many rows of a table are set; the schedule has all.
const mostRows = 250

// table sets a table under its heading, with what stands under it.
func (r *report) table(t model.Table) {
	r.Heading(t.Heading, 25)
	if len(t.Rows) == 0 {
		r.Paragraph(t.None(), body)
	} else {
		r.rows(t)
	}
	if len(t.Notes) > 0 {
		r.Skip(1.5)
		r.Bullets(t.Notes, note)
	}
}

// rows sets a table that has rows.
func (r *report) rows(t model.Table) {
	rows, rest := t.Page(mostRows)
	out := &page.Table{Size: tableEm, Columns: make([]page.Column, len(t.Columns))}
	for i, c := range t.Columns {
		out.Columns[i] = page.Column{Head: c.Head, Right: t.Rows[0].Cells[i].Number}
	}
	for _, row := range rows {
		cells := gather.Each(row.Cells, func(c model.Cell) string { return c.Text })
		out.Rows = append(out.Rows, cells)
	}
	if len(rows) > 0 {
		r.Table(out)
	}
	if rest != "" {
		r.Paragraph(rest, note)
	}
}

// assumed sets what was taken for granted and what no file told.
func (r *report) assumed() {
	r.Heading("Assumed, and not measured", 20)
	r.Paragraph("Assumed", page.Style{Size: bodyEm, Bold: true})
	r.Skip(0.6)
	r.Bullets(r.m.Assumptions, note)
	r.Skip(1.5)
	r.Need(10)
	r.Paragraph("Not measured", page.Style{Size: bodyEm, Bold: true})
	r.Skip(0.6)
	r.Bullets(r.m.NotMeasured, note)
}

// mostWarnings is how many warnings are set; the summary has all.
const mostWarnings = 40

// survey sets how good the measurements are, and the files.
func (r *report) survey() {
	r.Heading("How good the survey is", 20)
	facts := &page.Facts{Style: note, Words: 62, Gap: 0.4}
	for _, f := range r.m.Survey {
		facts.Rows = append(facts.Rows, [2]string{f[0], f[1]})
	}
	r.Facts(facts)
	r.list("Files", func() (texts []string) {
		for _, in := range r.m.Inputs {
			texts = append(texts, in[0]+" ("+in[1]+")")
		}
		return texts
	}())
	r.list("Warnings", r.m.Warnings)
}

// list sets texts under a word, where there are any.
func (r *report) list(word string, texts []string) {
	if len(texts) == 0 {
		return
	}
	r.Skip(1.5)
	r.Need(10)
	r.Paragraph(word, page.Style{Size: bodyEm, Bold: true})
	r.Skip(0.6)
	r.Bullets(texts[:min(mostWarnings, len(texts))], note)
	if rest := model.Rest(len(texts)-mostWarnings, "more"); rest != "" {
		r.Paragraph(rest, note)
	}
}

// cautions close the report, on one page.
func (r *report) cautions() {
	r.Heading("Cautions", min(120, 12*float64(len(r.m.Cautions))))
	r.Bullets(r.m.Cautions, note)
	if r.Missing {
		r.Skip(2)
		r.Paragraph(question, note)
	}
}

// cores sets what the cores say, where the roof was cut open.
func (r *report) cores() {
	if len(r.m.Cores) == 0 {
		return
	}
	r.Heading(r.m.CoresHeading, 25)
	for i, p := range r.m.Cores {
		if i > 0 {
			r.Skip(2)
		}
		r.Need(16)
		r.Paragraph(p.Heading, page.Style{Size: bodyEm, Bold: true})
		r.Skip(0.6)
		r.Bullets(p.Texts, note)
		if len(p.Table.Rows) > 0 {
			r.Skip(1)
			r.rows(p.Table)
		}
	}
}
