package campus_test

import (
	"bytes"
	"database/sql"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
	_ "modernc.org/sqlite" // the driver

	"runnel/export/campus"
	"runnel/export/sample"
	"runnel/export/staged"
)

func rows() []campus.Row {
	local := campus.NewRow(sample.Study(sample.Feet()), "local")
	map1 := campus.NewRow(sample.Study(sample.Geographic()), "map")
	local.Name, map1.Name = "=local", "map"
	return []campus.Row{{Name: "broken", Stem: "broken", Reason: "=no outline"}, map1, local}
}

// store keeps the files of a campus in a folder.
type store struct{ dir string }

func (s store) AddLast(o staged.Output) error {
	f, err := os.Create(s.PathOfLast(o.Name))
	if err != nil {
		return err
	}
	return errors.Join(o.Write(f), f.Close())
}

func (s store) PathOfLast(name string) string { return filepath.Join(s.dir, name) }

func (s store) Scratch() (*os.File, error) { return os.CreateTemp(s.dir, "sort-") }

// written writes the files of rows into a folder, and returns it and the page.
func written(t *testing.T, all []campus.Row, o campus.Options) (dir, page string) {
	t.Helper()
	dir = t.TempDir()
	var b bytes.Buffer
	if _, err := campus.Write(store{dir}, &b, source(all), o); err != nil {
		t.Fatal(err)
	}
	return dir, b.String()
}

func source(all []campus.Row) campus.Source {
	return func(take func(*campus.Row) error) error {
		for i := range all {
			if err := take(&all[i]); err != nil {
				return err
			}
		}
		return nil
	}
}

