package model

import (
	"strings"
	"testing"

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
