package text

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"runnel/export/record"
)

// width is how wide the page is, and label how wide its left column.
const (
	width = 92
	label = 11
)

// longestWord is how much of one word is printed [characters]: what the right column holds.
const longestWord = width - label

// short returns text with the words cut that no line holds: a label may be of any length.
func short(text string) string {
	if len(text) <= longestWord {
		return text
	}
	words := strings.Split(text, " ")
	for i, w := range words {
		if r := []rune(w); len(r) > longestWord {
			words[i] = string(r[:longestWord-1]) + "…"
		}
	}
	return strings.Join(words, " ")
}

// page gathers the lines of the report.
type page struct {
	bytes.Buffer
	book  *record.Book
	u     record.Units
	parts []Part
}

// line writes one line as it is.
func (p *page) line(parts ...string) {
	for _, s := range parts {
		p.WriteString(s)
	}
	p.WriteByte('\n')
}

// heading begins a section.
func (p *page) heading(text string) { p.line("\n", strings.ToUpper(text)) }

// entry writes a paragraph with a word in the left column.
func (p *page) entry(word, text string) {
	text = short(text)
	p.parts = append(p.parts, Part{Word: word, Text: text})
	p.hang(pad(word, label), text)
}

// number writes paragraph n of a list, in the right column.
func (p *page) number(word string, n int, text string) {
	text = short(text)
	p.parts = append(p.parts, Part{Word: word, Number: n, Text: text})
	p.hang(pad(word, label)+strconv.Itoa(n)+". ", text)
}

// bullet writes a paragraph with a dash.
func (p *page) bullet(text string) {
	text = short(text)
	p.parts = append(p.parts, Part{Text: text})
	p.hang("  - ", text)
}

// note writes a paragraph under a table.
func (p *page) note(text string) {
	text = short(text)
	p.parts = append(p.parts, Part{Text: text})
	p.hang("  ", text)
}

// hang writes text after lead, broken at blanks; further lines begin below the end of lead.
func (p *page) hang(lead, text string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(lead))
	p.WriteString(lead)
	column := len(indent)
	for i, word := range Words(short(text)) {
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

func pad(s string, n int) string {
	return s + strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s)))
}

// row returns a line of cells for a table.
func row(cells []string) string {
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = short(c)
	}
	return "  " + strings.Join(out, "\t") + "\n"
}

// table writes rows of cells in columns, the first row being the heads; columns named in right are
// aligned to the right.
func (p *page) table(rows [][]string) {
	var b bytes.Buffer
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		_, _ = t.Write([]byte(row(r)))
	}
	_ = t.Flush()
	for l := range strings.Lines(b.String()) {
		p.WriteString(strings.TrimRight(l, " \n") + "\n")
	}
}