// ranked returns the names of rows in their order.
func ranked(t *testing.T, all []campus.Row, rank campus.Rank) (names []string) {
	t.Helper()
	s := campus.NewSorter(rank, store{t.TempDir()}.Scratch)
	for i := range all {
		if err := s.Add(all[i]); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Each(func(r *campus.Row) error {
		names = append(names, r.Name)
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	return names
}

func TestTheWorstComesFirst(t *testing.T) {
	const psf = 47.88026
	r := []campus.Row{
		{Name: "failed", Reason: "x", Counts: [3]int{0, 0, 9}},
		{Name: "b", Counts: [3]int{0, 1, 0}, Weight: 5},
		{Name: "a", Counts: [3]int{0, 1, 0}, Weight: 5},
		{Name: "of last year", Counts: [3]int{0, 1, 0}, Weight: 5, Surveyed: "2025-06-01"},
		{Name: "older", Counts: [3]int{0, 1, 0}, Weight: 5, Surveyed: "2019-06-01"},
		{Name: "none", Weight: 50},
		{Name: "heavy", Counts: [3]int{0, 1, 0}, Weight: 50},
		{Name: "shown", Counts: [3]int{0, 1, 0}, Weight: 20, Sure: 10},
		{Name: "urgent", Counts: [3]int{0, 0, 1}, Rank: 5, Weight: 500},
		{Name: "urgent, light when blocked", Counts: [3]int{0, 0, 1}, Rank: 6, Weight: 900, Blocked: 19 * psf},
		{Name: "urgent, heavy when blocked", Counts: [3]int{0, 0, 1}, Rank: 6, Blocked: 21 * psf},
		{Name: "no way out", Counts: [3]int{0, 0, 1}, Rank: 2},
		{Name: "outlet", Counts: [3]int{0, 1, 0}, Rank: -1, Weight: 1},
		{Name: "dish", Counts: [3]int{0, 1, 0}, Weight: 1, KeepOff: true},
		{Name: "repairs", Counts: [3]int{0, 2, 0}, Weight: 5},
		{Name: "hall", Counts: [3]int{1, 0, 0}, Rank: 6, Blocked: 24 * psf},
		{Name: "deeper hall", Counts: [3]int{1, 0, 0}, Rank: 6, Blocked: 31 * psf},
		{Name: "usual overflow", Counts: [3]int{0, 1, 0}, Weight: 4, Blocked: 10.4 * psf},
		{Name: "scanned", Counts: [3]int{0, 1, 0}, Blind: true, Low: 1, LowWater: 0.1},
		{Name: "scanned, lower", Counts: [3]int{0, 1, 0}, Blind: true, Low: 1, LowWater: 0.3},
	}
	want := []string{
		"dish", "no way out", "urgent", "urgent, heavy when blocked", "urgent, light when blocked", "deeper hall", "hall", "outlet", "shown", "scanned, lower", "scanned", "heavy", "repairs", "a", "b", "older", "of last year",
		"usual overflow", "none", "failed",
	}
	if names := ranked(t, r, nil); !slices.Equal(names, want) {
		t.Errorf("got %v, want %v", names, want)
	}
	byAge, err := campus.ParseRank("age, water")
	if err != nil {
		t.Fatal(err)
	}
	if names := ranked(t, r, byAge); !slices.Equal(names[len(names)-3:], []string{"older", "of last year", "failed"}) || names[0] != "urgent, light when blocked" {
		t.Errorf("by age %v", names)
	}
	for _, text := range []string{"beauty", "age,age", ","} {
		if r, err := campus.ParseRank(text); err == nil {
			t.Errorf("%q: %v", text, r)
		}
	}
}

// However many rows there are, and in whatever order they come, they come out as when all are sorted at once.
func TestRowsAreSortedInParts(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	all := make([]campus.Row, 20000)
	for i := range all {
		all[i] = campus.Row{Name: fmt.Sprint(i), Stem: fmt.Sprint(i), Counts: [3]int{random.IntN(2), random.IntN(2), random.IntN(2)}, Weight: float64(random.IntN(50))}
	}
	first := ranked(t, all, nil)
	for range 2 {
		random.Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
		if again := ranked(t, all, nil); !slices.Equal(again, first) {
			t.Fatal("another order")
		}
	}
	at := map[string]*campus.Row{}
	for i := range all {
		at[all[i].Name] = &all[i]
	}
	for i := range first[1:] {
		if a, b := at[first[i]], at[first[i+1]]; a.Counts[2] == 0 && b.Counts[2] > 0 || a.Counts == b.Counts && a.Weight < b.Weight {
			t.Fatalf("%+v stands before %+v", a, b)
		}
	}
}

// A row comes back from its text as it was.
func TestRowsAreReadBack(t *testing.T) {
	for _, r := range rows() {
		text, err := json.Marshal(&r)
		if err != nil {
			t.Fatal(err)
		}
		back, err := campus.ParseRow(text)
		if err != nil {
			t.Fatal(err)
		}
		again, err := json.Marshal(&back)
		if err != nil || !bytes.Equal(again, text) {
			t.Errorf("%s\nis read as\n%s %v", text, again, err)
		}
		for i, ring := range r.Rings {
			for k, p := range ring {
				if r.Frame.ToFile(p) != back.Frame.ToFile(back.Rings[i][k]) {
					t.Errorf("%s lies elsewhere", r.Name)
				}
			}
		}
	}
}

func TestWrite(t *testing.T) {
	dir, _ := written(t, rows(), campus.Options{UnitsOut: "us"})
	f, err := os.Open(filepath.Join(dir, "campus.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	table, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := func(name string) int { return slices.Index(table[0], name) }
	if len(table) != 4 || column("weight_lb") < 0 || column("depth_in") < 0 || column("blocked_load_psf") < 0 {
		t.Fatalf("table %v", table)
	}
	last := table[3]
	if last[column("name")] != "broken" || last[column("reason")] != "'=no outline" || last[column("status")] != "failed" {
		t.Errorf("the failed roof's row is %v", last)
	}
	for _, row := range table[1:] {
		if n := row[column("name")]; strings.HasPrefix(n, "=") {
			t.Errorf("a cell begins a formula: %s", n)
		}
	}
	sameInWorkbook(t, filepath.Join(dir, "campus.xlsx"), table)
	sameInLines(t, filepath.Join(dir, "campus.ndjson"), table)
	sameInPackage(t, filepath.Join(dir, "campus.gpkg"))
	with := map[string][]string{}
	for _, name := range []string{"campus.geojson", "campus.local.geojson"} {
		text, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		var d struct {
			Units    string
			Features []struct {
				ID       string
				Geometry *struct{ Type string }
			}
		}
		if err := json.Unmarshal(text, &d); err != nil {
			t.Fatal(err)
		}
		if len(d.Features) != 3 {
			t.Errorf("%s has %d features", name, len(d.Features))
		}
		for _, f := range d.Features {
			if f.Geometry != nil {
				with[name] = append(with[name], f.ID)
			}
		}
	}
	if !slices.Equal(with["campus.geojson"], []string{"map"}) || !slices.Equal(with["campus.local.geojson"], []string{"local"}) {
		t.Errorf("roofs with a place: %v", with)
	}
}

// sameInWorkbook reads the workbook by the library and compares it with the table.
func sameInWorkbook(t *testing.T, path string, table [][]string) {
	t.Helper()
	book, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = book.Close() }()
	sheet, err := book.GetRows("roofs", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	// Heads are bold on a solid ground (pattern 1 of ECMA-376, 18.18.55) and stay in sight with rank and name; rows can be filtered, all of them and no more; a line of the second sheet is as long as one of text.
	looks := func(at string) *excelize.Style {
		id, errID := book.GetCellStyle("roofs", at)
		style, errStyle := book.GetStyle(id)
		if errID != nil || errStyle != nil {
			t.Fatal(errID, errStyle)
		}
		return style
	}
	if head, row := looks("A1"), looks("A2"); head.Fill.Pattern != 1 || !head.Font.Bold || row.Fill.Pattern != 0 || row.Font.Bold || head.Font.Size != row.Font.Size {
		t.Errorf("heads %+v, rows %+v", head, row)
	}
	panes, err := book.GetPanes("roofs")
	if err != nil || !panes.Freeze || panes.XSplit != 2 || panes.YSplit != 1 || panes.TopLeftCell != "C2" {
		t.Errorf("%+v stay, %v", panes, err)
	}
	last, _ := excelize.CoordinatesToCellName(len(table[0]), len(table))
	if tables, err := book.GetTables("roofs"); err != nil || len(tables) != 1 || tables[0].Range != "A1:"+last {
		t.Errorf("tables %+v, %v, want one of A1:%s", tables, err, last)
	}
	if wide, err := book.GetColWidth("about", "A"); err != nil || wide < 90 || wide > 120 {
		t.Errorf("%v characters a line, %v", wide, err)
	}
	if about, err := book.GetRows("about"); err != nil || len(about) < 4 || len(about[0]) != 1 || !strings.HasPrefix(about[0][0], "Roofs checked: ") {
		t.Errorf("the second sheet says %q, %v", about, err)
	}
	for i, row := range table {
		for k, want := range row {
			got := ""
			if k < len(sheet[i]) {
				got = sheet[i][k]
			}
			if i == 0 {
				want = strings.ReplaceAll(want, "_", " ")
			}
			switch want {
			case "true":
				want = "1"
			case "false":
				want = "0"
			}
			if got != want {
				t.Errorf("row %d, %s: %q in the workbook, %q in the table", i, table[0][k], got, want)
			}
		}
	}
}

// sameInLines compares the rows as JSON with the table.
func sameInLines(t *testing.T, path string, table [][]string) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	i := 0
	for line := range strings.Lines(string(text)) {
		i++
		var row map[string]any
		if err := json.Unmarshal([]byte(line), &row); err != nil {
			t.Fatal(err)
		}
		for k, name := range table[0] {
			want := strings.TrimPrefix(table[i][k], "'")
			if got, ok := row[name]; ok != (want != "") || ok && fmt.Sprint(got) != want {
				if n, isNumber := got.(float64); isNumber && strconv.FormatFloat(n, 'f', -1, 64) == want {
					continue
				}
				t.Errorf("line %d, %s: %v, want %s", i, name, got, want)
			}
		}
	}
	if i != len(table)-1 {
		t.Errorf("%d lines", i)
	}
}

// sameInPackage reads the GeoPackage by SQL: a table of roofs in degrees, one of those on site grids, each with its place.
func sameInPackage(t *testing.T, path string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	for query, want := range map[string]string{
		"SELECT group_concat(table_name || ' ' || srs_id, ', ') FROM gpkg_contents WHERE data_type='features'": "roof 4326, roof_local -1",
		"SELECT group_concat(name || ' ' || rank || ' ' || (geom IS NOT NULL), ', ') FROM roof":                "map 2 1, broken 3 0",
		"SELECT group_concat(name || ' ' || rank || ' ' || (geom IS NOT NULL), ', ') FROM roof_local":          "=local 1 1",
		"SELECT reason FROM roof WHERE status='failed'":                                                        "=no outline",
		"PRAGMA integrity_check": "ok",
	} {
		var got string
		if err := db.QueryRow(query).Scan(&got); err != nil || got != want {
			t.Errorf("%s: %q, want %q: %v", query, got, want, err)
		}
	}
}

func TestPage(t *testing.T) {
	_, page := written(t, rows(), campus.Options{UnitsOut: "us"})
	for _, want := range []string{"Roofs checked: 2. Could not be checked: 1.", campus.Fold(campus.Rank(nil).Say()), "broken: not checked: =no outline", "structural engineer"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q:\n%s", want, page)
		}
	}
	if _, end, _ := strings.Cut(page, "CAUTIONS"); !strings.Contains(end, "Nobody goes onto a deep pond") || !strings.Contains(end, "licensed engineers decide") {
		t.Errorf("the page ends without cautions: %q", end)
	}
}
