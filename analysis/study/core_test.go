package study_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// By hand: 50 mm at 0.025 W/(m K), 40 m K/W, resist 2.0 m2 K/W. A name that no layer has is said, one that the table knows a layer
// by is not; without cores nothing is said.
func TestOwnResistances(t *testing.T) {
	r := shape.Plane(12, 8, 0.02, 6)
	own := study.Options{PerMetre: map[string]float64{"polyiso": 40, "polyso": 40, "Cork": 25}}
	s, err := study.Run(r, own)
	if err != nil {
		t.Fatal(err)
	}
	before := s.Warnings
	if slices.ContainsFunc(before, func(w string) bool { return strings.Contains(w, "No layer") }) {
		t.Errorf("without cores: %q", before)
	}
	r.Cores = []roof.Core{{Position: roof.Position{Plan: orb.Point{6, 4}}, Layers: []roof.Layer{{Material: "iso board", Thickness: 0.05}}}}
	if s, err = study.Run(r, own); err != nil {
		t.Fatal(err)
	}
	want := append(slices.Clone(before),
		`No layer of a core is "Cork": its thermal resistance is not used.`, `No layer of a core is "polyso": its thermal resistance is not used.`)
	if !slices.Equal(s.Warnings, want) {
		t.Errorf("warnings %q, want %q", s.Warnings, want)
	}
	if c := s.Assembly.Cores[0]; !c.RKnown || !(math.Abs(c.R-2) <= 1e-9) {
		t.Errorf("R %v, want 2", c.R)
	}
}
