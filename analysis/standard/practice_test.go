package standard_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/standard"
)

// BS 6229:2018 (read): 1:80 finished, 1:40 by design, which are 1.25 and 2.5 %; DIN 18531-1 as practised (read): valleys 1 %.
func TestEuropeanDefaults(t *testing.T) {
	us, eu := standard.Defaults(), standard.DefaultsOf(standard.EU)
	for name, c := range map[string][2]float64{
		"as found": {eu.MinSlope, 0.0125}, "new": {eu.MinSlopeNew, 0.025}, "valley": {eu.MinValleySlope, 0.01}, "depth": {eu.PondDepth, us.PondDepth},
	} {
		if !(math.Abs(c[0]-c[1]) <= 1e-12) {
			t.Errorf("%s: %g, want %g", name, c[0], c[1])
		}
	}
	if got := standard.DefaultsOf(standard.US); got != us {
		t.Errorf("%+v", got)
	}
	for _, name := range append(standard.Names(), standard.MinSlopeNewName) {
		s, ok := standard.CiteIn(standard.EU, name)
		if !ok || strings.Contains(s.Text, "International") || strings.Contains(s.Text, "ASCE") {
			t.Errorf("%s: %q, %v", name, s.Text, ok)
		}
	}
}

func TestPracticesByName(t *testing.T) {
	for name, want := range map[string]standard.Practice{"": standard.US, "us": standard.US, "eu": standard.EU} {
		if got, err := standard.ParsePractice(name); err != nil || got != want {
			t.Errorf("%q: %v, %v", name, got, err)
		}
	}
	if _, err := standard.ParsePractice("uk"); err == nil || !strings.Contains(err.Error(), "us or eu") {
		t.Errorf("%v", err)
	}
}

func TestMarksOfSources(t *testing.T) {
	for s, want := range map[standard.Source]string{
		{Text: "EN 12056-3", Read: false}: "from memory", {Text: "EN 12056-3", Read: true}: "read",
		{Text: "common practice, no source: 1/2 in", Read: true}: "", {Text: "own choice, no source: half"}: "", {Text: "stated by the user"}: "",
	} {
		if got := s.Mark(); got != want {
			t.Errorf("%q: %q, want %q", s.Text, got, want)
		}
	}
}
