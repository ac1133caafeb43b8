package content

import (
	"runnel/export/record"
	"runnel/export/text"
)

// Part is a piece of a section: sentences under a heading, and a table where there is one.
type Part struct {
	Heading string
	Texts   []string
	Table   Table
}

// coreParts returns what the cores say; none on a roof without cores.
func coreParts(b *record.Book) []Part {
	blocks := text.Cores(b)
	out := make([]Part, len(blocks))
	for i, k := range blocks {
		out[i] = Part{Heading: k.Heading, Texts: k.Texts}
		if k.Table == nil {
			continue
		}
		t := Table{ID: k.Name, Heads: k.Table[0]}
		for n, row := range k.Table[1:] {
			r := Row{}
			if n < len(k.IDs) {
				r.Feature = k.IDs[n]
			}
			for column, cell := range row {
				if n < len(k.Values) && column > 0 && column <= len(k.Values[n]) {
					r.Cells = append(r.Cells, say(cell, k.Values[n][column-1]))
				} else {
					r.Cells = append(r.Cells, Cell{Text: cell})
				}
			}
			t.Rows = append(t.Rows, r)
		}
		out[i].Table = t
	}
	return out
}
