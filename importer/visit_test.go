package importer_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/importer"
)

const visited = `{"type":"FeatureCollection","frame":"local","units":"m","features":[
{"type":"Feature","properties":{"role":"outline","name":"Shed","edge":"wall","surveyed":"2026-03-14","surveyed_by":"A. Person","weather":"dry, 7 C","hours_since_rain":50,
 "instrument":"gnss","age_years":15,"coverings":2,"leaks":"over the store","warrantor":"the maker","warranty_until":2031,"access":"ladder, east","cuts_authorised_by":"the owner"},
 "geometry":{"type":"Polygon","coordinates":[[[0,0],[12,0],[12,9],[0,9],[0,0]]]}},
{"type":"Feature","properties":{"role":"stain"},"geometry":{"type":"Polygon","coordinates":[[[1,1],[2,1],[2,2],[1,2],[1,1]]]}},
{"type":"Feature","properties":{"role":"stain","hours_since_rain":3},"geometry":{"type":"Polygon","coordinates":[[[4,1],[5,1],[5,2],[4,2],[4,1]]]}},
{"type":"Feature","properties":{"role":"spot","sigma":"2 mm"},"geometry":{"type":"Point","coordinates":[3,3,10]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[9,6,10.1]}}]}`

// written writes files into a folder and returns their paths.
func written(t *testing.T, texts map[string]string, order ...string) []string {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for _, name := range order {
		paths = append(paths, filepath.Join(dir, name))
		if err := os.WriteFile(paths[len(paths)-1], []byte(texts[name]), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return paths
}

// What the outline notes of the visit holds for water that states no hours of its own, and a known instrument for heights that state no error.
func TestVisitOfTheOutline(t *testing.T) {
	r, err := importer.Read(written(t, map[string]string{"shed.geojson": visited}, "shed.geojson"), importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	v := r.Visit
	if v.By != "A. Person" || v.Weather != "dry, 7 C" || !v.HasHours || v.Hours != 50 || v.Instrument != "gnss" || v.Age != 15 || v.Coverings != 2 ||
		v.Leaks != "over the store" || v.Warrantor != "the maker" || v.WarrantyUntil != "2031" || v.Access != "ladder, east" || v.CutsAuthorised != "the owner" {
		t.Errorf("%+v", v)
	}
	if r.Stains[0].HoursSinceRain != 50 || r.Stains[1].HoursSinceRain != 3 {
		t.Errorf("hours %v and %v", r.Stains[0].HoursSinceRain, r.Stains[1].HoursSinceRain)
	}
	// 20 mm: satellite positioning with real-time corrections, as standard.Instruments has it.
	if !(math.Abs(float64(r.Spots[0].Sigma)-0.002) <= 1e-9) || !(math.Abs(float64(r.Spots[1].Sigma)-0.020) <= 1e-9) {
		t.Errorf("errors %v and %v", r.Spots[0].Sigma, r.Spots[1].Sigma)
	}
}

// A row VISIT needs no place, height or line of sight. It wins over the outline, which is said; another day takes the old day's weather and people away.
func TestVisitOfARow(t *testing.T) {
	texts := map[string]string{
		"shed.geojson": visited,
		"same.csv":     "point;x;y;rod;code\nv;;;;VISIT surveyed_by=\"B. Person\" coverings= leaks=\"\"\n",
		"later.csv":    "point;x;y;rod;code\nv;;;;VISIT surveyed=2027-03-20 hours_since_rain=72\n",
		"rod.csv":      "point;x;y;rod;code\nv;;;;VISIT surveyed=2027-03-20\n1;3;3;1.5;SPOT\n2;4;4;1.5;SPOT\n",
		"wrong.csv":    "point;x;y;rod;code\nv;;;;VISIT coverings=none mood=good\nw;;;;VISIT age_years=old\n",
	}
	r, err := importer.Read(written(t, texts, "shed.geojson", "same.csv"), importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if v := r.Visit; v.By != "B. Person" || v.Weather != "dry, 7 C" || v.Coverings != 2 || v.Leaks != "over the store" || r.Surveyed != "2026-03-14" {
		t.Errorf("%+v", v)
	}
	if all := strings.Join(r.Warnings, " "); !strings.Contains(all, "same.csv: what its VISIT says is taken instead of what was said before: surveyed_by.") {
		t.Errorf("%s", all)
	}
	if r, err = importer.Read(written(t, texts, "shed.geojson", "later.csv"), importer.Options{}); err != nil {
		t.Fatal(err)
	}
	if v := r.Visit; r.Surveyed != "2027-03-20" || v.By != "" || v.Weather != "" || v.Hours != 72 || v.HasAge || v.Coverings != 2 || v.Warrantor != "the maker" {
		t.Errorf("%s %+v", r.Surveyed, v)
	}
	for name, want := range map[string][]string{
		"rod.csv":   {"the height of instrument is not known", "--hi"},
		"wrong.csv": {"wrong.csv line 2", "has no key", "surveyed_by", "line 3", "age_years", "write the years"},
	} {
		_, err := importer.Read(written(t, texts, "shed.geojson", name), importer.Options{})
		for _, w := range want {
			if err == nil || !strings.Contains(err.Error(), w) {
				t.Errorf("%s: no %q in %v", name, w, err)
			}
		}
		if err != nil && strings.Count(err.Error(), "height of instrument") > 1 {
			t.Errorf("said twice: %v", err)
		}
	}
}
