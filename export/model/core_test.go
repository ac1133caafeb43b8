package model_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/assembly"
	"runnel/analysis/quantity"
	"runnel/analysis/study"
	"runnel/cmd/demo"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/summary"
	"runnel/export/text"
	"runnel/importer"
)

// opened returns the invented roofs that were cut open, in both sets of units.
func opened(t *testing.T) []*record.Book {
	t.Helper()
	var all []*record.Book
	for _, r := range demo.Roofs() {
		if _, _, ok := r.Assembly(); !ok {
			continue
		}
		dir := t.TempDir()
		var paths []string
		for _, f := range r.Inputs() {
			path := filepath.Join(dir, f.Name)
			if err := os.WriteFile(path, f.Bytes, 0o600); err != nil {
				t.Fatal(err)
			}
			paths = append(paths, path)
		}
		read, err := importer.Read(paths, importer.Options{})
		if err != nil {
			t.Fatal(err)
		}
		s, err := study.Run(read, study.Options{Method: assembly.AreaU})
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, record.NewBook(s, "", record.SI), record.NewBook(s, "", record.US))
	}
	return all
}

// said is the member "assembly" of the summary, as far as it is compared.
type said struct {
	Assembly struct {
		Regions []struct {
			Says string
		}
		Ponds []struct{ Pond, Says string }
		Cores []map[string]any
		Next  []struct{ ID, Place, Why string } `json:"next_cores"`
		R     struct {
			Method  string
			Methods []map[string]any
		} `json:"resistance"`
		Load map[string]any `json:"dead_load"`
	}
}

// The page, the summary and the report say the same of the cores: every sentence of the summary stands on the page and in the report,
// and every number of the summary, written as the reader's units write it, in its cell.
func TestCoresAreSaidAlike(t *testing.T) {
	for _, b := range opened(t) {
		var page, object bytes.Buffer
		if err := text.Write(&page, model.Of(b)); err != nil {
			t.Fatal(err)
		}
		if err := summary.Write(&object, model.Of(b)); err != nil {
			t.Fatal(err)
		}
		var sum said
		if err := json.Unmarshal(object.Bytes(), &sum); err != nil {
			t.Fatal(err)
		}
		k := compare{t: t, name: b.Study.Roof.Name + " " + b.Units.String(), u: b.Units, page: strings.Join(strings.Fields(page.String()), " ")}
		k.parts = model.Of(b).Cores
		if len(sum.Assembly.Regions) == 0 || len(sum.Assembly.Cores) < 6 {
			t.Fatalf("%s: %d regions, %d cores", k.name, len(sum.Assembly.Regions), len(sum.Assembly.Cores))
		}
		for _, g := range sum.Assembly.Regions {
			k.sentence(g.Says)
		}
		for _, p := range sum.Assembly.Ponds {
			k.sentence(p.Says)
		}
		k.rows("cores", 1, sum.Assembly.Cores, map[string]func(float64) string{
			"thickness": k.u.SayDepth, "thickness_sigma": k.u.SayDepth, "deck_level": k.u.SayElevation, "r": k.u.SayR, "dead_load": k.u.SayPressure,
		})
		k.rows("resistance", 1, sum.Assembly.R.Methods, map[string]func(float64) string{"r": k.u.SayR, "u": k.u.SayU})
		k.next(sum)
		k.chosen(sum)
	}
}

type compare struct {
	t          *testing.T
	name, page string
	u          record.Units
	parts      []model.Part
}

func (k *compare) sentence(s string) {
	k.t.Helper()
	if s == "" || !strings.Contains(k.page, s) {
		k.t.Errorf("%s: not on the page: %q", k.name, s)
	}
	if !slices.ContainsFunc(k.parts, func(p model.Part) bool {
		return slices.ContainsFunc(p.Texts, func(x string) bool { return strings.Contains(x, s) })
	}) {
		k.t.Errorf("%s: not in the report: %q", k.name, s)
	}
}

func (k *compare) table(id string) model.Table {
	k.t.Helper()
	for _, p := range k.parts {
		if p.Table.ID == id {
			return p.Table
		}
	}
	k.t.Errorf("%s: no table %s", k.name, id)
	return model.Table{}
}

