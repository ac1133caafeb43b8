package campus

import (
	"encoding/csv"
	"io"

	"runnel/export/cell"
	"runnel/export/record"
)

// table are the rows as CSV, all with the same columns.
type table struct {
	w    *csv.Writer
	head []string
}

func newTable(out io.Writer, u record.Units) (*table, error) {
	t := &table{w: csv.NewWriter(out), head: columns(u)}
	return t, t.w.Write(t.head)
}

func (t *table) row(e *entry) error {
	line := []string{string(record.AppendNumber(nil, float64(e.number), 0))}
	for _, name := range t.head[1:] {
		line = append(line, cell.Text(e.outline.Properties.Value(name)))
	}
	return t.w.Write(line)
}

func (t *table) end() error {
	t.w.Flush()
	return t.w.Error()
}
