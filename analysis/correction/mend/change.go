package mend

import (
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
)

// Change is one thing that is done.
type Change struct {
	Kind    Kind
	Finding finding.Kind // that it mends; empty: none
	Pond    string       // id of the pond that it dries, else empty
	What    finding.Text
	Decides string
	Opened  float64 // membrane opened or covered for it [m2]
	At      orb.Point
	Line    orb.LineString   // a cut line or channel, else nil
	More    []orb.LineString // further lines of the same change
	Brief   string           // what is done in a few words, where the kind does not say it; else empty
}

// Question is something that nobody knows and that decides.
type Question struct {
	Ask     finding.Text // a question
	Where   string       // where to cut, look or measure
	At      orb.Point
	Decides string
	If      finding.Text // the finding on which Then is done
	Then    finding.Text
	Asked   roof.Asked // under which the answer counts; empty: it decides nothing here
}

// Sentence returns what is asked with its full stop.
func (q *Question) Sentence() finding.Text {
	t := q.Ask
	if !strings.HasSuffix(t.Format, "?") {
		t.Format += "."
	}
	return t
}
