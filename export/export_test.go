package export_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/roof"
	"runnel/export"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/staged"
)

// listing returns the names in a folder, temporary ones as well.
func listing(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	names := []string{}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestWriteNamesFiles(t *testing.T) {
	for _, c := range []struct {
		roof  *roof.Roof
		kinds []export.Kind
		want  []string
	}{
		{sample.Local(), export.CampusKinds(), []string{"sample-roof-1.json", "sample-roof-1.local.geojson"}},
		{sample.Geographic(), export.CampusKinds(), []string{"sample-roof-1.geojson", "sample-roof-1.json"}},
		{sample.Local(), []export.Kind{export.Plan}, []string{"sample-roof-1.plan.pdf", "sample-roof-1.plan.svg"}},
		{sample.Local(), []export.Kind{export.Report}, []string{"sample-roof-1.report.html", "sample-roof-1.report.pdf"}},
		{sample.Local(), []export.Kind{export.SetOut}, []string{"sample-roof-1.nextspots.csv", "sample-roof-1.setout.csv", "sample-roof-1.setout.pdf"}},
		{sample.Local(), []export.Kind{export.Schedule}, []string{
			"sample-roof-1.schedule.cores.csv", "sample-roof-1.schedule.findings.csv", "sample-roof-1.schedule.outlets.csv",
			"sample-roof-1.schedule.planes.csv", "sample-roof-1.schedule.ponds.csv", "sample-roof-1.schedule.xlsx",
		}},
		{sample.Geographic(), []export.Kind{export.JSON}, []string{"sample-roof-1.json"}},
	} {
		dir := t.TempDir()
		b := record.NewBook(sample.Study(c.roof), "", record.SI)
		s, err := export.Write(model.Of(b), c.kinds, staged.Target{Dir: dir}, export.Options{Stem: export.Stem(c.roof)})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.Commit(); err != nil {
			t.Fatal(err)
		}
		if got := listing(t, dir); !slices.Equal(got, c.want) {
			t.Errorf("got %v, want %v", got, c.want)
		}
		for _, name := range c.want {
			if !slices.Contains(export.Names("sample-roof-1", c.kinds, false, c.roof.Frame.Kind), name) {
				t.Errorf("%s is not among the names that may be written", name)
			}
		}
	}
}

func TestSplitWritesAFileALayer(t *testing.T) {
	dir := t.TempDir()
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	s, err := export.Write(model.Of(b), []export.Kind{export.GeoJSON}, staged.Target{Dir: dir}, export.Options{Stem: "r", Split: true, Facets: true})
	if err != nil {
		t.Fatal(err)
	}
	paths, err := s.Commit()
	if err != nil {
		t.Fatal(err)
	}
	if got := listing(t, dir); !slices.Contains(got, "r.pond.local.geojson") || !slices.Contains(got, "r.facet.local.geojson") || len(got) != len(paths) {
		t.Errorf("got %v", got)
	}
}

func TestStem(t *testing.T) {
	for name, want := range map[string]string{
		"Library": "library", "North wing, roof 2": "north-wing-roof-2", "../../etc": "etc", "": "roof", "⛱": "roof",
		"a.b": "a-b", "-x-": "x", "Dach über Südhof": "dach-uber-sudhof", "São Pão": "sao-pao", "Straße 5": "strasse-5", "Peñón": "penon", "Su\u0308dhof": "sudhof",
	} {
		if got := export.StemOf(name); got != want {
			t.Errorf("StemOf(%q) = %q, want %q", name, got, want)
		}
	}
	r := &roof.Roof{Inputs: []roof.Input{{Path: "dir/Depot South.geojson"}}}
	if got := export.Stem(r); got != "depot-south" {
		t.Errorf("stem of the first file is %q", got)
	}
}

// File systems take names of 255 bytes, and the longest ending must still fit.
func TestLongNamesAreCut(t *testing.T) {
	long := strings.Repeat("a", 79) + " " + strings.Repeat("b", 5000)
	if got, want := export.StemOf(long), strings.Repeat("a", 79); got != want {
		t.Errorf("got %q of %d bytes, want %q", got, len(got), want)
	}
}
