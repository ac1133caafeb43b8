package cause_test

import (
	"slices"
	"strings"
	"testing"

	"runnel/analysis/cause"
	"runnel/analysis/finding"
	"runnel/analysis/finding/findingtest"
)

// Every cause is told in whole: what holds the pond and what mends it in sentences, its name as it stands inside of one.
func TestEveryCauseIsTold(t *testing.T) {
	causes := findingtest.Kinds()[:slices.Index(findingtest.Kinds(), finding.LowPlace)+1]
	who := []string{finding.Roofer, finding.Plumber, finding.Engineer, finding.Owner}
	for _, k := range causes {
		about := cause.Say(k)
		for _, sentence := range []string{about.What, about.Mend} {
			if first, _, _ := strings.Cut(sentence, " "); !strings.HasSuffix(sentence, ".") || first == strings.ToLower(first) {
				t.Errorf("%s: %q is no sentence", k, sentence)
			}
		}
		if about.Name == "" || strings.HasSuffix(about.Name, ".") || about.Name != strings.ToLower(about.Name) {
			t.Errorf("%s: %q does not stand in a sentence", k, about.Name)
		}
		if !slices.Contains(who, about.Decides) {
			t.Errorf("%s: %q decides", k, about.Decides)
		}
	}
	if len(causes) < 13 || cause.Say(finding.PlaneFlat) != (cause.About{}) {
		t.Errorf("%d causes; a flat plane is told as one: %+v", len(causes), cause.Say(finding.PlaneFlat))
	}
}
