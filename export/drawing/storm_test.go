package drawing_test

import (
	"strings"
	"testing"

	"runnel/export/drawing"
	"runnel/export/record"
	"runnel/export/sample"
)

// The plan of a roof under a storm names the case that it hatches, its greatest depth, and what is left below the sill; the plan of the
// same roof without rain says nothing of that.
func TestGreatestWaterIsOnThePlan(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
	w := b.DesignWater()
	if w == nil || !w.Primary || w.Case != "RD-1 blocked" {
		t.Fatalf("the state that is drawn is %+v", w)
	}
	got := words(t, b)
	for _, want := range []string{b.Units.SayDepth(w.Depth) + " of rain water, " + b.Units.SayPressure(w.Load), "with RD-1 blocked", "Hatched: greatest depth", "DS-2", "in the rain"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not on the plan: %s", want, got)
		}
	}
	if got := words(t, record.NewBook(sample.Study(sample.Local()), "", record.SI)); strings.Contains(got, "in the rain") || strings.Contains(got, "Hatched") {
		t.Error("water of no rain is hatched")
	}
}

func words(t *testing.T, b *record.Book) string {
	t.Helper()
	sheets, err := drawing.Plan(b, drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, s := range sheets {
		for _, l := range s.Layers {
			for _, text := range l.Texts {
				out = append(out, text.String)
			}
		}
	}
	return strings.Join(out, " ")
}
