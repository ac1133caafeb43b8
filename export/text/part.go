package text

import "runnel/export/record"

// Part is one paragraph of the page, for a writer that lays it out in its own way.
type Part struct {
	Word   string // in the left column, empty where the paragraph goes on with the word before
	Number int    // of a list, 0 outside one
	Text   string
}

// First returns the paragraphs of the first screen, in their order.
func First(b *record.Book) []Part {
	return parts(b, (*page).headline, (*page).ponds, (*page).heldBy, (*page).next, (*page).mend, (*page).survey, (*page).limit)
}

// Assumptions returns what is taken for granted on this roof, one sentence or two each.
func Assumptions(b *record.Book) []string {
	var all []string
	for _, p := range parts(b, (*page).assumptions) {
		all = append(all, p.Text)
	}
	return all
}

// NotMeasured returns what no file told, each a few words.
func NotMeasured(b *record.Book) []string { return (&page{book: b, u: b.Units}).notMeasured() }

func parts(b *record.Book, sections ...func(p *page)) []Part {
	p := &page{book: b, u: b.Units}
	for _, s := range sections {
		s(p)
	}
	return p.parts
}
