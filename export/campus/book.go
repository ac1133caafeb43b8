package campus

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"github.com/xuri/excelize/v2"

	"runnel/analysis/choose"
	"runnel/analysis/inspection"
	"runnel/export/caution"
	"runnel/export/cell"
	"runnel/export/record"
	"runnel/export/schedule"
)

// mostInBook is how many roofs the workbook lists: its parts are packed in memory, and nobody reads more in a spreadsheet. The table in
// CSV has all.
const mostInBook = 10000

// book is the workbook: a sheet of roofs that can be filtered, and one that says how they are ordered.
type book struct {
	out   io.Writer
	file  *excelize.File
	w     *excelize.StreamWriter
	head  []string
	total *Total
	Options
	plain, bold int // styles
	written     int
}

// widths of the columns of texts; numbers take the usual one.
var widths = map[string]float64{"rank": 6, "name": 28, "building": 24, "files": 22, "what": 60, "worst": 22, "reason": 60, "surveyed": 12}

const usualWidth = 13

func newBook(out io.Writer, total *Total, o Options) (sink, error) {
	b := &book{out: out, file: excelize.NewFile(), head: columns(o.Units), total: total, Options: o}
	return b, b.begin()
}

func (b *book) begin() error {
	err := b.file.SetDocProps(&excelize.DocProperties{Created: schedule.Created, Modified: schedule.Created, Creator: "runnel", LastModifiedBy: "runnel"})
	if err != nil {
		return err
	}
	if err := b.file.SetSheetName("Sheet1", "roofs"); err != nil {
		return err
	}
	if b.plain, err = b.file.NewStyle(&excelize.Style{Font: &excelize.Font{Family: "Arial", Size: 10}, Alignment: &excelize.Alignment{Vertical: "top"}}); err != nil {
		return err
	}
	if b.bold, err = b.file.NewStyle(&excelize.Style{
		Font: &excelize.Font{Family: "Arial", Size: 10, Bold: true}, Alignment: &excelize.Alignment{Vertical: "top", WrapText: true},
		Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"E2E2E8"}},
	}); err != nil {
		return err
	}
	if b.w, err = b.file.NewStreamWriter("roofs"); err != nil {
		return err
	}
	for i, name := range b.head {
		width := cmp.Or(widths[name], usualWidth)
		if err := b.w.SetColWidth(i+1, i+1, width); err != nil {
			return err
		}
	}
	if err := b.w.SetPanes(&excelize.Panes{Freeze: true, XSplit: 2, YSplit: 1, TopLeftCell: "C2", ActivePane: "bottomRight"}); err != nil {
		return err
	}
	cells := make([]any, len(b.head))
	for i, name := range b.head {
		cells[i] = excelize.Cell{StyleID: b.bold, Value: strings.ReplaceAll(name, "_", " ")}
	}
	return b.w.SetRow("A1", cells, excelize.RowOpts{Height: 30})
}

func (b *book) row(e *entry) error {
	if e.number > mostInBook {
		return nil
	}
	b.written = e.number
	cells := make([]any, len(b.head))
	cells[0] = excelize.Cell{StyleID: b.plain, Value: e.number}
	for i, name := range b.head[1:] {
		if f := e.outline.Properties.Fact(name); f != nil {
			cells[i+1] = excelize.Cell{StyleID: b.plain, Value: valueOf(f)}
		}
	}
	return b.w.SetRow(fmt.Sprintf("A%d", e.number+1), cells)
}

func valueOf(f *record.Fact) any {
	switch f.Kind {
	case record.NumberFact:
		return f.Rounded()
	case record.TruthFact:
		return f.True
	case record.TextFact, record.ListFact, record.JSONFact:
	}
	return cell.Text(f.Plain())
}

func (b *book) end() error {
	if b.written > 0 {
		last, err := excelize.CoordinatesToCellName(len(b.head), b.written+1)
		if err != nil {
			return err
		}
		if err := b.w.AddTable(&excelize.Table{Range: "A1:" + last, Name: "roofs", StyleName: "TableStyleLight1"}); err != nil {
			return err
		}
	}
	if err := b.w.Flush(); err != nil {
		return err
	}
	if err := b.about(); err != nil {
		return err
	}
	b.file.SetZipWriter(schedule.NewArchive)
	if err := b.file.Write(b.out); err != nil {
		return fmt.Errorf("pack the workbook: %w", err)
	}
	return b.file.Close()
}

// about writes the second sheet.
func (b *book) about() error {
	if _, err := b.file.NewSheet("about"); err != nil {
		return err
	}
	texts := []string{fmt.Sprintf("Roofs checked: %s. Could not be checked: %s.", count(b.total.Roofs-b.total.Failed), count(b.total.Failed)), b.Rank.Say()}
	if more := b.total.Roofs - mostInBook; more > 0 {
		texts = append(texts, fmt.Sprintf("And %s less bad %s in %s.", count(more), choose.If(more == 1, "roof", "roofs"), tableName))
	}
	texts = append(texts, "This does not say that any roof can carry the water: that is for a structural engineer.")
	texts = append(texts, caution.Texts(inspection.Everywhere())...)
	wrap, err := b.file.NewStyle(&excelize.Style{Font: &excelize.Font{Family: "Arial", Size: 10}, Alignment: &excelize.Alignment{Vertical: "top", WrapText: true}})
	if err != nil {
		return err
	}
	if err := b.file.SetColWidth("about", "A", "A", 110); err != nil {
		return err
	}
	for i, text := range texts {
		at := fmt.Sprintf("A%d", i+1)
		if err := b.file.SetCellStr("about", at, cell.Text(text)); err != nil {
			return err
		}
		if err := b.file.SetCellStyle("about", at, at, wrap); err != nil {
			return err
		}
	}
	return nil
}