// si are the units of the summary's names, in SI: from the definitions, by hand.
var si = map[string]float64{
	"_mm": 0.001, "_in": 0.0254, "_m": 1, "_ft": 0.3048, "_kpa": 1000, "_psf": quantity.PoundPerSquareFoot,
	"_m2_k_per_w": 1, "_ft2_h_f_per_btu": quantity.RUnit, "_w_per_m2_k": 1, "_btu_per_ft2_h_f": 1 / quantity.RUnit,
}

// rows holds the numbers of the summary's list against the cells of a table whose row for each begins with its id.
func (k *compare) rows(id string, least int, list []map[string]any, names map[string]func(float64) string) {
	k.t.Helper()
	table, compared := k.table(id), 0
	if len(table.Rows) != len(list) {
		k.t.Errorf("%s: %d rows of %s, %d in the summary", k.name, len(table.Rows), id, len(list))
		return
	}
	for i, o := range list {
		var cells []string
		for _, c := range table.Rows[i].Cells {
			cells = append(cells, c.Text)
		}
		for name, say := range names {
			for suffix, unit := range si {
				v, ok := o[name+suffix].(float64)
				if !ok {
					continue
				}
				compared++
				if want := say(v * unit); !slices.Contains(cells, want) || !strings.Contains(k.page, want) {
					k.t.Errorf("%s: %s row %d: %s reads %q, the cells %q", k.name, id, i, name, want, cells)
				}
			}
		}
	}
	if compared < least*len(list) {
		k.t.Errorf("%s: only %d numbers of %s compared", k.name, compared, id)
	}
}

// next holds the proposed cores against their table.
func (k *compare) next(sum said) {
	if len(sum.Assembly.Next) == 0 {
		k.t.Errorf("%s: no core is proposed", k.name)
		return
	}
	for i, row := range k.table("next-cores").Rows {
		n := sum.Assembly.Next[i]
		if row.Feature != n.ID || row.Cells[1].Text != n.Place || !strings.HasPrefix(n.Why, row.Cells[3].Text) || !strings.HasSuffix(n.Why, assembly.Caution) {
			k.t.Errorf("%s: row %+v of %+v", k.name, row, n)
		}
	}
	if !strings.Contains(k.page, assembly.Caution) {
		k.t.Errorf("%s: the page proposes cores without the caution", k.name)
	}
}

// chosen holds the method that was asked for against the mark.
func (k *compare) chosen(sum said) {
	if sum.Assembly.R.Method != string(assembly.AreaU) {
		k.t.Errorf("%s: method %q", k.name, sum.Assembly.R.Method)
	}
	for _, row := range k.table("resistance").Rows {
		if marked := row.Cells[3].Text == "taken"; marked != (row.Cells[0].Text == string(assembly.AreaU)) {
			k.t.Errorf("%s: method %s marked %v", k.name, row.Cells[0].Text, marked)
		}
	}
}

// A roof that nobody cut open has no such section, no places for cores and no line about its slope.
func TestNoCoresSayNothing(t *testing.T) {
	r := sample.Local()
	r.Cores = nil
	b := record.NewBook(sample.Study(r), "", record.SI)
	c := model.Of(b)
	if len(c.Cores) > 0 || len(b.NextCores) > 0 || slices.ContainsFunc(c.First, func(e model.Entry) bool { return e.Word == "SLOPE IN" }) {
		t.Errorf("cores %v, next %v, first %v", c.Cores, b.NextCores, c.First)
	}
}

// A rule that holds for several parts of a roof is said once, after all that it holds for.
func TestEachRuleOfTheCoresIsSaidOnce(t *testing.T) {
	regions := 0
	for _, b := range opened(t) {
		sources := map[string]int{}
		for i := range b.Study.Assembly.Regions {
			sources[b.Study.Assembly.Regions[i].Source]++
		}
		regions = max(regions, len(b.Study.Assembly.Regions))
		var all []string
		for _, p := range model.Of(b).Cores {
			if p.Heading == "Where the slope is" {
				all = p.Texts
			}
		}
		for source := range sources {
			if n := strings.Count(strings.Join(all, "\n"), source); n != 1 {
				t.Errorf("%s: %q is said %d times", b.Study.Roof.Name, source, n)
			}
		}
		if last := all[len(all)-1]; !strings.HasPrefix(last, "Rule: ") {
			t.Errorf("%s: the last line is %q", b.Study.Roof.Name, last)
		}
	}
	if regions < 2 {
		t.Error("no roof has two parts")
	}
}
