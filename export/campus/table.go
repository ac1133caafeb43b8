package campus

import (
	"encoding/csv"
	"io"

	"runnel/export/cell"
	"runnel/export/record"
)

// table are the rows as CSV, all with the same columns.
type table struct {
	w     *csv.Writer
	units record.Units
	head  []string
}

func newTable(out io.Writer, u record.Units) (*table, error) {
	t := &table{w: csv.NewWriter(out), units: u, head: columns(u)}
	return t, t.w.Write(t.head)
}

func (t *table) row(r *Row, number int) error {
	p := properties(r, t.units)
	line := []string{string(record.AppendNumber(nil, float64(number), 0))}
	for _, name := range t.head[1:] {
		line = append(line, cell.Text(p.Value(name)))
	}
	return t.w.Write(line)
}

func (t *table) end() error {
	t.w.Flush()
	return t.w.Error()
}
