package campus_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"runnel/export/campus"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/staged"
)

func rows() []campus.Row {
	local := campus.NewRow(sample.Study(sample.Feet()), "local")
	map1 := campus.NewRow(sample.Study(sample.Geographic()), "map")
	local.Name, map1.Name = "=local", "map"
	return []campus.Row{{Name: "broken", Stem: "broken", Reason: "=no outline"}, map1, local}
}

func TestSortPutsTheWorstFirst(t *testing.T) {
	r := []campus.Row{
		{Name: "failed", Reason: "x", Counts: [3]int{0, 0, 9}},
		{Name: "b", Counts: [3]int{0, 1, 0}, Weight: 5},
		{Name: "a", Counts: [3]int{0, 1, 0}, Weight: 5},
		{Name: "none", Weight: 50},
		{Name: "heavy", Counts: [3]int{0, 1, 0}, Weight: 50},
		{Name: "urgent", Counts: [3]int{0, 0, 1}, Rank: 5, Weight: 500},
		{Name: "no way out", Counts: [3]int{0, 0, 1}, Rank: 2},
		{Name: "outlet", Counts: [3]int{0, 1, 0}, Rank: -1, Weight: 1},
		{Name: "dish", Counts: [3]int{0, 1, 0}, Weight: 1, KeepOff: true},
		{Name: "repairs", Counts: [3]int{0, 2, 0}, Weight: 5},
	}
	campus.Sort(r)
	var names []string
	for i := range r {
		names = append(names, r[i].Name)
	}
	if want := []string{"dish", "no way out", "urgent", "outlet", "heavy", "repairs", "a", "b", "none", "failed"}; !slices.Equal(names, want) {
		t.Errorf("got %v, want %v", names, want)
	}
}

func TestWrite(t *testing.T) {
	dir := t.TempDir()
	all := rows()
	campus.Sort(all)
	s, err := staged.Stage(staged.Target{Dir: dir}, campus.Outputs(all, record.US, false))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Commit(); err != nil {
		t.Fatal(err)
	}
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
	if len(table) != 4 || column("weight_lb") < 0 || column("depth_in") < 0 {
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

func TestPage(t *testing.T) {
	all := rows()
	campus.Sort(all)
	var b bytes.Buffer
	if err := campus.Page(&b, all, record.US); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	for _, want := range []string{"Roofs checked: 2. Could not be checked: 1.", campus.Rule, "broken: not checked: =no outline", "structural engineer"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q:\n%s", want, page)
		}
	}
	if _, end, _ := strings.Cut(page, "CAUTIONS"); !strings.Contains(end, "Nobody goes onto a deep pond") || !strings.Contains(end, "licensed engineers decide") {
		t.Errorf("the page ends without cautions: %q", end)
	}
}
