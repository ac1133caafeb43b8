// Package text writes the page that a roofer reads: the answer on its first screen, then the tables,
// then what was assumed, left out and is to be minded.
//
// The first screen keeps its order on every roof: the worst thing known (how many ponds and the worst of them, or what is worse than a
// pond), what holds it, what to do next and who decides, the likely mend, how good the survey is, and that none of this says what the
// roof can carry. Lengths are in inches to eighths or in whole millimetres.
package text

import (
	"io"

	"runnel/export/record"
)

// Write writes the page for b to w.
func Write(w io.Writer, b *record.Book) error {
	p := &page{book: b, u: b.Units}
	p.title()
	p.headline()
	p.lead()
	p.heldBy()
	p.blocked()
	p.next()
	p.mend()
	p.slopeIsIn()
	p.survey()
	p.limit()
	p.outletTable()
	p.pondTable()
	p.planeTable()
	p.valleyTable()
	p.whatTheCoresSay()
	p.whileItRains()
	p.storm()
	p.findingList()
	p.assumptions()
	p.warnings()
	p.cautions()
	_, err := w.Write(p.Bytes())
	return err
}
