package command_test

import (
	"encoding/json"
	"slices"
	"testing"

	"runnel/cmd/demo"
)

// A storm goes over every invented roof: no water is lost, blocking outlets never lets it stand less deep, and the faults of
// outlets and overflows that were planted are found.
func TestStormOverEveryDemoRoof(t *testing.T) {
	planted := map[string][]string{
		"market":  {"outlet-small", "scupper-full", "overflow-high"},
		"terrace": {"no-overflow"},
	}
	dir := demos(t)
	for _, r := range demo.Roofs() {
		args := append([]string{"storm", "--json", "--units-out", "si", "--depth", "3in", "--duration", "1h"}, inputsOf(t, dir, r.Stem())...)
		code, out, errs := run(t, args...)
		if code != 0 {
			t.Errorf("%s: code %d: %s", r.Stem(), code, errs)
			continue
		}
		var got struct {
			Findings []struct{ Kind string } `json:"findings"`
			Storm    struct {
				Rain  float64 `json:"rain_l"`
				Cases []struct {
					Depth float64 `json:"max_depth_mm"`
					Error float64 `json:"mass_error"`
				} `json:"cases"`
			} `json:"storm"`
		}
		if err := json.Unmarshal([]byte(out), &got); err != nil {
			t.Fatal(err)
		}
		if got.Storm.Rain <= 0 || len(got.Storm.Cases) == 0 {
			t.Errorf("%s: no storm: %+v", r.Stem(), got.Storm)
			continue
		}
		for i, c := range got.Storm.Cases {
			if c.Error > 1e-9 {
				t.Errorf("%s, case %d: %g of the water is missing", r.Stem(), i+1, c.Error)
			}
			if c.Depth < got.Storm.Cases[0].Depth-0.1 {
				t.Errorf("%s, case %d: %g mm with outlets blocked, %g mm with all at work", r.Stem(), i+1, c.Depth, got.Storm.Cases[0].Depth)
			}
		}
		var kinds []string
		for _, f := range got.Findings {
			kinds = append(kinds, f.Kind)
		}
		for _, k := range planted[r.Stem()] {
			if !slices.Contains(kinds, k) {
				t.Errorf("%s: %s was planted, found are %v", r.Stem(), k, kinds)
			}
		}
	}
}
