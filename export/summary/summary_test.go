package summary_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"reflect"
	"slices"
	"testing"

	"runnel/analysis/roof"
	"runnel/export/geojson"
	"runnel/export/layer"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/summary"
)

func write(t *testing.T, r *roof.Roof, u record.Units) map[string]any {
	t.Helper()
	return written(t, record.NewBook(sample.Study(r), "", u))
}

// written returns the summary of a book, read back.
func written(t *testing.T, book *record.Book) map[string]any {
	t.Helper()
	var b bytes.Buffer
	if err := summary.Write(&b, model.Of(book)); err != nil {
		t.Fatal(err)
	}
	var s map[string]any
	if err := json.Unmarshal(b.Bytes(), &s); err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSummaryHasItsNames(t *testing.T) {
	for u, want := range map[record.Units][]string{
		record.SI: {"area_m2", "undrained_m2", "indeterminate_m2"},
		record.US: {"area_ft2", "undrained_ft2", "indeterminate_ft2"},
	} {
		s := write(t, sample.Local(), u)
		for _, name := range append(want, "schema", "roof", "inputs", "options", "units", "facets", "below_min_share",
			"assumed_share", "outlets", "ponds", "findings", "cautions", "warnings") {
			if _, ok := s[name]; !ok {
				t.Errorf("%v: no %s", u, name)
			}
		}
	}
}

// The net area of the sample, by hand: 20 m by 12 m less a curb of 1 m by 2 m; its drain stands 20 mm over
// the lowest place, and 20 mm of water load 0.196133 kPa.
func TestSummaryOfTheSample(t *testing.T) {
	s := write(t, sample.Local(), record.SI)
	if s["area_m2"] != 238.0 {
		t.Errorf("area %v", s["area_m2"])
	}
	ponds := s["ponds"].([]any)
	if len(ponds) != 1 {
		t.Fatalf("%d ponds", len(ponds))
	}
	p := ponds[0].(map[string]any)
	for name, want := range map[string]any{
		"id": "SR1.P01", "depth_mm": 20.0, "load_kpa": 0.196133, "level_m": 100.02, "where": "at outlet", "held_by": "SR1.RD-1",
	} {
		if p[name] != want {
			t.Errorf("%s is %v, want %v", name, p[name], want)
		}
	}
}

// Ponds, outlets and findings must read the same in the summary and on the map.
func TestSummaryAgreesWithTheMap(t *testing.T) {
	for _, u := range []record.Units{record.SI, record.US} {
		s := write(t, sample.Feet(), u)
		var b bytes.Buffer
		if err := geojson.Write(&b, record.NewBook(sample.Study(sample.Feet()), "", u), layer.All()...); err != nil {
			t.Fatal(err)
		}
		var d struct {
			Features []struct{ Properties map[string]any }
		}
		if err := json.Unmarshal(b.Bytes(), &d); err != nil {
			t.Fatal(err)
		}
		byID := map[any]map[string]any{}
		for _, f := range d.Features {
			byID[f.Properties["id"]] = f.Properties
		}
		n := 0
		for _, list := range []string{"ponds", "outlets", "findings"} {
			for _, item := range s[list].([]any) {
				o := item.(map[string]any)
				on := byID[o["id"]]
				for _, name := range slices.Sorted(maps.Keys(o)) {
					if n++; !reflect.DeepEqual(on[name], o[name]) {
						t.Errorf("%v: %s is %v, on the map %v", o["id"], name, o[name], on[name])
					}
				}
			}
		}
		if n < 40 {
			t.Errorf("only %d properties compared", n)
		}
	}
}

// TestStatedRainIsInTheOptions: 4 in/h is 101.6 mm/h; what was stated must be told, though nothing is compared with it yet.
func TestStatedRainIsInTheOptions(t *testing.T) {
	for u, want := range map[record.Units]string{record.SI: "rain_primary_mm_per_h", record.US: "rain_primary_in_per_h"} {
		s := sample.Study(sample.Local())
		s.Criteria.RainPrimary = 4 * 0.0254 / 3600
		var b bytes.Buffer
		if err := summary.Write(&b, model.Of(record.NewBook(s, "", u))); err != nil {
			t.Fatal(err)
		}
		var got struct{ Options map[string]float64 }
		if err := json.Unmarshal(b.Bytes(), &got); err != nil {
			t.Fatal(err)
		}
		if v := got.Options[want]; v != 101.6 && v != 4 {
			t.Errorf("%v: options %v", u, got.Options)
		}
		if _, stated := got.Options["rain_overflow_mm_per_h"]; stated {
			t.Error("rain for overflow was not stated")
		}
	}
}
