package roof_test

import (
	"strings"
	"testing"

	"runnel/analysis/roof"
)

// What is set under each name is got under it, and under no other.
func TestVisitKeepsWhatIsSaid(t *testing.T) {
	texts := map[string]string{"hours_since_rain": "50.5", "age_years": "15", "coverings": "2"}
	for _, name := range roof.VisitNames() {
		text, number := texts[name]
		if !number {
			text = "what was noted of " + name
		}
		var v roof.Visit
		if rule, _ := v.Set(name, " "+text+" "); rule != "" {
			t.Fatalf("%s: %s", name, rule)
		}
		for _, other := range roof.VisitNames() {
			got, isNumber, ok := v.Get(other)
			if ok != (other == name) || ok && (got != text || isNumber != number) {
				t.Errorf("%s set: %s is %q, %v, %v", name, other, got, isNumber, ok)
			}
		}
	}
	if len(roof.VisitNames()) != 11 {
		t.Errorf("%d names", len(roof.VisitNames()))
	}
}

// A slip is refused with the name, and nothing is kept of it; an empty text says nothing.
func TestVisitRefused(t *testing.T) {
	for _, c := range [][2]string{
		{"hours_since_rain", "-1"},
		{"hours_since_rain", "soon"},
		{"hours_since_rain", "NaN"},
		{"hours_since_rain", "1e9"},
		{"age_years", "-2"},
		{"age_years", "2009"},
		{"coverings", "0"},
		{"coverings", "1.5"},
		{"coverings", "99"},
		{"mood", "good"},
	} {
		var v roof.Visit
		if rule, mend := v.Set(c[0], c[1]); !strings.Contains(rule, c[0]) || mend == "" || v != (roof.Visit{}) {
			t.Errorf("%v: %q; %q; %+v", c, rule, mend, v)
		}
	}
	var v roof.Visit
	for _, name := range roof.VisitNames() {
		if rule, _ := v.Set(name, "  "); rule != "" || v != (roof.Visit{}) {
			t.Errorf("%s: empty: %q %+v", name, rule, v)
		}
	}
}

func TestVisitTakes(t *testing.T) {
	v := roof.Visit{By: "A", Weather: "dry", Coverings: 1, Age: 15, HasAge: true}
	changed := v.Take(&roof.Visit{By: "B", Weather: "dry", Hours: 50, HasHours: true})
	if strings.Join(changed, " ") != "surveyed_by" || v != (roof.Visit{By: "B", Weather: "dry", Coverings: 1, Age: 15, HasAge: true, Hours: 50, HasHours: true}) {
		t.Errorf("%v %+v", changed, v)
	}
	if v.Lasting() != (roof.Visit{Coverings: 1}) {
		t.Errorf("%+v", v.Lasting())
	}
}
