// Package text writes the page that a roofer reads: the answer on its first screen, then the tables,
// then what was assumed, left out and is to be minded.
//
// The first screen keeps its order on every roof: the worst thing known (how many ponds and the worst of them, or what is worse than a
// pond), what holds it, what to do next and who decides, the likely mend, how good the survey is, and that none of this says what the
// roof can carry. What is said comes from package model; here it is set in lines.
package text

import (
	"io"
	"strings"

	"runnel/export/model"
)

// How much of each kind the page lists; the rest stands in the files.
const (
	mostLines    = 12 // planes, valleys
	mostPonds    = 40
	mostFindings = 40
	mostFlows    = 24  // what each outlet did in each case
	mostRows     = 500 // of other tables
)

// Write writes the page for m to w.
func Write(w io.Writer, m *model.Model) error {
	p := &page{}
	p.title(m.Heading())
	p.entries(m.First)
	p.section(m.Outlets, mostRows)
	p.section(m.Ponds, mostPonds)
	p.section(m.Planes, mostLines)
	if len(m.Valleys.Rows) > 0 {
		p.section(m.Valleys, mostLines)
	}
	p.cores(m)
	p.rain(m.Rain)
	p.storm(m.Storm)
	p.findings(m)
	p.list("Assumptions", m.Assumptions)
	p.list("Warnings", m.Warnings)
	p.list("Cautions", m.Cautions)
	_, err := w.Write(p.Bytes())
	return err
}

// entries writes paragraphs, each with its word in the left column.
func (p *page) entries(all []model.Entry) {
	for k := range all {
		e := &all[k]
		word := e.Word
		for i, s := range e.Steps {
			p.number(word, e.Number(i), s)
			word = ""
		}
		for _, s := range e.Texts {
			p.entry(word, s)
			word = ""
		}
	}
}

// section writes a table under its heading, with what stands under it.
func (p *page) section(t model.Table, most int) {
	p.heading(t.Heading)
	p.rows(t, most)
	for _, n := range t.Notes {
		p.note(n)
	}
}

// rows writes the rows of a table for which there is room.
func (p *page) rows(t model.Table, most int) {
	if len(t.Rows) == 0 {
		p.line("  ", t.None())
		return
	}
	rows, rest := t.Page(most)
	if len(rows) > 0 {
		p.columns(t, len(rows))
	}
	p.rest(rest)
}

// rest says how many more there are, where there are any.
func (p *page) rest(text string) {
	if text != "" {
		p.note(text)
	}
}

// list writes texts with dashes, where there are any.
func (p *page) list(heading string, texts []string) {
	if len(texts) == 0 {
		return
	}
	p.heading(heading)
	for _, t := range texts {
		p.bullet(t)
	}
}

// cores writes what the cores say.
func (p *page) cores(m *model.Model) {
	if len(m.Cores) == 0 {
		return
	}
	p.heading(m.CoresHeading)
	for i, part := range m.Cores {
		if i > 0 {
			p.line()
		}
		p.hang("  ", part.Heading+":")
		for _, t := range part.Texts {
			p.bullet(t)
		}
		if len(part.Table.Rows) > 0 {
			p.rows(part.Table, mostRows)
		}
	}
}

// rain writes what the outlets do under the design rain, and how deep water stands with every primary outlet blocked.
func (p *page) rain(r *model.Rain) {
	if len(r.Outlets.Rows) > 0 {
		p.section(r.Outlets, mostRows)
	}
	if len(r.Load) > 0 {
		p.heading(r.LoadHeading)
		for _, s := range r.Load {
			p.note(s)
		}
	}
	if len(r.Sills.Rows) > 0 {
		p.section(r.Sills, mostRows)
	}
}

// storm writes what the storm does.
func (p *page) storm(s *model.Storm) {
	if s == nil {
		return
	}
	p.heading("Storm")
	p.entries(s.Facts)
	p.line()
	p.rows(s.Cases, mostRows)
	p.section(s.Outlets, mostFlows)
}

// findings writes each finding with its facts.
func (p *page) findings(m *model.Model) {
	p.heading("Findings")
	if len(m.Findings) == 0 {
		p.line("  ", model.Nothing)
	}
	shown := m.Findings[:min(mostFindings, len(m.Findings))]
	for i := range shown {
		f := &shown[i]
		p.hang("  "+pad(f.ID, 5), strings.ToUpper(f.Severity)+": "+f.What)
		for _, fact := range f.Facts {
			p.hang("       "+pad(strings.ToLower(fact[0]), 10), fact[1])
		}
	}
	p.rest(model.Rest(len(m.Findings)+m.MoreFindings-len(shown), model.FewerFindings))
}
