package schedule_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"runnel/analysis/inspection"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/export/drawing/scene/scenetest"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/schedule"
)

// front returns the rows of the first sheet.
func front(t *testing.T, b *record.Book) [][]string {
	t.Helper()
	rows, err := open(t, b).GetRows("roof")
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// entry returns text and remark behind a name, and whether the name stands on the sheet.
func entry(rows [][]string, name string) (text, remark string, ok bool) {
	for _, row := range rows {
		if len(row) > 1 && row[0] == name {
			return row[1], strings.Join(row[2:], "|"), true
		}
	}
	return "", "", false
}

// limits are the criteria of the first sheet: how each is named, and what changes it alone.
var limits = []struct {
	head   string
	change func(c *standard.Criteria)
}{
	{"Least slope, as found", func(c *standard.Criteria) { c.MinSlope = 0.03 }},
	{"Least slope, new work", func(c *standard.Criteria) { c.MinSlopeNew = 0.04 }},
	{"Least slope of valleys", func(c *standard.Criteria) { c.MinValleySlope = 0.015 }},
	{"Ponds listed from", func(c *standard.Criteria) { c.PondDepth = 0.008 }},
	{"Near an outlet means within", func(c *standard.Criteria) { c.NearOutlet = 2.5 }},
}

// A limit that is stated for the roof says so, and what is usual; the others name their sources and are not said to be stated.
func TestWhereEachLimitComesFrom(t *testing.T) {
	for k, limit := range limits {
		s := sample.Study(sample.Local())
		s.Criteria = standard.DefaultsOf(s.Criteria.Practice)
		limit.change(&s.Criteria)
		rows := front(t, record.NewBook(s, "", record.SI))
		for i, other := range limits {
			_, remark, ok := entry(rows, other.head)
			if !ok || strings.HasPrefix(remark, "stated for this roof") != (i == k) || remark == "" {
				t.Errorf("with %q stated: %q is from %q", limit.head, other.head, remark)
			}
		}
		if _, _, ok := entry(rows, "Longest way of water"); ok {
			t.Error("a longest way is said of which nobody stated any")
		}
	}
	s := sample.Study(sample.Local())
	s.Criteria.MaxTravel = 30.48
	rows := front(t, record.NewBook(s, "", record.US))
	if text, remark, _ := entry(rows, "Longest way of water"); text != "100 ft" || !strings.HasPrefix(remark, "stated for this roof") {
		t.Errorf("longest way: %q, %q", text, remark)
	}
	s.Criteria.PondDepth, s.Criteria.PondDepthWide, s.Criteria.WideArea = 0.0127, 0.003175, 9.290304
	if text, _, _ := entry(front(t, record.NewBook(s, "", record.US)), "Ponds listed from"); text != `1/2", or from 1/8" over 100 sq ft or more` {
		t.Errorf("ponds listed from %q", text)
	}
}

// What is not measured but assumed stands on the first sheet, and only that.
func TestWhatTheFirstSheetSaysIsAssumed(t *testing.T) {
	for name, c := range map[string]struct {
		set  func(s *study.Study)
		text string
	}{
		"Edge heights assumed":    {func(s *study.Study) { s.Survey.AssumedShare = 0.25 }, "25 % of the roof"},
		"Inlet levels assumed":    {func(s *study.Study) { s.Survey.InvertsAssumed = 1 }, "1"},
		"Edges":                   {func(s *study.Study) { s.Survey.EdgesAssumed = true }, "taken as walls"},
		"No way out at any level": {func(s *study.Study) { s.Ponds.Ponds[0].Undrained = true }, ""},
	} {
		s := sample.Study(sample.Local())
		s.Survey.AssumedShare, s.Survey.InvertsAssumed, s.Survey.EdgesAssumed = 0, 0, false
		if _, _, ok := entry(front(t, record.NewBook(s, "", record.SI)), name); ok {
			t.Errorf("%s stands where all is measured", name)
		}
		c.set(s)
		b := record.NewBook(s, "", record.SI)
		if name == "No way out at any level" {
			b.Undrained, c.text = 0.84, "0.8 m²"
		}
		if text, _, ok := entry(front(t, b), name); !ok || text != c.text {
			t.Errorf("%s: %q, %v; want %q", name, text, ok, c.text)
		}
	}
}

// Whoever is to keep off the roof reads that in the second row, over all columns.
func TestKeepOffStandsBelowTheTitle(t *testing.T) {
	s := sample.Study(sample.Local())
	s.KeepOff.Reasons = nil
	if rows := front(t, record.NewBook(s, "", record.SI)); rows[1][0] != "Roof" {
		t.Errorf("below the title stands %q", rows[1][0])
	}
	s.KeepOff.Reasons = []inspection.Reason{{}}
	b := record.NewBook(s, "", record.SI)
	f := open(t, b)
	rows, err := f.GetRows("roof")
	if err != nil || !strings.Contains(rows[1][0], "Keep off, and call a structural engineer today") {
		t.Errorf("below the title stands %q, %v", rows[1][0], err)
	}
	merged, err := f.GetMergeCells("roof")
	if err != nil || len(merged) == 0 || merged[0].GetStartAxis() != "A2" || merged[0].GetEndAxis() != "C2" {
		t.Errorf("merged %v, %v", merged, err)
	}
}

// rangeOf returns 0 to n - 1.
func rangeOf(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// The sums of the first sheet are those of the rows of the table of ponds, to what these are rounded to.
func TestSumsOfTheFirstSheet(t *testing.T) {
	for _, b := range books(t) {
		text, _, ok := entry(front(t, b), "Ponds")
		if !ok {
			t.Fatal("no line of ponds")
		}
		if len(b.Study.Listed) == 0 {
			if text != b.Ponds() {
				t.Errorf("of no ponds: %q", text)
			}
			continue
		}
		if slices.ContainsFunc(rangeOf(len(b.Study.Listed)), b.Barely) {
			continue // whose figures stand as ranges
		}
		f := open(t, b)
		rows, err := f.GetRows("ponds")
		if err != nil {
			t.Fatal(err)
		}
		sum := func(column string) (total float64) {
			for i := 1; i < len(rows); i++ {
				k := slices.IndexFunc(rows[0], func(h string) bool { return strings.HasPrefix(h, column+" (") })
				v, err := strconv.ParseFloat(strings.ReplaceAll(rows[i][k], ",", ""), 64)
				if err != nil {
					t.Fatalf("%s: %q", column, rows[i][k])
				}
				total += v
			}
			return total
		}
		var n int
		var area, weight float64
		bare := strings.NewReplacer(",", "", " m²", "", " sq ft", "", " kg", "", " lb", "").Replace(text)
		if _, err := fmt.Sscanf(bare, "%d; %f and %f of water in all", &n, &area, &weight); err != nil {
			t.Fatalf("%q: %v", bare, err)
		}
		count := float64(len(rows) - 1)
		if float64(n) != count || !(math.Abs(area-sum("area")) <= 0.5+0.05*count+0.01) || !(math.Abs(weight-sum("weight")) <= 0.5+0.5*count+0.01) {
			t.Errorf("%q; the rows sum to %v and %v", text, sum("area"), sum("weight"))
		}
	}
}

// A sentence of 100 letters in a column of 34 takes about 100 x 1.15 / 34 = 3.4, so 4 lines of 13 points and 2 to spare: 54; no row is higher than 400.
func TestRowsAreAsHighAsTheirTexts(t *testing.T) {
	for letters, want := range map[int]float64{1: 15, 29: 15, 30: 28, 100: 54, 5000: 400} {
		s := sample.Study(sample.Local())
		s.Roof.Building = strings.Repeat("x", letters)
		f := open(t, record.NewBook(s, "", record.SI))
		rows, err := f.GetRows("roof")
		if err != nil {
			t.Fatal(err)
		}
		at := slices.IndexFunc(rows, func(row []string) bool { return len(row) > 0 && row[0] == "Building" }) + 1
		if got, err := f.GetRowHeight("roof", at); err != nil || got != want {
			t.Errorf("%d letters: row %d is %v points high, want %v; %v", letters, at, got, want, err)
		}
	}
}

// A heading shows whole: its row has 13 points for each of its lines and 2 to spare, 45 at least. By hand: 42 letters in a column of 11 take 42 x 1.15 / 11 = 4.4, so 5 lines, 67 points.
func TestHeadingsShowWhole(t *testing.T) {
	f := open(t, record.NewBook(sample.Storm(sample.Local()), "", record.US))
	for sheet, want := range map[string]float64{"outlets": 67, "sills": 45} {
		if got, err := f.GetRowHeight(sheet, 1); err != nil || got != want {
			t.Errorf("%s: the heading is %v points high, want %v; %v", sheet, got, want, err)
		}
	}
}

// look tells how each sheet looks: paper and foot, what stays when it is scrolled, the widths of its columns with their heads, and of its first row how each cell
// is set and shows its value.
func look(t *testing.T, b *record.Book) string {
	t.Helper()
	f := open(t, b)
	var out strings.Builder
	for _, sheet := range f.GetSheetList() {
		l, err := f.GetPageLayout(sheet)
		if err != nil {
			t.Fatal(err)
		}
		p, err := f.GetPanes(sheet)
		if err != nil {
			t.Fatal(err)
		}
		foot, err := f.GetHeaderFooter(sheet)
		if err != nil {
			t.Fatal(err)
		}
		props, err := f.GetSheetProps(sheet)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&out, "%s: %s, paper %d, %d pages wide, %d high, fit %v; stays %d columns, %d rows, from %s\n foot %s\n", sheet, *l.Orientation, *l.Size, *l.FitToWidth, *l.FitToHeight, *props.FitToPage, p.XSplit, p.YSplit, p.TopLeftCell, foot.OddFooter)
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for row := 1; row <= min(2, len(rows)); row++ {
			high, _ := f.GetRowHeight(sheet, row)
			fmt.Fprintf(&out, " row %d is %v points high\n", row, high)
		}
		columns := len(rows[0])
		if sheet == "roof" {
			columns = 3
		}
		for c := 1; c <= columns; c++ {
			column, _ := excelize.ColumnNumberToName(c)
			w, err := f.GetColWidth(sheet, column)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&out, " %s %v wide", column, w)
			for row := 1; row <= min(2, len(rows)); row++ {
				at := fmt.Sprint(column, row)
				value, _ := f.GetCellValue(sheet, at)
				id, err := f.GetCellStyle(sheet, at)
				if err != nil {
					t.Fatal(err)
				}
				style, err := f.GetStyle(id)
				if err != nil {
					t.Fatal(err)
				}
				fmt.Fprintf(&out, ", %q", value)
				if style.CustomNumFmt != nil {
					fmt.Fprint(&out, " ", *style.CustomNumFmt)
				}
				if a := style.Alignment; a != nil {
					fmt.Fprint(&out, " ", a.Vertical, " ", a.Horizontal, a.Indent, map[bool]string{true: " wrapped"}[a.WrapText])
				}
				if style.Font != nil {
					fmt.Fprint(&out, " ", style.Font.Size, map[bool]string{true: " bold"}[style.Font.Bold])
				}
				if len(style.Fill.Color) > 0 {
					fmt.Fprint(&out, " on ", style.Fill.Color[0])
				}
				for _, line := range style.Border {
					fmt.Fprint(&out, " ", line.Type, line.Style, line.Color)
				}
			}
			out.WriteString("\n")
		}
	}
	return out.String()
}

