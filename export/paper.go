//go:build !screen

package export

import (
	"io"
	"sync"

	"runnel/export/drawing/pdf"
	"runnel/export/drawing/scene"
	"runnel/export/paged"
	"runnel/export/schedule"
	"runnel/export/setout"
	"runnel/export/staged"
)

// planOnPaper is a drawing for paper.
func planOnPaper(stem string, sheets []*scene.Scene) []staged.Output {
	return []staged.Output{{Name: stem + ".plan.pdf", Write: func(w io.Writer) error { return pdf.Write(w, sheets...) }}}
}

func reportOnPaper(o *order) []staged.Output {
	return []staged.Output{{Name: o.Stem + ".report.pdf", Write: func(w io.Writer) error { return paged.Write(w, o.model) }}}
}

// scheduleFiles are the workbook and its tables.
func scheduleFiles(o *order) ([]staged.Output, error) {
	all := []staged.Output{{Name: o.Stem + ".schedule.xlsx", Write: func(w io.Writer) error { return schedule.Write(w, o.model) }}}
	tables := schedule.AllTables()
	if o.model != nil {
		tables = schedule.Tables(o.model.Book)
	}
	for _, name := range tables {
		all = append(all, staged.Output{Name: o.Stem + ".schedule." + name + ".csv", Write: func(w io.Writer) error {
			return schedule.WriteTable(w, o.model.Book, name)
		}})
	}
	return all, nil
}

// setOutFiles are the set-out sheet as a table and on paper, and where to shoot more spots.
func setOutFiles(o *order) ([]staged.Output, error) {
	sheet := sync.OnceValues(func() (*setout.Sheet, error) { return setout.New(o.model.Book, o.BenchMark) })
	with := func(write func(*setout.Sheet, io.Writer) error) func(io.Writer) error {
		return func(w io.Writer) error {
			s, err := sheet()
			if err != nil {
				return err
			}
			return write(s, w)
		}
	}
	return []staged.Output{
		{Name: o.Stem + ".setout.csv", Write: with((*setout.Sheet).WriteCSV)},
		{Name: o.Stem + ".setout.pdf", Write: with((*setout.Sheet).WritePDF)},
		{Name: o.Stem + nextCSV, Write: func(w io.Writer) error { return setout.WriteNextSpots(o.model.Book, w) }},
	}, nil
}
