package text

import "runnel/export/record"

// Lines is a page of text under construction, for other writers that print one.
type Lines struct{ p page }

// NewLines returns an empty page.
func NewLines() *Lines { return &Lines{} }

// Title writes the page's title, underlined.
func (l *Lines) Title(text string) { l.p.title(text) }

// Heading begins a section.
func (l *Lines) Heading(text string) { l.p.heading(text) }

// Entry writes a paragraph with a word in the left column.
func (l *Lines) Entry(word, text string) { l.p.entry(word, text) }

// Paragraph writes a paragraph.
func (l *Lines) Paragraph(text string) { l.p.note(text) }

// Bullet writes a paragraph with a dash.
func (l *Lines) Bullet(text string) { l.p.bullet(text) }

// Table writes rows of cells in columns, the first row being the heads.
func (l *Lines) Table(rows [][]string) { l.p.table(rows) }

// Bytes returns the page.
func (l *Lines) Bytes() []byte { return l.p.Bytes() }

// Plural writes "1 place" or "3 places".
func Plural(n int, what string) string { return record.Plural(n, what) }

// Count writes a whole number with commas between the thousands.
func Count(v float64) string { return record.Count(v) }
