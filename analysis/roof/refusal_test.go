package roof_test

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
)

func TestRefusalKeepsTwentyAndCountsTheRest(t *testing.T) {
	var r roof.Refusal
	if r.Err() != nil {
		t.Error("an empty refusal is an error")
	}
	for range roof.MaxProblems + 3 {
		r.Add(roof.Problem{
			Origin: roof.Origin{File: "spots.csv", Line: 4, ID: "17"}, At: orb.Point{1.5, 2}, HasAt: true,
			Rule: "two elevations at one place", Mend: "drop one",
		})
	}
	lines := strings.Split(r.Err().Error(), "\n")
	if len(lines) != roof.MaxProblems+1 || lines[roof.MaxProblems] != "and 3 more" {
		t.Errorf("%d lines, last %q", len(lines), lines[len(lines)-1])
	}
	if want := "spots.csv line 4 (17) at (1.5, 2): two elevations at one place; drop one"; lines[0] != want {
		t.Errorf("line %q, want %q", lines[0], want)
	}
}
