package export

import (
	"io"

	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/staged"
	"runnel/export/taped"
)

// TapeOutputs returns the files of the given kinds of a roof that was measured with tape, chalk and ruler: of the set-out kind the spots to
// read next. The error is a *sheet.FitError where the plan does not fit on its sheet at the scale asked for.
func TapeOutputs(b *taped.Book, kinds []Kind, stem string, o drawing.Options) ([]staged.Output, error) {
	t := tapeOrder{book: b, stem: stem, plan: o}
	return t.outputs(kinds)
}

// TapeNames returns the names of the files of TapeOutputs.
func TapeNames(stem string, kinds []Kind) []string {
	t := tapeOrder{stem: stem}
	all, _ := t.outputs(kinds) // only a drawing fails, and none is made for its name
	return names(all)
}

func (o *tapeOrder) file(ending string, write func(io.Writer, *taped.Book) error) ([]staged.Output, error) {
	return []staged.Output{{Name: o.stem + ending, Write: func(w io.Writer) error { return write(w, o.book) }}}, nil
}

func tapedMap(o *tapeOrder) ([]staged.Output, error) { return o.file(localEnd+mapEnd, taped.WriteMap) }

func tapedSummary(o *tapeOrder) ([]staged.Output, error) {
	return o.file(summaryEnd, taped.WriteSummary)
}

func tapedNext(o *tapeOrder) ([]staged.Output, error) { return o.file(nextCSV, taped.WriteNext) }

func tapedPlan(o *tapeOrder) (files []staged.Output, err error) {
	var sheets []*scene.Scene
	if o.book != nil {
		sheets, err = taped.Plan(o.book, o.plan)
	}
	return drawn(o.stem, sheets), err
}
