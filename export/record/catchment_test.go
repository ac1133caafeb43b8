package record_test

import (
	"strings"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/study"
	"runnel/export/record"
)

// TestCatchmentThatIsOpen: the roof falls 2 % onto a wall whose foot is level, so errors of 5 mm send all of it to either scupper. A cricket of 2 m between the scuppers
// and slopes of 3 % from the corners leave nothing open: each scupper has the half of the roof on its side.
func TestCatchmentThatIsOpen(t *testing.T) {
	saddle := shape.Saddle(6, 18, 2, 0.06)
	parted := func(x, y float64) float64 { return saddle(x, y) + max(0, 0.03*(6-x), 0.03*(x-18)) }
	for _, c := range []struct {
		name   string
		relief func(x, y float64) float64
		want   bool
	}{{"level foot", nil, true}, {"cricket", parted, false}} {
		r := shape.Scuppered(24, 12, 0.02, 6, 18, 1.5, c.relief)
		for i := range r.Spots {
			r.Spots[i].Sigma = 0.005
		}
		s, err := study.Run(r, study.Options{})
		if err != nil {
			t.Fatal(err)
		}
		b := record.NewBook(s, "", record.SI)
		for i := range s.Surface.Outlets {
			said := b.SayCatchment(i)
			if ranged := strings.Contains(said, " to "); b.OpenCatchment(i) != c.want || ranged != c.want {
				t.Errorf("%s: %s takes %s", c.name, s.Surface.Outlets[i].Label, said)
			}
		}
	}
}
