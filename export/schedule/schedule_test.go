package schedule_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/cmd/demo"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/schedule"
	"runnel/export/summary"
	"runnel/importer"
)

// books returns the invented roofs, each in one set of units, in turn, and the sample in both.
func books(t *testing.T) []*record.Book {
	t.Helper()
	dir := t.TempDir()
	if _, err := demo.Write(dir, true); err != nil {
		t.Fatal(err)
	}
	roofs, err := importer.Campus([]string{dir}, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	all := []*record.Book{
		record.NewBook(sample.Study(sample.Local()), "", record.SI), record.NewBook(sample.Study(sample.Feet()), "", record.US),
		record.NewBook(sample.Storm(sample.Local()), "", record.SI), record.NewBook(sample.Storm(sample.Feet()), "", record.US),
	}
	for job := range roofs.All() {
		r, err := job.Read()
		if err != nil {
			t.Fatal(err)
		}
		s, err := study.Run(r, study.Options{})
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, record.NewBook(s, "", record.Units(len(all)%2)))
	}
	if len(all) < 10 {
		t.Fatalf("only %d roofs", len(all))
	}
	return all
}

func write(t *testing.T, b *record.Book) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := schedule.Write(&out, model.Of(b)); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func open(t *testing.T, b *record.Book) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(write(t, b)))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	return f
}

func csvRows(t *testing.T, b *record.Book, name string) [][]string {
	t.Helper()
	var out bytes.Buffer
	if err := schedule.WriteTable(&out, b, name); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// Every number of the summary's outlets, ponds and findings stands in the workbook and in the CSV files, under the same name, as a
// number and not as text.
func TestNumbersAreThoseOfTheSummary(t *testing.T) {
	for _, b := range books(t) {
		f := open(t, b)
		var want map[string]json.RawMessage
		text, err := summary.Build(model.Of(b)).MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(text, &want); err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{"outlets", "ponds", "findings"} {
			var objects []map[string]any
			if err := json.Unmarshal(want[name], &objects); err != nil {
				t.Fatal(err)
			}
			compare(t, f, name, csvRows(t, b, name), objects)
		}
		if b.Study.Storm == nil {
			continue
		}
		var rain struct {
			Sills []map[string]any
			Storm struct{ Cases []map[string]any }
		}
		if err := json.Unmarshal(text, &rain); err != nil {
			t.Fatal(err)
		}
		if len(rain.Sills) == 0 || len(rain.Storm.Cases) < 3 {
			t.Fatalf("%d sills and %d cases", len(rain.Sills), len(rain.Storm.Cases))
		}
		for i := range rain.Storm.Cases {
			delete(rain.Storm.Cases[i], "mass_error") // of the computation, not of the roof
		}
		compare(t, f, "sills", csvRows(t, b, "sills"), rain.Sills)
		compare(t, f, "storm", csvRows(t, b, "storm"), rain.Storm.Cases)
	}
}

// roundings is the step to which a column is written, by the unit in its name: a millimetre, a hundredth of an inch, a decimetre of way, a
// litre and so on; 0.1 where no unit says otherwise.
func roundings(column string) float64 {
	column = strings.TrimSuffix(strings.TrimSuffix(column, "_95"), "_5") // bounds are written as what they bound
	for suffix, step := range map[string]float64{
		"_mm": 1, "_l": 1, "_gal": 1, "_kg": 1, "_lb": 1, "_deg": 1, "_mm_per_h": 1, "_gpm": 1,
	} {
		if strings.HasSuffix(column, suffix) {
			return step
		}
	}
	return 0.1
}

// compare looks for every number of objects in the sheet and in the rows of the CSV file.
func compare(t *testing.T, f *excelize.File, name string, rows [][]string, objects []map[string]any) {
	t.Helper()
	sheet, err := f.GetRows(name, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(objects) == 0 && (len(sheet) != 2 || sheet[1][0] != model.Nothing) {
		t.Errorf("%s does not say that there are none: %q", name, sheet)
	}
	if len(sheet) != max(1, len(objects))+1 || len(rows) != len(objects)+1 {
		t.Fatalf("%s: %d and %d rows for %d objects", name, len(sheet), len(rows), len(objects))
	}
	for i, o := range objects {
		for k, column := range rows[0] {
			switch v := o[column].(type) {
			case float64:
				if got, err := strconv.ParseFloat(rows[i+1][k], 64); err != nil || !(math.Abs(got-v) <= 0.5001*roundings(column)) {
					t.Errorf("%s: %s of row %d in CSV is %q, want %v", name, column, i+1, rows[i+1][k], v)
				}
				at, _ := excelize.CoordinatesToCellName(k+1, i+2)
				if kind, err := f.GetCellType(name, at); err != nil || kind != excelize.CellTypeUnset && kind != excelize.CellTypeNumber {
					t.Errorf("%s %s is no number: %v, %v", name, at, kind, err)
				}
				if got, err := strconv.ParseFloat(sheet[i+1][k], 64); err != nil || got != v {
					t.Errorf("%s %s is %q, want %v", name, at, sheet[i+1][k], v)
				}
			case string:
				if got := rows[i+1][k]; got != v && got != "'"+v {
					t.Errorf("%s: %s of row %d is %q, want %q", name, column, i+1, got, v)
				}
			}
		}
		for member, v := range o {
			if _, is := v.(float64); is && !strings.HasPrefix(member, "measured_") && !strings.HasPrefix(member, "required_") {
				if !strings.Contains(strings.Join(rows[0], " "), member) {
					t.Errorf("%s has no column for %s", name, member)
				}
			}
		}
	}
}

// A pond 20 mm deep is 0.787 in deep, 3/4 in to the nearest eighth (by hand: 20/25.4*8 = 6.3 eighths); the plane of 2 % with a
// cross-fall of 0.5 % has a slope of sqrt(2^2+0.5^2) = 2.0616 %, as the sample is made.
func TestHandNumbers(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Feet()), "", record.US)
	ponds := csvRows(t, b, "ponds")
	if got := field(ponds, "depth_in"); got != "0.79" {
		t.Errorf("depth is %s in", got)
	}
	if got := field(ponds, "depth_eighths"); got != `3/4"` {
		t.Errorf("depth is %s", got)
	}
	steepest := ""
	for _, row := range csvRows(t, b, "planes")[1:] {
		steepest = max(steepest, row[1])
	}
	if steepest != "2.06" {
		t.Errorf("steepest plane falls %s %%", steepest)
	}
}

