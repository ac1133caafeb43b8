package inspection

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/evidence"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/surface"
)

// The widest circle without a spot, wherever the roof stands, against a search over places 5 cm apart; and by hand how far a place lies from the footprint of a drain 0.3 m wide.
func TestWidestGapIsTheWidestCircle(t *testing.T) {
	const ox, oy = 130.0, -75.0
	hole, hard := orb.Point{ox + 8.3, oy + 6.1}, 3.0
	r := shape.New("gap", shape.At(ox, oy, 0), shape.At(ox+16, oy, 0.16), shape.At(ox+16, oy+12, 0.40), shape.At(ox, oy+12, 0.24))
	var spots []orb.Point
	for x := 0.0; x <= 16; x++ {
		for y := 0.0; y <= 12; y++ {
			p := orb.Point{ox + x, oy + y}
			if math.Hypot(p[0]-hole[0], p[1]-hole[1]) < hard || x > 10 && y == 4 && x < 13 {
				continue
			}
			shape.Spot(r, p[0], p[1], 0.01*x+0.02*y)
			spots = append(spots, p)
		}
	}
	o := shape.Drain(r, ox+2.5, oy+2.5, 0.3)
	o.Invert, o.HasInvert = 0, true
	s := shape.Build(t, r)
	want, at := 0.0, orb.Point{}
	for x := 4.0; x < 13; x += 0.05 {
		for y := 3.0; y < 10; y += 0.05 {
			least := math.Inf(1)
			for _, q := range spots {
				least = math.Min(least, math.Hypot(q[0]-ox-x, q[1]-oy-y))
			}
			if 2*least > want {
				want, at = 2*least, orb.Point{ox + x, oy + y}
			}
		}
	}
	got, middle := widestGap(s, surface.NewLocator(s.TIN))
	if !(math.Abs(got-want) <= 0.1) || got < want-1e-9 || !(math.Hypot(middle[0]-at[0], middle[1]-at[1]) <= 0.5) {
		t.Errorf("%g m across about %v, want %g about %v", got, middle, want, at)
	}
	in := &inspector{Results: &Results{Surface: s}, locate: surface.NewLocator(s.TIN)}
	for q, want := range map[orb.Point]float64{{ox + 2.5, oy + 6.5}: 3.85, {ox + 5.5, oy + 2.5}: 2.85, {ox + 5.5, oy + 6.5}: 4.85} {
		if got := in.toFootprint(0, q); !(math.Abs(got-want) <= 0.01) {
			t.Errorf("%v lies %g m from the drain, want %g", q, got, want)
		}
	}
}

// Water that nothing lets out is not surveyed where nobody looked for outlets; where somebody says that there is none it stands as computed.
func TestHowEnclosedWaterStands(t *testing.T) {
	for none, want := range map[bool]Standing{false: Unsurveyed, true: AsComputed} {
		r := shape.New("shut", shape.At(0, 0, 0), shape.At(8, 0, 0), shape.At(8, 6, 0), shape.At(0, 6, 0))
		shape.Spot(r, 3, 3, -0.05)
		r.Outline.NoOutlets = none
		s := shape.Build(t, r)
		ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
		if err != nil {
			t.Fatal(err)
		}
		if got := StandingOf(r, s, ps, &evidence.Result{Ponds: []evidence.Verdict{{Shown: true}}}); len(got) != 1 || got[0] != want {
			t.Errorf("said to have none %t: %v, want %v", none, got, want)
		}
	}
}
