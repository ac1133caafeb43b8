package text

import (
	"runnel/analysis/study"
	"runnel/export/record"
)

// Part is one paragraph of the page, for a writer that lays it out in its own way.
type Part struct {
	Word   string // in the left column, empty where the paragraph goes on with the word before
	Number int    // of a list, 0 outside one
	Text   string
}

// First returns the paragraphs of the first screen, in their order.
func First(b *record.Book) []Part {
	return parts(b, (*page).headline, (*page).lead, (*page).heldBy, (*page).blocked, (*page).next, (*page).mend, (*page).slopeIsIn, (*page).survey, (*page).limit)
}

// Assumptions returns what is taken for granted on this roof, one sentence or two each.
func Assumptions(b *record.Book) []string {
	return texts(parts(b, (*page).assumptions))
}

// NotMeasured returns what no file told, each a few words.
func NotMeasured(b *record.Book) []string { return (&page{book: b, u: b.Units}).notMeasured() }

// Demand returns what stands under the table of outlets under the design rain.
func Demand(b *record.Book) []string { return texts(parts(b, (*page).demandNotes)) }

// RainLoad says how deep and heavy water stands with every primary outlet blocked. There must be a load.
func RainLoad(b *record.Book) []string { return texts(parts(b, (*page).rainLoad)) }

// Storm says what comes down and what is left. There must be a storm.
func Storm(b *record.Book) []Part { return parts(b, (*page).stormFacts) }

// OverflowStarts says when which overflow first takes water in a case, "-" where none does.
func OverflowStarts(b *record.Book, c *study.Case) string {
	return (&page{book: b, u: b.Units}).overflowStarts(c)
}

func texts(parts []Part) []string {
	out := make([]string, len(parts))
	for i := range parts {
		out[i] = parts[i].Text
	}
	return out
}

func parts(b *record.Book, sections ...func(p *page)) []Part {
	p := &page{book: b, u: b.Units}
	for _, s := range sections {
		s(p)
	}
	return p.parts
}