// The look of all sheets under a storm, in both units, as somebody read it.
func TestGoldenLook(t *testing.T) {
	for name, u := range map[string]record.Units{"si": record.SI, "us": record.US} {
		scenetest.AsRead(t, "look-"+name+".txt", look(t, record.NewBook(sample.Storm(sample.Local()), "", u)))
	}
}

// Every table whose roof has nothing to list says so in words; none of its sheets is empty.
func TestTablesOfAnEmptyRoof(t *testing.T) {
	bare := sample.Local()
	bare.Cores = nil // which say something of ponds
	b := record.NewBook(sample.Study(bare), "", record.SI)
	s := b.Study
	s.Listed, s.Findings, s.Surface.Outlets, s.Slopes.Planes = nil, nil, nil, nil
	f := open(t, b)
	for _, name := range []string{"outlets", "ponds", "planes", "findings"} {
		rows, err := f.GetRows(name)
		if err != nil || len(rows) != 2 || rows[1][0] != model.Nothing {
			t.Errorf("%s: %q, %v", name, rows, err)
		}
		if csv := csvRows(t, b, name); len(csv) != 1 {
			t.Errorf("%s: %d rows in CSV", name, len(csv)-1)
		}
	}
}

// full takes so many bytes and refuses more, as a disk does.
type full struct{ left int }

func (f *full) Write(p []byte) (int, error) {
	if len(p) > f.left {
		return 0, fmt.Errorf("no space left")
	}
	f.left -= len(p)
	return len(p), nil
}

// Wherever a disk gets full, workbook and tables say so.
func TestFullDisk(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	whole := len(write(t, b))
	for _, left := range []int{0, 100, whole / 2, whole - 1} {
		if err := schedule.Write(&full{left: left}, model.Of(b)); err == nil || !strings.Contains(err.Error(), "pack the workbook: ") || !strings.Contains(err.Error(), "no space left") {
			t.Errorf("with room for %d of %d bytes: %v", left, whole, err)
		}
	}
	for _, name := range schedule.Tables(b) {
		var out bytes.Buffer
		if err := schedule.WriteTable(&out, b, name); err != nil {
			t.Fatal(err)
		}
		if err := schedule.WriteTable(&full{left: out.Len() - 1}, b, name); err == nil {
			t.Errorf("%s is written onto a full disk", name)
		}
	}
}
