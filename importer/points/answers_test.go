package points_test

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/importer/points"
)

// Where only an outlet has no elevation, no spot is left out, and none is named.
func TestAZeroOfAnOutletLeavesOutNoSpot(t *testing.T) {
	d := mustRead(t, "x,y,z,code\n1,1,100,\n3,3,0,DRAIN\n", points.Options{})
	if want := "a.csv: elevations of exactly 0 among others that are not were not used: 1. Say --keep-zero if they were measured."; len(d.Warnings) != 1 || d.Warnings[0] != want {
		t.Errorf("%q, want %q", d.Warnings, want)
	}
}

// By hand: a question has a number from 1 to 1000 on paper, or none; what else stands there is refused, and so is an answer without a name or a day.
func TestAnswersAreRead(t *testing.T) {
	row := func(more string) string {
		return "x,y,z,code\n1,2,,\"ANSWER question=\"\"May the drain go lower?\"\" answer=yes by=\"\"A. Person\"\" on=2026-12-02 to=owner covers=\"\"P1 and P2\"\"" + more + "\"\n"
	}
	for text, want := range map[string]int{"": 0, " number=1": 1, " number=1000": 1000} {
		d := mustRead(t, row(text), points.Options{})
		if len(d.Answers) != 1 {
			t.Fatalf("%q: %+v", text, d.Answers)
		}
		if a := d.Answers[0]; a.Number != want || a.Question != "May the drain go lower?" || a.Text != "yes" || a.By != "A. Person" || a.On != "2026-12-02" || a.To != roof.ToOwner || a.Covers != "P1 and P2" || a.Plan != (orb.Point{1, 2}) || !a.Placed {
			t.Errorf("%q: %+v", text, a)
		}
	}
	for _, number := range []string{"0", "-1", "1001", "two"} {
		if _, problems := read(row(" number="+number), points.Options{}); problems.Err() == nil || !strings.Contains(problems.Err().Error(), "is no number of a question") {
			t.Errorf("number %s: %v", number, problems.Err())
		}
	}
}

// A spot has the error that its row states, in its unit, none where it states none; one below nothing is refused.
func TestErrorsOfSpots(t *testing.T) {
	d := mustRead(t, "x,y,z,sigma_mm,code\n1,1,100,,\n2,2,101,3,\n3,3,102,0,SPOT\n", points.Options{})
	for i, want := range []float64{0, 0.003, 0} {
		if got := float64(d.Spots[i].Sigma); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("spot %d: %g m, want %g", i, got, want)
		}
	}
	if _, problems := read("x,y,z,sigma_mm\n1,1,100,-3\n", points.Options{}); problems.Err() == nil {
		t.Error("an error of -3 mm is taken")
	}
	if d := mustRead(t, "x,y,z,code\n1,1,100,\n2,2,101,SPOT\n", points.Options{}); d.Spots[0].Sigma != 0 || d.Spots[1].Sigma != 0 {
		t.Errorf("errors that nobody stated: %g and %g", d.Spots[0].Sigma, d.Spots[1].Sigma)
	}
}
