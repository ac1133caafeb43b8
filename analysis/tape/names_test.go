package tape_test

import (
	"fmt"
	"slices"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/hold"
	"runnel/analysis/roof"
	"runnel/analysis/tape"
)

// The heights that a water gives are numbered from 1 by what gives them: its edge, its soundings, its bowl.
func TestHeightsOfAWaterAreNumbered(t *testing.T) {
	w := shed().Tape.Waters[0]
	var want []string
	for _, part := range []struct {
		letter string
		n      int
	}{{"E", 12}, {"D", 1}, {"B", 24}} {
		for i := range part.n {
			want = append(want, fmt.Sprintf("P1-%s%d", part.letter, i+1))
		}
	}
	spots, _ := tape.WaterSpots(&w, hold.Reading{Z: 50, Sigma: 0.003, Known: true})
	var got []string
	for i := range spots {
		got = append(got, spots[i].ID)
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Probes are spots but for inlets, numbered by their place among all probes; one without an error of its own has that of the survey.
func TestProbesAreSpots(t *testing.T) {
	r := shed()
	r.Tape.Sigma = 0.004
	r.Tape.Probes = []roof.Probe{
		{Kind: roof.LowProbe, Position: roof.Position{Plan: at(50, 30), Z: 1, HasZ: true}},
		{Kind: roof.InletProbe, Position: roof.Position{Plan: at(40, 30), Z: 1.1, HasZ: true}},
		{Kind: roof.BeforeProbe, Position: roof.Position{Plan: at(42, 30), Z: 1.2, HasZ: true}, Sigma: 0.002},
	}
	got := tape.ProbeSpots(r)
	if len(got) != 2 || got[0].ID != "R1" || got[1].ID != "R3" || got[0].Origin.ID != "R1" || got[0].Sigma != 0.004 || got[1].Sigma != 0.002 || got[0].Z != 1 || got[1].Plan != at(42, 30) {
		t.Errorf("%+v", got)
	}
}

// Where a place lies, by hand: from the nearer of two walls each way, that to the west or east first; within 20 mm of a wall it is on it.
func TestWhereAPlaceLies(t *testing.T) {
	s := of(shed())
	say := func(q finding.Quantity) string {
		if q.Word != "" {
			return q.Word
		}
		return fmt.Sprintf("%.1f ft", q.Value/foot)
	}
	for want, p := range map[string][2]float64{
		"50.0 ft from the west wall, 25.0 ft from the south wall": {50, 25},
		"10.0 ft from the east wall, 5.0 ft from the north wall":  {110, 55},
		"5.0 ft from the west wall, 20.0 ft from the south wall":  {5, 20},
		"on the west wall, 20.0 ft from the south wall":           {0.06, 20},
		"0.1 ft from the west wall, 20.0 ft from the south wall":  {0.07, 20},
		"20.0 ft from the west wall, on the north wall":           {20, 59.95},
		"on the east wall, on the north wall":                     {120, 60},
	} {
		if text := s.Where(at(p[0], p[1])); text.Fill(say) != want {
			t.Errorf("%v: %q, want %q", p, text.Fill(say), want)
		}
	}
}