// The water of the sample: over a low line of 2 % on both sides that falls at 0.5 % to the drain, 20 mm cover a rhombus of half 1 m by 4 m: 8 m2, and
// a third of 8 x 0.020 m3, 53 kg (by hand).
func TestWaterOnTheFirstSheet(t *testing.T) {
	rows, err := open(t, record.NewBook(sample.Study(sample.Local()), "", record.SI)).GetRows("roof")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		if len(row) > 1 && row[0] == "Ponds" {
			if want := "1; 8.0 m² and 53 kg of water in all"; row[1] != want {
				t.Errorf("%q, want %q", row[1], want)
			}
			return
		}
	}
	t.Error("no line of ponds")
}

func field(rows [][]string, name string) string {
	for k := range rows[0] {
		if rows[0][k] == name {
			return rows[1][k]
		}
	}
	return "no column " + name
}

func TestSameBytesEveryTime(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	want := write(t, b)
	for range 20 {
		if !bytes.Equal(write(t, b), want) {
			t.Fatal("the workbook differs from run to run")
		}
	}
}

func TestHeadingsStayAndTellUnits(t *testing.T) {
	for u, unit := range map[record.Units]string{record.SI: "depth when full (mm)", record.US: "depth when full (in)"} {
		b := record.NewBook(sample.Storm(sample.Local()), "", u)
		f := open(t, b)
		if got := schedule.Tables(b); !slices.Equal(got, schedule.AllTables()) {
			t.Errorf("tables %q under a storm, want %q", got, schedule.AllTables())
		}
		for _, name := range schedule.Tables(b) {
			panes, err := f.GetPanes(name)
			if err != nil || !panes.Freeze || panes.YSplit != 1 {
				t.Errorf("%s: heading is not frozen: %+v, %v", name, panes, err)
			}
		}
		head, err := f.GetRows("ponds")
		if err != nil || !strings.Contains(strings.Join(head[0], "|"), unit) {
			t.Errorf("no %q in %q, %v", unit, head[0], err)
		}
	}
}

