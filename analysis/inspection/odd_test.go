package inspection_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// slipped is a roof of 20 x 12 m that falls at 25 mm a metre to a gutter, in metres, with a spot in its middle booked off by so much [m].
func slipped(off float64) *roof.Roof {
	r := shape.New("slipped", shape.At(0, 0, 0), shape.At(20, 0, 0), shape.At(20, 12, 0.3), shape.At(0, 12, 0.3))
	shape.Grid(r, 0, 0, 20, 12, 10, 6, func(_, y float64) float64 { return 0.025 * y })
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(20, 0))
	i := slices.IndexFunc(r.Spots, func(s roof.Spot) bool { return s.Plan == orb.Point{10, 6} })
	r.Spots[i].Z += off
	r.Spots[i].ID = "middle"
	return r
}

// TestSpotOdd: a spot booked 0.1 m low on an even plane is a note that names it, the slip, and both flags; the pond that it makes says so, is not
// resolved, and sends to the field book first. Without the slip there is neither; a spot that is meant is no finding, and its pond is one.
func TestSpotOdd(t *testing.T) {
	if s := run(t, slipped(0), nil); len(of(s, finding.SpotOdd)) != 0 || len(s.Listed) != 0 {
		t.Errorf("even plane: %v", s.Findings)
	}
	s := run(t, slipped(-0.1), nil)
	odd := of(s, finding.SpotOdd)
	if len(odd) != 1 || len(s.Listed) != 1 {
		t.Fatalf("%d odd, %d ponds", len(odd), len(s.Listed))
	}
	f := odd[0]
	text := plain(f.What) + " " + plain(f.Why) + " " + plain(f.Do)
	for _, want := range []string{"Spot middle stands 0.1 lower than the spots round it say.", "They say 0.15; it is booked as 0.05.", "one tenth out", "--drop middle", "--keep middle"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q does not say %q", text, want)
		}
	}
	if f.Severity != finding.Note || f.Geometry != (orb.Point{10, 6}) {
		t.Errorf("%+v", f)
	}
	for i := range s.Findings {
		if p := &s.Findings[i]; p.Pond >= 0 && (p.Confidence != finding.NotResolved || !strings.Contains(plain(p.Why), "does not fit: spot middle") ||
			!strings.Contains(plain(p.Do), "Look up in the field book the height that does not fit: spot middle. Once the engineer lets people on: Shoot it again.")) {
			t.Errorf("the pond: %s, %q, %q", p.Confidence, plain(p.Why), plain(p.Do))
		}
	}
	if first := plain(s.KeepOff.First()); !strings.Contains(first, " deep, by a height that does not fit: spot middle. Clear the space below.") {
		t.Errorf("first: %q", first)
	}
	if c := s.Confidence(0); c != finding.NotResolved {
		t.Errorf("listed as %s", c)
	}
	meant := slipped(-0.1)
	meant.Kept = []string{"middle"}
	if s := run(t, meant, nil); len(of(s, finding.SpotOdd)) != 0 || len(s.Listed) != 1 || s.Confidence(0) != finding.Shown || strings.Contains(plain(s.KeepOff.First()), "does not fit") {
		t.Errorf("meant: %v", s.Findings)
	}
}
