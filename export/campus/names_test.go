package campus_test

import (
	"database/sql"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"html"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"runnel/export/campus"
	"runnel/export/record"
	"runnel/export/sample"
)

// called returns rows of these names, each of the sample.
func called(names []string) (all []campus.Row) {
	s := sample.Study(sample.Local())
	for i, name := range names {
		r := campus.NewRow(s, fmt.Sprint("roof", i))
		r.Name, r.Building, r.Stem = name, name+" house", fmt.Sprint("roof", i)
		all = append(all, r)
	}
	return all
}

// file returns the text of a file of a campus.
func file(t *testing.T, dir, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// table returns the rows of the CSV file, and the number of a column.
func table(t *testing.T, dir string) (rows [][]string, column func(name string) int) {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(file(t, dir, "campus.csv"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows, func(name string) int {
		k := slices.Index(rows[0], name)
		if k < 0 {
			t.Fatalf("no column %s", name)
		}
		return k
	}
}

// Whatever roofs are called, each file has the name letter by letter as its kind keeps it: quotes, commas, brackets, ampersands, letters that run from the right. The page for a browser shows it as text.
func TestOddNamesInAllFiles(t *testing.T) {
	names := []string{`Hall "A", <north> & co`, "גג ראשי 7", "سقف", "a;b'c\\d", "Zoë – №3", "</script><b>bold</b>", strings.TrimSpace(strings.Repeat("long ", 30))}
	dir, _ := written(t, called(names), campus.Options{UnitsOut: "si"})
	want := slices.Sorted(slices.Values(names))
	rows, column := table(t, dir)
	var inTable, inLines, onMap []string
	for _, row := range rows[1:] {
		inTable = append(inTable, row[column("name")])
		if row[column("building")] != row[column("name")]+" house" {
			t.Errorf("building %q of %q", row[column("building")], row[column("name")])
		}
	}
	for line := range strings.Lines(file(t, dir, "campus.ndjson")) {
		var row struct{ Name string }
		if err := json.Unmarshal([]byte(line), &row); err != nil {
			t.Fatal(err)
		}
		inLines = append(inLines, row.Name)
	}
	var d struct {
		Features []struct{ Properties struct{ Name string } }
	}
	if err := json.Unmarshal([]byte(file(t, dir, "campus.local.geojson")), &d); err != nil {
		t.Fatal(err)
	}
	for _, f := range d.Features {
		onMap = append(onMap, f.Properties.Name)
	}
	for what, got := range map[string][]string{"the table": inTable, "the lines": inLines, "the map": onMap} {
		if slices.Sort(got); !slices.Equal(got, want) {
			t.Errorf("%s has %q, want %q", what, got, want)
		}
	}
	sameInWorkbook(t, filepath.Join(dir, "campus.xlsx"), rows)
	db, err := sql.Open("sqlite", filepath.Join(dir, "campus.gpkg"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	for _, name := range names {
		var n int
		if err := db.QueryRow("SELECT count(*) FROM roof_local WHERE name = ?", name).Scan(&n); err != nil || n != 1 {
			t.Errorf("%q stands %d times in the package: %v", name, n, err)
		}
	}
	page := file(t, dir, "campus.html")
	if strings.Contains(page, "<b>bold</b>") || strings.Contains(page, "<north>") {
		t.Error("a name became part of the page")
	}
	bare := html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(page, "|"))
	for _, name := range names[:5] {
		if !strings.Contains(bare, name) {
			t.Errorf("the page does not show %q", name)
		}
	}
}

// A campus of no roof, of one, and of none that could be read says so in every file, and none of them is broken.
func TestSmallCampuses(t *testing.T) {
	broken := campus.Row{Name: "broken", Stem: "broken", Reason: "no outline"}
	one := called([]string{"Hall"})[0]
	for name, c := range map[string]struct {
		rows []campus.Row
		said string
	}{
		"one":          {[]campus.Row{one}, "Roofs checked: 1."},
		"none read":    {[]campus.Row{broken}, "Could not be checked: 1."},
		"one and none": {[]campus.Row{one, broken}, "Roofs checked: 1. Could not be checked: 1."},
	} {
		dir, page := written(t, c.rows, campus.Options{UnitsOut: "si"})
		if !strings.Contains(page, c.said) {
			t.Errorf("%s: the page does not say %q: %s", name, c.said, page)
		}
		rows, _ := table(t, dir)
		lines := strings.Count(file(t, dir, "campus.ndjson"), "\n")
		if len(rows) != len(c.rows)+1 || lines != len(c.rows) {
			t.Errorf("%s: %d rows in the table, %d lines", name, len(rows)-1, lines)
		}
		sameInWorkbook(t, filepath.Join(dir, "campus.xlsx"), rows)
		sameInLines(t, filepath.Join(dir, "campus.ndjson"), rows)
	}
}

// What the page, the page for a browser and the table say of one roof is the same: the figures of the table, as they are said. By hand, the sample's one pond is 20 mm deep over 8 m2 and holds 53.3 kg.
func TestFiguresAreThoseOfTheTable(t *testing.T) {
	dir, page := written(t, called([]string{"Hall"}), campus.Options{UnitsOut: "si"})
	rows, column := table(t, dir)
	figure := func(name string) (v float64) {
		if _, err := fmt.Sscan(rows[1][column(name)], &v); err != nil {
			t.Fatal(err)
		}
		return v
	}
	if kg, mm := figure("weight_kg"), figure("depth_mm"); !(math.Abs(kg-53.33) <= 0.01) || mm != 20 {
		t.Errorf("%v kg, %v mm", kg, mm)
	}
	browser := file(t, dir, "campus.html")
	for _, said := range []string{record.SI.SayMass(figure("weight_kg")), record.SI.SayDepth(figure("depth_mm") / 1000), record.SI.SayPressure(figure("blocked_load_kpa") * 1000), record.SI.SayArea(figure("area_m2"))} {
		if !strings.Contains(page, said) || !strings.Contains(browser, said) {
			t.Errorf("%q stands on the page: %v, on that for a browser: %v", said, strings.Contains(page, said), strings.Contains(browser, said))
		}
	}
}
