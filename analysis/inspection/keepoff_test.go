package inspection_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/inspection"
	"runnel/analysis/roof"
)

// plain fills a text without units: names as they stand, numbers as Go writes them.
func plain(t finding.Text) string {
	return t.Fill(func(q finding.Quantity) string {
		if q.Dim == finding.Name {
			return q.Word
		}
		return fmt.Sprintf("%.3g", q.Value)
	})
}

// withCore cuts a core at (x, y) into a deck that is described so.
func withCore(r *roof.Roof, x, y float64, deck string) *roof.Roof {
	r.Cores = append(r.Cores, roof.Core{
		Feature: roof.Feature{ID: "C1"}, Position: roof.Position{Plan: orb.Point{x, y}}, Deck: deck,
		Layers: []roof.Layer{{Material: "polyiso", Thickness: 0.1, Condition: "sound"}},
	})
	return r
}

// noted records standing water with a note.
func noted(r *roof.Roof, depth float64, note string) *roof.Roof {
	stained(r, 0, 0, 1, depth)
	r.Stains[len(r.Stains)-1].Note = note
	return r
}

// sagging is a roof that falls at 20 mm per m to a gutter and sags 60 mm below its plane over a radius of 2.5 m. On the fall line through
// the middle of the dish water stands 60 (1 - 50/120)² = 20.4 mm deep.
func sagging() *roof.Roof {
	const slope, sag, radius = 0.02, 0.06, 2.5
	r := shape.New("sagging", shape.Bare(0, 0), shape.Bare(20, 0), shape.Bare(20, 14), shape.Bare(0, 14))
	shape.Grid(r, 0, 0, 20, 14, 40, 28, func(x, y float64) float64 {
		d := math.Hypot(x-10, y-7) / radius
		return float64(slope*y) - float64(sag*math.Max(0, 1-float64(d*d)))
	})
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(20, 0))
	return r
}

// TestKeepOff: each hazard of a roof, and roofs just short of it. Depths are those of the pyramid's raised drain; over 2 in is 50.8 mm.
func TestKeepOff(t *testing.T) {
	for _, c := range []struct {
		name   string
		roof   *roof.Roof
		hazard inspection.Hazard // empty: nobody need keep off
		says   string
	}{
		{"50 mm, by readings of 0.3 mm", readBy(pyramid(0.02, 0.050), 0.0003), "", ""},
		{"50 mm, by readings of 2 mm", readBy(pyramid(0.02, 0.050), 0.002), inspection.DeepWater, "when full P01 may be 0.05"},
		{"90 mm", pyramid(0.02, 0.090), inspection.DeepWater, "when full P01 is 0.09 deep"},
		{"sound deck", withCore(pyramid(0.02, 0.020), 2, 2, "steel"), "", ""},
		{"rotten deck", withCore(pyramid(0.02, 0.020), 2, 2, "wood, rotten"), inspection.DoubtfulDeck, "the deck is soft, rotten or rusted at one core"},
		{"rusted deck", withCore(pyramid(0.02, 0.020), 2, 2, "Steel: rusted through"), inspection.DoubtfulDeck, "at one core"},
		{"water of 50 mm seen", noted(pyramid(0.02, 0.020), 0.050, ""), "", ""},
		{"water of 60 mm seen", noted(pyramid(0.02, 0.020), 0.060, ""), inspection.DeepWaterSeen, "water 0.06 deep was seen"},
		{"a note on leaves", noted(pyramid(0.02, 0.020), 0.010, "full of leaves"), "", ""},
		{"a note on noises", noted(pyramid(0.02, 0.020), 0.010, "Beams creaking below"), inspection.Overload, "signs of overload were noted"},
		{"a dish", sagging(), inspection.Sag, "bent down like a dish under P01"},
	} {
		s := run(t, c.roof, nil)
		if (c.hazard != "") != s.KeepOff.Is() {
			t.Errorf("%s: keep off %v: %v", c.name, s.KeepOff.Is(), s.KeepOff.Reasons)
			continue
		}
		if c.hazard == "" {
			continue
		}
		first := plain(s.KeepOff.First())
		if got := s.KeepOff.Reasons[0].Hazard; got != c.hazard || !strings.Contains(first, c.says) ||
			!strings.HasPrefix(first, "Keep off, and call a structural engineer today: ") {
			t.Errorf("%s: %s: %q, want %s and %q", c.name, got, first, c.hazard, c.says)
		}
		nobodyGoesOn(t, c.name, s.Findings)
	}
}

