// Package papers sets the papers that go to other people about one roof: a letter to the client, what the structural engineer, the plumber, the energy authority
// and the building official are asked, notice to the warrantor, and scope and allowances for bids. Each is one page where it can be. All say what the
// proposal says, in its words.
package papers

import (
	"fmt"
	"io"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/correction"
	"runnel/analysis/roof"
	"runnel/export/caution"
	proposal "runnel/export/correction"
	"runnel/export/drawing"
	"runnel/export/drawing/pdf"
	"runnel/export/drawing/scene"
	"runnel/export/page"
	"runnel/export/record"
)

// Paper is one paper: who it goes to and what it says.
type Paper struct {
	Name  string // of its file
	Title string
	To    string // whom it goes to, in a word
	Parts []Part

	roof    *roof.Roof
	units   record.Units
	picture func(width, height float64) *scene.Scene
	least   float64 // height of that at which it still shows anything [mm]
}

// Part is a part of a paper. What is empty is not set.
type Part struct {
	Heading string
	Texts   []string
	Steps   []string // numbered

	Questions []Question // each with its answer, or a line for the answer, a name and a date
	Table     *page.Table
	Picture   bool // of the roof with its ponds, where there is room
	Must      bool // make room for the picture
	Drawing   func(width float64) *scene.Scene
	Signed    []string
}

// writer gathers the papers of one proposal.
type writer struct {
	*proposal.Proposal
}

// Of returns the papers of a proposal, in the order in which they are wanted. A paper that would say nothing is left out.
func Of(p *proposal.Proposal) []*Paper {
	w := &writer{p}
	all := []*Paper{w.letter(), w.engineer()}
	for _, to := range []roof.Recipient{roof.ToPlumber, roof.ToEnergy, roof.ToOfficial} {
		all = append(all, w.asks(to))
	}
	all = append(all, w.warrantor(), w.scope())
	var out []*Paper
	for _, a := range all {
		if a != nil {
			a.roof, a.units = w.Book.Study.Roof, w.Book.Units
			a.picture, a.least = func(width, height float64) *scene.Scene { return drawing.Keyed(w.Book, width, height) }, keyedPicture
			out = append(out, a)
		}
	}
	return out
}

// Names are the names of all papers' files, without the roof's.
func Names() []string {
	return []string{"letter.pdf", "engineer.pdf", "plumber.pdf", "energy.pdf", "official.pdf", "warrantor.pdf", "scope.pdf", "bids.pdf", "readings.pdf", "history.pdf"}
}

// keepOffFirst begins a paper, with what keeps people off the roof where something does.
func (w *writer) keepOffFirst(name, title, to string) *Paper {
	a := &Paper{Name: name, Title: title, To: to}
	if first, ok := w.Book.KeepOff(); ok {
		a.Parts = append(a.Parts, Part{Texts: []string{first.Say()}})
	}
	return a
}

// em is the size of the typeface [mm].
const em = 3.2

// WritePDF writes the paper.
func (a *Paper) WritePDF(out io.Writer) error { return pdf.Write(out, a.pages()...) }

// Heights of the picture [mm]: as large as it may be beside texts, and as small as it still shows anything, with a key below it and without.
const (
	highPicture  = 110.0
	keyedPicture = 52.0
	plainPicture = 36.0
)

// pages lays the paper out on one page where it can be: with a smaller picture, if that is what it takes.
func (a *Paper) pages() []*scene.Scene {
	const step = 3.7
	for most := highPicture; most >= a.least; most -= step {
		if pages := a.lay(most); len(pages) == 1 {
			return pages
		}
	}
	return a.lay(highPicture)
}

// lay lays the paper out with a picture of at most so many mm.
func (a *Paper) lay(most float64) []*scene.Scene {
	width, height := page.Paper(a.units)
	r := a.roof
	f := page.New(a.Title+": "+r.Name, width, height)
	f.Line(a.Title, page.Style{Size: 5.3, Bold: true})
	about := choose.If(r.Building != "" && r.Building != r.Name, "Roof: "+r.Building+", "+r.Name, "Roof: "+r.Name)
	if r.Surveyed != "" {
		about += "; surveyed " + r.Surveyed
	}
	f.Line(about+".", page.Style{Size: em})
	f.Paragraph("To: "+a.To+". From: ____________________  Date: ______________", page.Style{Size: em}) // however long a name, the lines to fill in stand
	f.Skip(1.5)
	for i := range a.Parts {
		a.set(f, &a.Parts[i], most)
	}
	f.Number(a.Title+": "+r.Name, caution.Foot+" "+caution.Design)
	return f.Pages
}

func (a *Paper) set(f *page.Flow, p *Part, most float64) {
	const least = 22
	if p.Heading != "" {
		f.Heading(p.Heading, least)
	}
	for _, t := range p.Texts {
		f.Paragraph(t, page.Style{Size: em})
		f.Skip(0.8)
	}
	for i, t := range p.Steps {
		f.Paragraph(fmt.Sprintf("%d. %s", i+1, t), page.Style{Size: em})
	}
	if len(p.Steps) > 0 {
		f.Skip(1)
	}
	for i := range p.Questions {
		question(f, &p.Questions[i])
	}
	if p.Table != nil {
		f.Table(p.Table)
		f.Skip(1)
	}
	if p.Drawing != nil {
		d := p.Drawing(f.Width())
		f.Need(d.Height)
		f.Place(d, scene.Point{X: page.Margin, Y: f.Y()})
		f.Skip(d.Height + 1)
	}
	if p.Picture {
		room := min(most, f.Left()-6)
		if room < a.least && p.Must {
			f.Add()
			room = min(highPicture, f.Left()-6)
		}
		if room >= a.least {
			d := a.picture(f.Width(), room)
			f.Place(d, scene.Point{X: page.Margin, Y: f.Y()})
			f.Skip(d.Height + 1)
		}
	}
	for _, s := range p.Signed {
		f.Skip(2.5)
		f.Line(s+": ______________________________   Date: ______________", page.Style{Size: em})
	}
}

// question sets a question with its answer, or with room for one.
func question(f *page.Flow, q *Question) {
	f.Paragraph(fmt.Sprintf("Q%d. %s", q.Number, q.Text), page.Style{Size: em})
	if a := q.Answer; a != nil {
		f.Paragraph("Answered: "+strings.TrimSuffix(a.Text, ".")+". "+a.By+", "+a.On+".", page.Style{Size: em, Indent: 5, Bold: true})
		f.Skip(1.2)
		return
	}
	form := ""
	if q.Asked != "" {
		form = ", " + q.Asked.Form()
	}
	f.Paragraph("Answer"+form+": ______________________  Name: __________________  Date: __________", page.Style{Size: em, Indent: 5})
	f.Skip(1.2)
}

func table(heads []string, rows [][]string) *page.Table {
	t := &page.Table{Size: 2.8, Rows: rows}
	for _, h := range heads {
		t.Columns = append(t.Columns, page.Column{Head: h})
	}
	return t
}

// Words of every paper.
const (
	notCertified = "This compares measured numbers with limits and names where each limit comes from. It does not say that the roof can carry the water, or that a code is met. That is for licensed engineers and the local code."
	askFirst     = "Until these are answered, nothing is built."
)

func (w *writer) answer() (*correction.Answer, *correction.Option) {
	a := &w.Result.Answers[0]
	return a, &w.Result.Options[a.Option]
}
