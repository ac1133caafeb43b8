package schedule

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"runnel/analysis/gather"
	"runnel/export/caution"
	"runnel/export/model"
	"runnel/export/record"
)

// styles are the numbers of the cell styles; of numbers one for each count of decimals.
type styles struct {
	head, line, wrap, title, name, whole int
	numbers                              [4]int
}

func (k *workbook) makeStyles() error {
	font := &excelize.Font{Family: "Arial", Size: 10}
	bold := &excelize.Font{Family: "Arial", Size: 10, Bold: true}
	top := &excelize.Alignment{Vertical: "top"}
	side := &excelize.Alignment{Vertical: "top", Horizontal: "left", Indent: 1} // off the number in the column before
	wrap := &excelize.Alignment{Vertical: "top", WrapText: true, Horizontal: "left", Indent: 1}
	grey := excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"E2E2E8"}}
	under := []excelize.Border{{Type: "bottom", Color: "28002F", Style: 1}}
	s := &k.styles
	for _, p := range []struct {
		at    *int
		style excelize.Style
	}{
		{&s.head, excelize.Style{Font: bold, Fill: grey, Border: under, Alignment: &excelize.Alignment{Vertical: "center", Horizontal: "left", Indent: 1, WrapText: true}}},
		{&s.line, excelize.Style{Font: font, Alignment: side}},
		{&s.wrap, excelize.Style{Font: font, Alignment: wrap}},
		{&s.title, excelize.Style{Font: &excelize.Font{Family: "Arial", Size: 14, Bold: true}}},
		{&s.name, excelize.Style{Font: bold, Alignment: wrap}},
		{&s.whole, excelize.Style{Font: font, Alignment: &excelize.Alignment{Vertical: "top", Horizontal: "right"}}},
	} {
		id, err := k.NewStyle(&p.style)
		if err != nil {
			return err
		}
		*p.at = id
	}
	for i := range s.numbers {
		format := "#,##0"
		if i > 0 {
			format += "." + strings.Repeat("0", i)
		}
		id, err := k.NewStyle(&excelize.Style{Font: font, Alignment: top, CustomNumFmt: &format})
		if err != nil {
			return err
		}
		s.numbers[i] = id
	}
	return nil
}

// readable is how many characters a line on a landscape page may have and still be read: about 6 points where the letters are 10.
const readable = 215.0

// page sets how a sheet with columns of these widths prints: on its side, so many pages wide that it can be read, with a line of caution.
// It comes before the first row.
func (k *workbook) page(sheet, side string, widths []float64) error {
	fit, wide, high, size := true, 1, 0, 9 // A4
	if side == "landscape" {
		total := gather.Sum(widths, func(w float64) float64 { return w })
		wide = int(math.Ceil(total / readable))
	}
	if k.book.Units == record.US {
		size = 1 // letter
	}
	if err := k.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	err := k.SetPageLayout(sheet, &excelize.PageLayoutOptions{Orientation: &side, Size: &size, FitToWidth: &wide, FitToHeight: &high})
	if err != nil {
		return err
	}
	return k.SetHeaderFooter(sheet, &excelize.HeaderFooterOptions{
		OddFooter: "&L&9" + caution.Off + " Verify on site. The cautions stand on the first sheet.&C&9" + sheet + "&R&9&P of &N",
	})
}

// printed sets which cells of a sheet print, and that its heading and its first column stand on every page.
func (k *workbook) printed(sheet string, columns, rows int) error {
	last, err := excelize.ColumnNumberToName(columns)
	if err != nil {
		return err
	}
	for _, n := range []excelize.DefinedName{
		{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("%s!$A:$A,%s!$1:$1", sheet, sheet), Scope: sheet},
		{Name: "_xlnm.Print_Area", RefersTo: fmt.Sprintf("%s!$A$1:$%s$%d", sheet, last, rows), Scope: sheet},
	} {
		if err := k.SetDefinedName(&n); err != nil {
			return err
		}
	}
	return nil
}

func (k *workbook) table(t *table) error {
	if _, err := k.NewSheet(t.name); err != nil {
		return err
	}
	widths := make([]float64, len(t.columns))
	for i := range widths {
		widths[i] = t.columns[i].width
	}
	if err := k.page(t.name, "landscape", widths); err != nil {
		return err
	}
	if err := k.printed(t.name, len(widths), max(t.rows, 1)+1); err != nil {
		return err
	}
	w, err := k.NewStreamWriter(t.name)
	if err != nil {
		return err
	}
	if err := w.SetPanes(&excelize.Panes{Freeze: true, XSplit: 1, YSplit: 1, TopLeftCell: "B2", ActivePane: "bottomRight"}); err != nil {
		return err
	}
	head, lines := make([]any, len(t.columns)), 1.0
	for i := range t.columns {
		lines = max(lines, wrapped(t.columns[i].head, t.columns[i].width))
		if err := w.SetColWidth(i+1, i+1, t.columns[i].width); err != nil {
			return err
		}
		head[i] = excelize.Cell{StyleID: k.styles.head, Value: t.columns[i].head}
	}
	if err := w.SetRow("A1", head, excelize.RowOpts{Height: max(45, rowHeight(lines))}); err != nil {
		return err
	}
	if t.rows == 0 {
		if err := w.SetRow("A2", []any{excelize.Cell{StyleID: k.styles.line, Value: model.Nothing}}); err != nil {
			return err
		}
	}
	var o record.Object
	for i := range t.rows {
		cells := t.row(&o, i)
		line, height := k.line(t, cells)
		if err := w.SetRow("A"+strconv.Itoa(i+2), line, excelize.RowOpts{Height: height}); err != nil {
			return err
		}
	}
	return w.Flush()
}

// line returns the cells of one row and how high the row is, so that wrapped sentences show whole.
func (k *workbook) line(t *table, cells []value) ([]any, float64) {
	line, lines := make([]any, len(cells)), 1.0
	for i, v := range cells {
		c := &t.columns[i]
		switch {
		case v.is == number:
			line[i] = excelize.Cell{StyleID: k.styles.numbers[c.places], Value: v.number}
		case v.text == "":
		case c.kind == prose:
			line[i] = excelize.Cell{StyleID: k.styles.wrap, Value: v.text}
			lines = max(lines, wrapped(v.text, c.width))
		case strings.HasSuffix(c.name, "_eighths"):
			line[i] = excelize.Cell{StyleID: k.styles.whole, Value: v.text}
		default:
			line[i] = excelize.Cell{StyleID: k.styles.line, Value: v.text}
		}
	}
	return line, rowHeight(lines)
}

// wrapped returns about how many lines a text takes in a column of that width.
func wrapped(text string, width float64) float64 {
	return math.Ceil(float64(utf8.RuneCountInString(text)) * 1.15 / width)
}

// rowHeight returns the height of so many lines [points], at most what a sheet takes.
func rowHeight(lines float64) float64 { return min(400, 2+13*lines) }
