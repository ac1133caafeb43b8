package mend

import (
	"slices"
	"strings"
	"testing"

	"runnel/analysis/finding"
)

// TestOrderOfMends: by preference; within a rank the smaller area, from 0.01 m2 on; then fewer trades, a plumber's work inside counting as one more; then less volume, from 0.1 l on; else as they were.
func TestOrderOfMends(t *testing.T) {
	d := &Designer{}
	mends := []Mend{
		{Kind: Retaper, Area: 0, Volume: 1, Sump: 1},
		{Kind: Fill, Area: 5, Volume: 2, Sump: 2},
		{Kind: Fill, Area: 5.005, Volume: 1, Sump: 3},
		{Kind: Fill, Area: 4, Volume: 9, Sump: 4},
		{Kind: Fill, Area: 5, Volume: 0, Decides: []string{finding.Roofer, finding.Engineer}, Sump: 5},
		{Kind: Fill, Area: 5, Decides: []string{finding.Plumber}, Volume: 0.5, Sump: 6},
		{Kind: Fill, Area: 5.0, Volume: 1.00005, Sump: 7},
		{Kind: LowerRise, Area: 9, Sump: 8},
	}
	d.order(mends)
	var got []float64
	for i := range mends {
		got = append(got, mends[i].Sump)
	}
	if want := []float64{8, 4, 3, 7, 2, 5, 6, 1}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	for want, who := range map[int][]string{0: nil, 1: {finding.Roofer}, 2: {finding.Plumber}, 3: {finding.Roofer, finding.Plumber}} {
		if got := (&Mend{Decides: who}).effort(); got != want {
			t.Errorf("%v take %d, want %d", who, got, want)
		}
	}
}

// TestPhraseOfEachKind: each kind says in a few words what is done, without its own name's hyphen; a change says its own words first.
func TestPhraseOfEachKind(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range append(Kinds(), AsFound, Combined) {
		p := k.Phrase()
		if p == "" || p == string(k) || seen[p] || strings.ToUpper(p[:1]) == p[:1] || strings.HasSuffix(p, ".") {
			t.Errorf("%s: %q", k, p)
		}
		seen[p] = true
	}
	if got := Kind("no-kind").Phrase(); got != "no-kind" {
		t.Errorf("%q", got)
	}
	if a, b := (&Change{Kind: Fill}).Phrase(), (&Change{Kind: Fill, Brief: "fill it"}).Phrase(); a != Fill.Phrase() || b != "fill it" {
		t.Errorf("%q, %q", a, b)
	}
}

// TestPreferenceOfKinds: kinds stand in their order but for those that the user prefers; a scupper's floor comes between crickets and edges, unless the user says where outlets come. What the user forbids, or leaves out of all that is allowed, is not looked at.
func TestPreferenceOfKinds(t *testing.T) {
	s := &Steering{Prefer: []Kind{Retaper, Fill}}
	order := s.Preference()
	if order[0] != Retaper || order[1] != Fill || order[2] != Clear || len(order) != len(Kinds()) {
		t.Errorf("%v", order)
	}
	plain := &Steering{}
	rank := func(s *Steering, k Kind, scupper bool) int { return s.Rank(&Mend{Kind: k, scupper: scupper}) }
	if a, b, c := rank(plain, Cricket, false), rank(plain, LowerOutlet, true), rank(plain, LowerEdge, false); a >= b || b >= c {
		t.Errorf("cricket %d, scupper %d, edge %d", a, b, c)
	}
	if a, b, c := rank(plain, LowerRise, false), rank(plain, LowerOutlet, false), rank(plain, ReplacePatch, false); a >= b || b >= c {
		t.Errorf("rise %d, drain %d, patch %d", a, b, c)
	}
	if first := (&Steering{Prefer: []Kind{LowerOutlet}}); rank(first, LowerOutlet, true) != 0 {
		t.Errorf("preferred: %d", rank(first, LowerOutlet, true))
	}
	for _, c := range []struct {
		s    Steering
		want bool
	}{{Steering{}, true}, {Steering{Only: []Kind{Fill}}, true}, {Steering{Only: []Kind{Cricket}}, false}, {Steering{Forbid: []Kind{Fill}}, false}, {Steering{Only: []Kind{Fill}, Forbid: []Kind{Fill}}, false}} {
		if got := c.s.Allows(Fill); got != c.want {
			t.Errorf("%+v: %v", c.s, got)
		}
	}
}