// The first sheet names the roof, each criterion with its source, every caution, and says to verify on site.
func TestFirstSheet(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	f := open(t, b)
	if got := f.GetSheetList(); strings.Join(got, " ") != "roof outlets ponds planes findings cores" {
		t.Errorf("sheets %v", got)
	}
	rows, err := f.GetRows("roof")
	if err != nil {
		t.Fatal(err)
	}
	all := fmt.Sprint(rows)
	if n := b.Study.Survey.InvertsAssumed; strings.Contains(all, "Inlet levels assumed") != (n > 0) {
		t.Errorf("%d inlets are assumed, the first sheet says: %s", n, all)
	}
	for _, want := range []string{
		"Sample roof 1", "Sample house", "2026-05-02", "77", "International Building Code, section 1507", "common practice, no source",
		"Nobody goes onto a deep pond", "Cut no deck, joist, beam or parapet", "Local code governs", "Verify on site", "structural engineer",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("no %q on the first sheet", want)
		}
	}
}

// Sheets stand for what was surveyed: without cores there is none of them, with a storm one more, and one for sills where there are any.
func TestSheetsOfWhatThereIs(t *testing.T) {
	bare := sample.Local()
	bare.Cores = nil
	for want, s := range map[string]*study.Study{
		"roof outlets ponds planes findings":                   sample.Study(bare),
		"roof outlets ponds planes findings storm sills cores": sample.Storm(sample.Local()),
	} {
		if got := strings.Join(open(t, record.NewBook(s, "", record.SI)).GetSheetList(), " "); got != want {
			t.Errorf("sheets %q, want %q", got, want)
		}
	}
}

// What the survey leaves in doubt stands on the first sheet in the words of every output, and no such line where nothing is in doubt.
func TestDoubtOnTheFirstSheet(t *testing.T) {
	for _, count := range []int{0, 2} {
		b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
		b.Study.Unresolved.Count = count
		rows, err := open(t, b).GetRows("roof")
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, row := range rows {
			if len(row) > 1 && row[0] == "In doubt" {
				got = row[1]
			}
		}
		if got != b.Unresolved() || (got != "") != (count > 0) {
			t.Errorf("%d low places: %q, want %q", count, got, b.Unresolved())
		}
	}
}

// hostile is the sample with names that a spreadsheet, a browser or a terminal might act on.
func hostile() *roof.Roof {
	r := sample.Local()
	r.Name = `=cmd|'/C calc'!A1`
	r.Building = "\u202e<script>alert(1)</script>"
	r.Outlets[0].Label = "@SUM(1+1)*cmd|' /C calc'!A0"
	r.Outlets[1].Label = "\t=1+1"
	r.Cores[0].ID, r.Cores[0].Deck = "=1+1\x1b[31m", "@SUM(1+1)"
	r.Cores[0].Layers[0].Material, r.Cores[0].Layers[1].Condition = "=cmd|' /C calc'!A0", "+1"
	r.Curbs[0].Label = strings.Repeat("x", 10_000)
	r.Inputs[0].Path = `"><img onerror=alert(1)>.csv`
	r.Warnings = []string{"+1\r\n=2\x00\x1b[31m"}
	return r
}

