package command

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/cmd/call"
	"runnel/importer"
)

// What was noted on a visit goes out with the map as it came in, in tier A and in tier C; the sheet of the known roof has what lasts of it.
func TestVisitReadsBack(t *testing.T) {
	const noted = `VISIT surveyed=2026-03-14 surveyed_by="A. Person" weather="dry, 7 C" hours_since_rain=50 instrument=level age_years=15.5 coverings=2 leaks="over the store" warrantor="the maker" warranty_until=2031 access="ladder, east" cuts_authorised_by="the owner"`
	dir := t.TempDir()
	visit := filepath.Join(dir, "visit.csv")
	taped := filepath.Join(dir, "taped.csv")
	for path, text := range map[string]string{
		visit: "point;x;y;elev_m;code\nv;;;;" + noted + "\n",
		taped: "place;depth;code\n;;OUTLINE rect=12x6m name=Taped edge=wall\n6m from W wall, 3m from S wall;20mm;POND 1 size=3x2m\n;;" + noted + "\n",
	} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, files := range [][]string{{comparedRoof(t, "roof.geojson", 0.06), visit}, {taped}} {
		first, err := importer.Read(files, importer.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if first.Visit.By != "A. Person" || first.Visit.CutsAuthorised != "the owner" {
			t.Fatalf("%+v", first.Visit)
		}
		out := filepath.Join(t.TempDir(), "out")
		var said bytes.Buffer
		if code := Main(append([]string{"check", "--write", "geojson,json", "-o", out}, files...), call.Streams{Out: &said, Err: &said}); code != call.ExitDone {
			t.Fatal(said.String())
		}
		if !strings.Contains(said.String(), "A. Person") {
			t.Errorf("the page does not say who was there:\n%s", said.String())
		}
		maps, _ := filepath.Glob(filepath.Join(out, "*.geojson"))
		second, err := importer.Read(maps, importer.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if second.Visit != first.Visit || second.Surveyed != "2026-03-14" {
			t.Errorf("%s: %+v, was %+v", maps, second.Visit, first.Visit)
		}
		if len(files) == 1 {
			continue
		}
		text, err := os.ReadFile(filepath.Join(sheetIn(t, files...), "shed.survey-sheet.csv"))
		if err != nil || !strings.Contains(string(text), `coverings=2 leaks="over the store"`) || strings.Contains(string(text), "dry, 7 C") {
			t.Errorf("%v %s", err, text)
		}
	}
}
