package standard

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/quantity"
)

// TestMaterials: every material has a source for what it gives, says what it does not, and is found by each of its words.
func TestMaterials(t *testing.T) {
	for _, m := range materials {
		if m.RSource.Text == "" || m.LoadSource.Text == "" || len(m.Words) == 0 || (m.Weight > 0) != m.WeightKnown {
			t.Errorf("%s: %+v", m.Name, m)
		}
		for _, w := range m.Words {
			if got, ok := FindMaterial("2 in. " + strings.ToUpper(w) + ", tapered"); !ok || got.Name != m.Name {
				t.Errorf("%q is %q, want %q", w, got.Name, m.Name)
			}
		}
	}
	if m, ok := FindMaterial("seaweed"); ok {
		t.Errorf("seaweed is %s", m.Name)
	}
	// ASTM C578, least R per inch at 75 degF: Type I 3.6 (read in quotations), Type IX 4.2 (from memory), 3.6 where the type is not stated
	for name, per := range map[string]float64{"EPS Type I": 3.6, "EPS type IX": 4.2, "EPS": 3.6, "XPS": 5.0} {
		m, _ := FindMaterial(name)
		if got := m.PerMetre * float64(quantity.Inch) / quantity.RUnit; !(math.Abs(got-per) <= 1e-9) {
			t.Errorf("%s: R %.3f per inch, want %g", name, got, per)
		}
	}
}
