package schedule

import (
	"encoding/csv"
	"fmt"
	"io"

	"runnel/analysis/gather"
	"runnel/export/record"
)

// WriteTable writes one of the tables as CSV; its heading has the names of the summary, each with its unit. Numbers are written to what they
// are good to: the summary and the map have all their digits.
func WriteTable(w io.Writer, b *record.Book, name string) error {
	for _, t := range tables(b) {
		if t.name == name {
			return t.csv(w)
		}
	}
	return fmt.Errorf("no table %q", name)
}

func (t *table) csv(out io.Writer) error {
	w := csv.NewWriter(out)
	line := gather.Each(t.columns, func(x column) string { return x.name })
	if err := w.Write(line); err != nil {
		return err
	}
	var o record.Object
	for i := range t.rows {
		cells := t.row(&o, i)
		for k := range cells {
			if line[k] = cells[k].text; cells[k].is == number && cells[k].text != "" {
				line[k] = string(record.AppendNumber(nil, cells[k].number, t.columns[k].places))
			}
		}
		if err := w.Write(line); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}
