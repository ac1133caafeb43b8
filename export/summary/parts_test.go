package summary_test

import (
	"maps"
	"reflect"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/mean"
	"runnel/analysis/nextspot"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/export/record"
	"runnel/export/sample"
)

// of returns the summary of a study in SI, which run wrote.
func of(t *testing.T, s *study.Study, run record.Run) map[string]any {
	t.Helper()
	book := record.NewBook(s, "", record.SI)
	book.Run = run
	return written(t, book)
}

// Each figure of the criteria, of the survey and of the sums stands under its own name: metres in mm, m3 in litres, slopes in per cent, m/s in mm/h (1e-5 m/s are 36 mm/h). What is 0 for "none" is left out.
func TestEachFigureUnderItsName(t *testing.T) {
	s := sample.Study(sample.Local())
	s.Criteria = standard.Criteria{
		MinSlope: 0.01, MinSlopeNew: 0.02, MinValleySlope: 0.005, PondDepth: 0.003, PondDepthWide: 0.004, WideArea: 5, NearOutlet: 0.6, MaxTravel: 70, Contour: 0.008,
		RainPrimary: 1e-5, RainOverflow: 2e-5, OverflowStated: 0.09,
	}
	s.Survey = inspection.Survey{Spots: 77, Spacing: 1.5, Sigma: 0.002, SigmaUsual: true, Offset: 0.011, Ties: 1}
	s.Means = &mean.Means{Points: 3000, Size: 0.25}
	s.Unresolved = inspection.Unresolved{Count: 3, Area: 4, Depth: 0.005, AtLevel: 1}
	s.Shallow = inspection.Shallow{Count: 6, Area: 7, Volume: 0.8, Depth: 0.009}
	s.LowPlaces = &inspection.LowPlaces{Count: 2, Depth: 0.03, Area: 12, Volume: 0.5}
	s.Roof.Inputs[0].Counts = map[string]int{"outline": 1, "spot": 77, "answer": 0}
	options := map[string]any{
		"min_slope_pct": 1.0, "min_slope_new_pct": 2.0, "min_valley_slope_pct": 0.5, "pond_depth_mm": 3.0, "pond_depth_wide_mm": 4.0, "pond_wide_m2": 5.0, "near_outlet_m": 0.6, "max_travel_m": 70.0, "contour_mm": 8.0,
		"rain_primary_mm_per_h": 36.0, "rain_overflow_mm_per_h": 72.0, "overflow_height_mm": 90.0,
	}
	survey := map[string]any{"spots": 77.0, "points": 3000.0, "cell_m": 0.25, "spacing_m": 1.5, "sigma_mm": 2.0, "sigma_stated": false, "sigma_usual": true, "file_offset_mm": 11.0, "ties": 1.0}
	unresolved := map[string]any{"count": 3.0, "area_m2": 4.0, "deepest_mm": 5.0, "shown_at_level": 1.0}
	want := map[string]any{
		"options": options, "survey": survey, "ponds_unresolved": unresolved,
		"shallow_ponds": map[string]any{"count": 6.0, "area_m2": 7.0, "volume_l": 800.0, "depth_mm": 9.0},
		"low_places":    map[string]any{"count": 2.0, "deepest_mm": 30.0, "area_m2": 12.0, "volume_l": 500.0},
		"inputs":        []any{map[string]any{"path": "sample.geojson", "format": "geojson", "units": "m", "frame": "local", "outline_count": 1.0, "spot_count": 77.0}},
	}
	holds(t, of(t, s, record.Run{}), want)
	s.Criteria.MaxTravel, s.Criteria.RainPrimary, s.Criteria.RainOverflow, s.Criteria.OverflowStated = 0, 0, 0, 0
	s.Survey, s.Means, s.Unresolved.AtLevel, s.LowPlaces = inspection.Survey{Spots: 77, Spacing: 1.5}, nil, 0, nil
	for _, name := range []string{"max_travel_m", "rain_primary_mm_per_h", "rain_overflow_mm_per_h", "overflow_height_mm"} {
		delete(options, name)
	}
	delete(unresolved, "shown_at_level")
	want["survey"], want["low_places"] = map[string]any{"spots": 77.0, "spacing_m": 1.5, "ties": 0.0}, nil
	holds(t, of(t, s, record.Run{}), want)
}

func holds(t *testing.T, got, want map[string]any) {
	t.Helper()
	for name, part := range want {
		if !reflect.DeepEqual(got[name], part) {
			t.Errorf("%s is\n%v, want\n%v", name, got[name], part)
		}
	}
}

// What the study knows stands in the summary, the least of it too, and what it does not know is left out; lists that a script goes through are there, empty, where nothing was found.
func TestPartsStandWhereSomethingIsKnown(t *testing.T) {
	s := sample.Storm(sample.Local())
	s.Findings, s.NextSpots = s.Findings[:1], []nextspot.Place{{Plan: orb.Point{1, 2}, Pond: -1, Outlet: -1, Plane: -1, Odd: -1}}
	s.RainLoad.Deepest = 0
	s.Findings[0].Severity, s.Rank = finding.Urgent, 4
	full := of(t, s, record.Run{Command: "storm", Files: []string{"a.geojson"}})
	holds(t, full, map[string]any{
		"run":    map[string]any{"command": "storm", "files": []any{"a.geojson"}},
		"worst":  map[string]any{"finding": "SR1.N01", "severity": "urgent", "rank": 4.0},
		"status": nil,
	})
	if words, _ := full["first_step"].(string); words == "" || len(full["sills"].([]any)) != 2 || len(full["findings"].([]any)) != 1 {
		t.Errorf("first step %q, sills %v, findings %v", words, full["sills"], full["findings"])
	}
	s.Sills, s.Storm, s.Findings, s.RainLoad.Deepest, s.Roof.Cores, s.Assembly, s.Roof.Warnings, s.Listed = nil, nil, nil, -1, nil, nil, nil, nil
	s.NextSpots, s.Surface.Warnings, s.Warnings = nil, nil, nil
	bare := of(t, s, record.Run{})
	var gone []string
	for _, name := range slices.Sorted(maps.Keys(full)) {
		if _, ok := bare[name]; !ok {
			gone = append(gone, name)
		}
	}
	if want := []string{"assembly", "first_step", "next_spots", "rain_load", "run", "sills", "storm", "worst"}; !slices.Equal(gone, want) {
		t.Errorf("left out are %v, want %v", gone, want)
	}
	holds(t, bare, map[string]any{"findings": []any{}, "warnings": []any{}, "ponds": []any{}})
}
