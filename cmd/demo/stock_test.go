package demo_test

import (
	"os"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/standard"
	"runnel/cmd/demo"
)

// TestStockOverlaysDrain: stock boards over 10 invented roofs, 40 with RUNNEL_LONG=1, leave no pond and nothing too flat, and every one of them can be analysed.
func TestStockOverlaysDrain(t *testing.T) {
	n := uint64(10)
	if os.Getenv("RUNNEL_LONG") == "1" {
		n = 40
	}
	laid := 0
	for seed := uint64(mendSeed) + 101; seed < mendSeed+101+n; seed++ {
		before := check(t, demo.Random(seed))
		out, err := correction.Of(&correction.Input{Study: before, Deck: before.Assembly.Deck, Rates: standard.BoardRates, Steering: correction.Steering{Only: []correction.Kind{correction.Overlay}}})
		if err != nil {
			t.Fatal(err)
		}
		for i := range out.Options {
			o := &out.Options[i]
			if o.Kind != correction.Overlay {
				continue
			}
			laid++
			if !o.Possible || o.PondsLeft+o.FlatLeft > 0 || !o.Design.Stocked() {
				t.Errorf("roof %d: possible %t, %d ponds, %d too flat: %+v", seed, o.Possible, o.PondsLeft, o.FlatLeft, o.Why)
			}
		}
	}
	t.Logf("%d overlays", laid)
	if laid < int(n)/2 {
		t.Errorf("only %d overlays", laid)
	}
}

// TestRidgeThatEndsBesideTheOutline: a ridge of this roof ends 10 mm off the outline, onto which the survey moved it, where heights differ by 6 mm. A corrected roof has it where it was moved to: the ring of laps comes off and
// opens less than 1 % of the roof.
func TestRidgeThatEndsBesideTheOutline(t *testing.T) {
	before := check(t, demo.Random(9000101))
	out, err := correction.Of(&correction.Input{Study: before, Deck: before.Assembly.Deck})
	if err != nil {
		t.Fatal(err)
	}
	o := &out.Options[out.Answers[0].Option]
	if o.Kind != correction.LowerRise || o.PondsLeft > 0 || o.Opened > 0.01*before.Surface.Area {
		t.Errorf("%s, %d ponds left, opens %g m2", o.Kind, o.PondsLeft, o.Opened)
	}
}