// nobodyGoesOn fails where a finding sends somebody onto a roof that is kept off: what it asks for must begin with keep off, or wait for the
// engineer, or be done elsewhere, as by an owner who plans.
func nobodyGoesOn(t *testing.T, name string, all []finding.Finding) {
	t.Helper()
	for _, f := range all {
		do := plain(f.Do)
		if f.Decides != finding.Owner && !strings.HasPrefix(do, "Keep off") && !strings.HasPrefix(do, "Once the engineer lets people on: ") {
			t.Errorf("%s: %s says %q", name, f.Kind, do)
		}
	}
}

// TestKeepOffComesFirstOnItsPond: the deep pond's own finding says keep off before anything else and leaves it to the engineer; another
// finding on the same roof waits; on a roof without a hazard neither says so.
func TestKeepOffComesFirstOnItsPond(t *testing.T) {
	deep := run(t, pyramid(0.02, 0.090), nil)
	f := of(deep, finding.OutletHigh)[0]
	if do := plain(f.Do); !strings.HasPrefix(do, "Keep off, and call a structural engineer today. Once the engineer lets people on: ") || f.Decides != finding.Engineer {
		t.Errorf("%q, decides %s", do, f.Decides)
	}
	if after := plain(deep.KeepOff.After(f.Do)); !strings.HasPrefix(after, "Once the engineer") {
		t.Errorf("after the first step: %q", after)
	}
	shallow := run(t, pyramid(0.02, 0.020), nil)
	f = of(shallow, finding.OutletHigh)[0]
	if do := plain(f.Do); strings.Contains(do, "engineer") || f.Decides != finding.Plumber {
		t.Errorf("shallow: %q, decides %s", do, f.Decides)
	}
}

// What an engineer answered of a deck counts for a dish: the outlet that stands too high stays the plumber's.
func TestAnswerOnTheDeckBesideAHighOutlet(t *testing.T) {
	r := pyramid(0.02, 0.020)
	r.Answers = append(r.Answers, roof.Answer{Question: string(roof.AskDeck), Text: "as inspected", By: "an engineer", On: "2026-03-14", Yes: true})
	for _, placed := range []bool{false, true} {
		r.Answers[0].Placed, r.Answers[0].Plan = placed, r.Outlets[0].Plan
		if f := of(run(t, r, nil), finding.OutletHigh)[0]; strings.Contains(plain(f.Why), "The deck here is sound") || f.Decides != finding.Plumber {
			t.Errorf("%q, decides %s", plain(f.Why), f.Decides)
		}
	}
}

// A dish is no hazard where an engineer answered that the deck under it is sound; an answer that it is not leaves it one.
func TestAnswerOnTheDeckUnderADish(t *testing.T) {
	for _, yes := range []bool{true, false} {
		r := sagging()
		r.Answers = append(r.Answers, roof.Answer{Question: string(roof.AskDeck), Plan: orb.Point{10, 6}, Placed: true, Text: "as inspected", By: "an engineer", On: "2026-03-14", Yes: yes})
		got := run(t, r, nil)
		if off := got.KeepOff.Is(); off == yes {
			t.Errorf("deck sound %t: keep off %t", yes, off)
		}
		if f := of(got, finding.Dish)[0]; strings.Contains(plain(f.Why), "The deck here is sound, answered an engineer on 2026-03-14.") != yes || (plain(f.Do) == inspection.SoundDish) != yes || (f.Decides == finding.Roofer) != yes {
			t.Errorf("deck sound %t: %q, %q, decides %s", yes, plain(f.Why), plain(f.Do), f.Decides)
		}
	}
}