func TestHostileNamesStayTexts(t *testing.T) {
	for _, u := range []record.Units{record.SI, record.US} {
		b := record.NewBook(sample.Storm(hostile()), "", u)
		data := write(t, b)
		noFormula(t, data)
		f, err := excelize.OpenReader(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		for _, sheet := range f.GetSheetList() {
			rows, err := f.GetRows(sheet)
			if err != nil {
				t.Fatal(err)
			}
			for _, row := range rows {
				harmless(t, sheet, row)
			}
		}
		for _, name := range schedule.Tables(b) {
			for _, row := range csvRows(t, b, name) {
				harmless(t, name, row)
			}
		}
	}
}

// noFormula fails where a part of the workbook holds a formula, whatever the reader makes of it.
func noFormula(t *testing.T, data []byte) {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range z.File {
		part, err := file.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(part)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(text, []byte("<f>")) || bytes.Contains(text, []byte("<f ")) {
			t.Errorf("%s holds a formula", file.Name)
		}
	}
}

func harmless(t *testing.T, table string, row []string) {
	t.Helper()
	for _, c := range row {
		if _, err := strconv.ParseFloat(c, 64); err != nil && strings.IndexAny(c, "=+-@\t\r") == 0 {
			t.Errorf("%s: the cell %.40q begins like a formula", table, c)
		}
		if strings.ContainsAny(c, "\u202e\x00\x1b\r\n") {
			t.Errorf("%s: the cell %.40q holds control characters", table, c)
		}
	}
}

func TestSizesOfOutlets(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	rows := csvRows(t, b, "outlets")
	if got := field(rows, "diameter_mm"); got != "100" {
		t.Errorf("the drain's pipe is %s mm, want 100 as measured", got)
	}
	b.Study.Roof.Outlets[0].Diameter = 4 * quantity.Inch
	if got := field(csvRows(t, b, "outlets"), "diameter_mm"); got != "101.6" {
		t.Errorf("a pipe of 4 in is %s mm", got)
	}
}

func TestUnknownTable(t *testing.T) {
	if err := schedule.WriteTable(io.Discard, record.NewBook(sample.Study(sample.Local()), "", record.SI), "x"); err == nil {
		t.Error("no error")
	}
}

func BenchmarkWrite(b *testing.B) {
	k := record.NewBook(sample.Study(sample.Feet()), "", record.US)
	for b.Loop() {
		if err := schedule.Write(io.Discard, model.Of(k)); err != nil {
			b.Fatal(err)
		}
	}
}

// Every sheet prints all its cells and no more, its heading on every page, tables on their long side, and no line of a page is longer than
// can be read: letters of 10 points are then 6 points or more on letter and A4, whose lines hold about 130 of them.
func TestPrintedPages(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Local()), "", record.US)
	var out bytes.Buffer
	if err := schedule.Write(&out, model.Of(b)); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&out)
	if err != nil {
		t.Fatal(err)
	}
	areas, titles := map[string]string{}, map[string]string{}
	for _, n := range f.GetDefinedName() {
		switch n.Name {
		case "_xlnm.Print_Area":
			areas[n.Scope] = n.RefersTo
		case "_xlnm.Print_Titles":
			titles[n.Scope] = n.RefersTo
		}
	}
	for _, sheet := range f.GetSheetList() {
		dimension, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		columns, total := 0, 0.0
		for _, row := range dimension {
			columns = max(columns, len(row))
		}
		for c := 1; c <= columns; c++ {
			name, _ := excelize.ColumnNumberToName(c)
			w, _ := f.GetColWidth(sheet, name)
			total += w
		}
		last, _ := excelize.ColumnNumberToName(columns)
		if want := fmt.Sprintf("%s!$A$1:$%s$%d", sheet, last, len(dimension)); areas[sheet] != want {
			t.Errorf("%s prints %s, want %s", sheet, areas[sheet], want)
		}
		if want := sheet + "!$A:$A," + sheet + "!$1:$1"; titles[sheet] != want {
			t.Errorf("%s repeats %s, want %s", sheet, titles[sheet], want)
		}
		l, err := f.GetPageLayout(sheet)
		if err != nil {
			t.Fatal(err)
		}
		if (*l.Orientation == "landscape") == (sheet == "roof") {
			t.Errorf("%s prints %s", sheet, *l.Orientation)
		}
		if wide := float64(*l.FitToWidth); total/wide > 220 || wide > 1 && total/(wide-1) < 180 {
			t.Errorf("%s: %v characters on %v pages side by side", sheet, total, wide)
		}
	}
}
