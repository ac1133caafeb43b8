package demo_test

import (
	"slices"
	"testing"

	"runnel/analysis/assembly"
	"runnel/analysis/finding"
	"runnel/cmd/demo"
)

// Where a roof was cut open, what the cores say is what was built: at least one region is resolved, none is resolved otherwise, and the
// cores that went into a flute without saying so, and no others, are left out and asked about.
func TestCoresSayWhatWasBuilt(t *testing.T) {
	verdicts := map[assembly.Verdict]bool{}
	for _, r := range demo.Roofs() {
		want, flutes, ok := r.Assembly()
		if !ok {
			continue
		}
		verdicts[want] = true
		s := check(t, r)
		resolved := 0
		for i := range s.Assembly.Regions {
			got := s.Assembly.Regions[i].Verdict
			if got == want {
				resolved++
			} else if got != assembly.NotResolved {
				t.Errorf("%s: region %d: %s, built so that %s", r.Stem(), i, got, want)
			}
		}
		if resolved == 0 {
			t.Errorf("%s: no region is resolved, built so that %s", r.Stem(), want)
		}
		var asked, odd []string
		for i := range s.Assembly.Cores {
			c := &s.Assembly.Cores[i]
			if slices.Contains(c.Flags, assembly.FluteUnsaid) {
				asked = append(asked, c.ID)
			}
			if slices.Contains(c.Flags, assembly.Odd) {
				odd = append(odd, c.ID)
			}
		}
		if !slices.Equal(asked, flutes) || !slices.Equal(odd, flutes) {
			t.Errorf("%s: asked whether %q reached a flute and left out %q, want %q", r.Stem(), asked, odd, flutes)
		}
		notes := 0
		for _, f := range s.Findings {
			if f.Kind == finding.CoreOdd {
				notes++
			}
		}
		if notes != len(flutes) {
			t.Errorf("%s: %d findings of odd cores, want %d", r.Stem(), notes, len(flutes))
		}
	}
	if !verdicts[assembly.StructureSlopes] || !verdicts[assembly.InsulationTapers] {
		t.Errorf("the roofs have %v: want one on a sloped deck and one with a taper", verdicts)
	}
}
