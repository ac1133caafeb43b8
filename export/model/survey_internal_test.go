package model

import (
	"strings"
	"testing"

	"runnel/analysis/assembly"
	"runnel/export/record"
	"runnel/export/sample"
)

// TestOneSpotIsNotSpots: a roof known by its outline and one spot has "1 spot", many have thousands set off.
func TestOneSpotIsNotSpots(t *testing.T) {
	for n, want := range map[int]string{1: "1 spot, about ", 2: "2 spots, about ", 1204: "1,204 spots, about "} {
		s := sample.Study(sample.Local())
		s.Survey.Spots = n
		if got := newTeller(record.NewBook(s, "", record.SI)).survey(); !strings.HasPrefix(got, want) {
			t.Errorf("%d: %q", n, got)
		}
	}
}

// The walk to more spots begins at the first and ends at the last of them.
func TestWalkToMoreSpots(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	for n, want := range map[int]string{1: "1 more spot would tell most, 0.0 m to walk from the first to the last: M01 to M01 on", 12: "12 more spots would tell most, 0.0 m to walk from the first to the last: M01 to M12 on"} {
		b.NextSpots = make([]record.NextSpot, n)
		if got := newTeller(b).survey(); !strings.Contains(got, want) {
			t.Errorf("%d: %q", n, got)
		}
	}
}

// Cores that tell nothing lead on to where to cut next only where such places are listed.
func TestWhereToCutNextIsSaidOnceThereIsAPlace(t *testing.T) {
	s := sample.Study(sample.Local())
	for i := range s.Assembly.Regions {
		s.Assembly.Regions[i].Verdict = assembly.NotResolved
	}
	b := record.NewBook(s, "", record.SI)
	for n, want := range map[int]bool{0: false, 1: true} {
		b.NextCores = make([]record.NextCore, n)
		if got := newTeller(b).slopeIsIn(); strings.Contains(strings.ToLower(got), "where to cut next") != want || !strings.Contains(got, "the cores do not tell") {
			t.Errorf("%d places: %q", n, got)
		}
	}
}
