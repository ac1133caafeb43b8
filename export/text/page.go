package text

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"runnel/analysis/gather"
	"runnel/export/model"
	"runnel/export/record"
)

// width is how wide the page is, and label how wide its left column.
const (
	width = 92
	label = width - record.LongestWord
)

// page gathers the lines of the report.
type page struct{ bytes.Buffer }

func (p *page) line(parts ...string) {
	for _, s := range parts {
		p.WriteString(s)
	}
	p.WriteByte('\n')
}

// title writes the page's title, underlined.
func (p *page) title(text string) {
	text = record.Short(text)
	p.line(text)
	p.line(strings.Repeat("=", min(width, utf8.RuneCountInString(text))))
}

// heading begins a section.
func (p *page) heading(text string) { p.line("\n", strings.ToUpper(text)) }

// entry writes a paragraph with a word in the left column.
func (p *page) entry(word, text string) { p.hang(pad(word, label), text) }

// number writes paragraph n of a list, in the right column.
func (p *page) number(word string, n int, text string) {
	p.hang(pad(word, label)+strconv.Itoa(n)+". ", text)
}

// bullet writes a paragraph with a dash.
func (p *page) bullet(text string) { p.hang("  - ", text) }

// note writes a paragraph under a table.
func (p *page) note(text string) { p.hang("  ", text) }

// Paragraph returns text after lead, broken at blanks to the width of the page; further lines begin below the end of lead.
func Paragraph(lead, text string) string {
	p := &page{}
	p.hang(lead, text)
	return p.String()
}

// Label returns a word as it stands in the left column of the page.
func Label(word string) string { return pad(word, label) }

// hang writes text after lead, broken at blanks; further lines begin below the end of lead.
func (p *page) hang(lead, text string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(lead))
	p.WriteString(lead)
	column := len(indent)
	for i, word := range Words(record.Short(text)) {
		n := utf8.RuneCountInString(word)
		switch {
		case i == 0:
		case column+1+n > width:
			p.WriteString("\n" + indent)
			column = len(indent)
		default:
			p.WriteByte(' ')
			column++
		}
		p.WriteString(word)
		column += n
	}
	p.WriteByte('\n')
}

// units are the words that stay with the number before them.
var units = []string{"mm", "m", "m²", "m³", "kg", "kPa", "litres", "%", "ft", "in", "sq", "gal", "lb", "psf", "spots"}

// Words splits text at blanks, but not between a number and its unit, nor between feet and inches.
func Words(text string) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		if n := len(out); n > 0 && belongs(out[n-1], word) {
			out[n-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// belongs reports whether word goes on with what stands before it.
func belongs(before, word string) bool {
	last := before[len(before)-1]
	switch bare := strings.TrimRight(word, ".,;:)"); {
	case last == '\'':
		return strings.HasSuffix(bare, `"`)
	case last >= '0' && last <= '9':
		return slices.Contains(units, bare)
	case strings.HasSuffix(before, " sq"):
		return bare == "ft"
	}
	return false
}

func pad(s string, n int) string { return s + strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s))) }

// lines sets rows of cells in columns, a line each.
func lines(rows [][]string) []string {
	var b bytes.Buffer
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		cells := gather.Each(r, record.Short)
		_, _ = t.Write([]byte("  " + strings.Join(cells, "\t") + "\n"))
	}
	_ = t.Flush()
	var out []string
	for l := range strings.Lines(b.String()) {
		out = append(out, strings.TrimRight(l, " \n"))
	}
	return out
}

// table writes rows of cells in columns, the first row being the heads.
func (p *page) table(rows [][]string) {
	for _, l := range lines(rows) {
		p.line(l)
	}
}

// columns writes the first rows of a table under its heads. Cells that hold sentences stand below their row, and columns
// that are the first to be left out are.
func (p *page) columns(t model.Table, rows int) {
	all := make([][]string, rows+1)
	for k, c := range t.Columns {
		if c.Aside || c.Sentence {
			continue
		}
		all[0] = append(all[0], c.Head)
		for i := range rows {
			all[i+1] = append(all[i+1], t.Rows[i].Cells[k].Text)
		}
	}
	for i, l := range lines(all) {
		p.line(l)
		for k, c := range t.Columns {
			if i > 0 && c.Sentence && t.Rows[i-1].Cells[k].Text != "-" {
				p.hang("      ", c.Head+": "+t.Rows[i-1].Cells[k].Text)
			}
		}
	}
}
