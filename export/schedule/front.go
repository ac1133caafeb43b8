package schedule

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"runnel/analysis/choose"
	"runnel/analysis/standard"
	"runnel/export/cell"
	"runnel/export/record"
)

// frontWidths are the widths of the three columns of the first sheet [characters].
var frontWidths = []float64{30, 34, 62}

// front is the first sheet under construction: a name, a text and a remark in every row.
type front struct {
	*workbook
	w   *excelize.StreamWriter
	row int
	err error
}

// roof writes the first sheet: roof, survey, criteria with their sources, what was assumed, cautions.
func (k *workbook) roof() error {
	const sheet = "roof"
	if err := k.page(sheet, "portrait", frontWidths); err != nil {
		return err
	}
	w, err := k.NewStreamWriter(sheet)
	if err != nil {
		return err
	}
	f := &front{workbook: k, w: w}
	for i, width := range frontWidths {
		if err := w.SetColWidth(i+1, i+1, width); err != nil {
			return err
		}
	}
	if err := w.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	f.put(f.styles.title, "Schedule of the roof: outlets, ponds, planes, findings")
	if first, ok := k.book.KeepOff(); ok {
		f.wide(first.Say())
	}
	f.about()
	f.survey()
	f.criteria()
	f.list("Warnings", k.model.Warnings)
	f.list("Cautions", k.model.Cautions)
	f.heading("Verify on site")
	f.wide("Measured numbers are compared with limits. Verify on site before ordering or working from this schedule. " +
		"It does not say that the roof can carry the water: that is for a structural engineer.")
	if f.err != nil {
		return f.err
	}
	if err := k.printed(sheet, len(frontWidths), f.row); err != nil {
		return err
	}
	return w.Flush()
}

// put writes one row; texts beyond the first column are wrapped.
func (f *front) put(first int, texts ...string) {
	if f.err != nil {
		return
	}
	f.row++
	cells, lines := make([]any, len(texts)), 1.0
	for i, t := range texts {
		style := choose.If(i == 0, first, f.styles.wrap)
		if i > 0 {
			lines = max(lines, wrapped(t, frontWidths[i]))
		}
		cells[i] = excelize.Cell{StyleID: style, Value: cell.Text(t)}
	}
	height := rowHeight(lines)
	if first == f.styles.title {
		height = 24
	}
	f.err = f.w.SetRow(fmt.Sprintf("A%d", f.row), cells, excelize.RowOpts{Height: height})
}

// entry writes a name, a text and a remark; nothing where the text is empty.
func (f *front) entry(name, text, remark string) {
	if text != "" {
		f.put(f.styles.name, name, text, remark)
	}
}

func (f *front) heading(text string) {
	f.put(f.styles.line, "")
	f.put(f.styles.head, text)
}

// wide writes a sentence over all columns.
func (f *front) wide(text string) {
	if f.err != nil {
		return
	}
	f.row++
	at := fmt.Sprintf("A%d", f.row)
	f.err = f.w.SetRow(at, []any{excelize.Cell{StyleID: f.styles.wrap, Value: cell.Text(text)}},
		excelize.RowOpts{Height: rowHeight(wrapped(text, frontWidths[0]+frontWidths[1]+frontWidths[2]))})
	if f.err == nil {
		f.err = f.w.MergeCell(at, fmt.Sprintf("C%d", f.row))
	}
}

func (f *front) list(heading string, texts []string) {
	if len(texts) == 0 {
		return
	}
	f.heading(heading)
	for _, t := range texts {
		f.wide(t)
	}
}

func (f *front) about() {
	b, s, u := f.book, f.book.Study, f.book.Units
	f.entry("Roof", s.Roof.Name, "")
	f.entry("Short name in ids", b.Names.Roof, "")
	f.entry("Building", s.Roof.Building, "")
	f.entry("Surveyed", s.Roof.Surveyed, "")
	files := make([]string, len(s.Roof.Inputs))
	for i := range files {
		files[i] = s.Roof.Inputs[i].Path
	}
	f.entry("Read from", strings.Join(files, ", "), "")
	f.entry("Net area", u.SayArea(b.Area), "outline less curbs")
	if b.Undrained > 0 {
		f.entry("No way out at any level", u.SayArea(b.Undrained), "")
	}
	f.entry("Flatter than the criterion", record.SayShare(s.Slopes.BelowMinShare), "share of the area, by plane")
	water, weight := 0.0, 0.0
	for i := range s.Listed {
		water += s.Ponds.Ponds[s.Listed[i].Pond].Area
		weight += s.Listed[i].Weight
	}
	if doubt := b.Unresolved(); doubt != "" {
		defer f.entry("In doubt", doubt, "")
	}
	if len(s.Listed) == 0 {
		f.entry("Ponds", b.Ponds(), "")
		return
	}
	f.entry("Ponds", fmt.Sprintf("%d; %s and %s of water in all", len(s.Listed), u.SayArea(water), u.SayMass(weight)), "each full to its lip")
}

func (f *front) survey() {
	s, u := f.book.Study, f.book.Units
	f.heading("Survey")
	f.entry("Drawn through", f.book.Spots(), "about "+u.SayLength(s.Survey.Spacing)+" apart; between them heights run straight")
	f.entry("A height is good to", u.SayDepth(s.Survey.Sigma), f.book.SurveyError())
	if s.Survey.AssumedShare > 0 {
		f.entry("Edge heights assumed", record.SayShare(s.Survey.AssumedShare)+" of the roof", "not measured")
	}
	if n := s.Survey.InvertsAssumed; n > 0 {
		f.entry("Inlet levels assumed", fmt.Sprint(n), "not measured")
	}
	if s.Survey.EdgesAssumed {
		f.entry("Edges", "taken as walls", "nothing states what they are")
	}
}

// criteria writes each limit in force and where it comes from.
func (f *front) criteria() {
	c, u := f.book.Study.Criteria, f.book.Units
	d := standard.DefaultsOf(c.Practice)
	f.heading("Criteria, and where each comes from")
	for _, k := range []struct {
		name, head, text string
		stated           bool
	}{
		{"min_slope", "Least slope, as found", u.SaySlope(c.MinSlope), c.MinSlope != d.MinSlope},
		{standard.MinSlopeNewName, "Least slope, new work", u.SaySlope(c.MinSlopeNew), c.MinSlopeNew != d.MinSlopeNew},
		{"min_valley_slope", "Least slope of valleys", u.SaySlope(c.MinValleySlope), c.MinValleySlope != d.MinValleySlope},
		{
			"pond_depth", "Ponds listed from", u.SayDepth(c.PondDepth) + ", or from " + u.SayDepth(c.PondDepthWide) + " over " +
				u.SayArea(c.WideArea) + " or more", c.PondDepth != d.PondDepth,
		},
		{"near_outlet", "Near an outlet means within", u.SayLength(c.NearOutlet), c.NearOutlet != d.NearOutlet},
	} {
		f.entry(k.head, k.text, f.book.CiteCriterion(k.name, !k.stated))
	}
	if c.MaxTravel > 0 {
		f.entry("Longest way of water", u.SayLength(c.MaxTravel), f.book.CiteCriterion("max_travel", false))
	}
}
