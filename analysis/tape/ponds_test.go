package tape_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/hold"
	"runnel/analysis/inspection"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/tape"
)

// dry is the shed without its water, with lowest places of ponds 3 and 4 read, each twice at two places, and the drain's inlet some inches over that of pond 3.
func dry(over float64) *roof.Roof {
	r := shed()
	r.Tape.Waters = nil
	for _, c := range []struct {
		of   string
		x, z float64
	}{{"3", 50, 0}, {"4", 70, 0.1}, {"3", 51, 0.2}, {"4", 72, 0.3}} {
		r.Tape.Probes = append(r.Tape.Probes, roof.Probe{Kind: roof.LowProbe, Of: c.of, Position: roof.Position{Plan: at(c.x, 30), Z: 100*foot + c.z*inch, HasZ: true}})
	}
	r.Outlets[0].Invert, r.Outlets[0].HasInvert = 100*foot+over*inch, true
	for _, d := range []float64{1, 2} {
		r.Tape.Probes = append(r.Tape.Probes, roof.Probe{Kind: roof.BeforeProbe, Of: "RD-1", Position: roof.Position{Plan: at(40+d, 30), Z: 100 * foot, HasZ: true}})
	}
	return r
}

// Lowest places make a pond for each number, also where nobody saw water; a finding it is only where heights show that it holds some. With 2.5 in that may stand over 2 in and no water seen, people keep off.
func TestPondsThatNobodySaw(t *testing.T) {
	for _, c := range []struct {
		over     float64 // in
		findings int     // of ponds
		urgent   bool
	}{{1.25, 2, false}, {2.5, 2, true}, {0.3, 0, false}, {-1, 0, false}} {
		s := of(dry(c.over))
		if len(s.Ponds) != 2 {
			t.Fatalf("%g in: %d ponds, want 2", c.over, len(s.Ponds))
		}
		seen := map[string]bool{}
		for i := range s.Ponds {
			p := &s.Ponds[i]
			seen[p.ID] = true
			if p.Water != nil || p.Weight != 0 || p.Depth != 0 || s.Exits[p.Exit].Name != "RD-1" {
				t.Errorf("%g in: %+v", c.over, p)
			}
			if want := vector.Distance(p.At, at(40, 30)); !(math.Abs(p.Distance-want) <= 1e-9) {
				t.Errorf("%g in: %s lies %g m from the drain, want %g", c.over, p.ID, p.Distance, want)
			}
		}
		if !seen["P3"] || !seen["P4"] {
			t.Errorf("%g in: %v", c.over, seen)
		}
		n := 0
		for _, f := range s.Findings {
			if f.Pond < 0 {
				continue
			}
			n++
			if (f.Severity == finding.Urgent) != c.urgent || c.urgent && f.Decides != finding.Engineer {
				t.Errorf("%g in: severity %d, decides the %s", c.over, f.Severity, f.Decides)
			}
			for _, m := range f.Measured {
				t.Errorf("%g in: %s of water that nobody saw", c.over, m.Name)
			}
		}
		if n != c.findings || s.KeepOff.Is() != c.urgent {
			t.Errorf("%g in: %d findings of ponds, keep off %v", c.over, n, s.KeepOff.Is())
		}
	}
}

// One pond is enough to warn of deep ponds and of what hides under water; a roof without any warns of neither, and of all else.
func TestCautions(t *testing.T) {
	has := func(s *tape.Survey, c inspection.Caution) bool {
		for _, is := range s.Cautions {
			if is == c {
				return true
			}
		}
		return false
	}
	with, without := of(shed()), shed()
	without.Tape.Waters = nil
	bare := of(without)
	for _, c := range []struct {
		caution    inspection.Caution
		wet, drier bool
	}{{inspection.DeepPond, true, false}, {inspection.Water, true, false}, {inspection.Height, true, true}, {inspection.Structure, true, true}, {inspection.LocalCode, true, true}} {
		if has(with, c.caution) != c.wet || has(bare, c.caution) != c.drier {
			t.Errorf("%q: with a pond %v, without %v", c.caution, has(with, c.caution), has(bare, c.caution))
		}
	}
}

// The bowl under a water lies inside its edge, also where the deepest sounding stands near one side of it; a sounding's height has the errors of level and ruler alone.
func TestBowlLiesInsideTheWater(t *testing.T) {
	w := shed().Tape.Waters[0]
	w.Soundings[0].Plan = at(52, 28.2)
	spots, bowl := tape.WaterSpots(&w, hold.Reading{Z: 50, Sigma: 0.003, Known: true})
	var ring orb.Ring
	for _, p := range w.Edge {
		ring = append(ring, p.Plan)
	}
	ring = append(ring, ring[0])
	if bowl == 0 {
		t.Fatal("no bowl")
	}
	for _, s := range spots[len(spots)-bowl:] {
		if !planar.RingContains(ring, s.Plan) || s.Z >= 50 {
			t.Errorf("a height of the bowl at %v, %g m", s.Plan, s.Z)
		}
	}
	close(t, "error of the sounding", float64(spots[12].Sigma), math.Hypot(0.003, inch/16), 1e-12)
}

// Overflows whose inlets nobody read are asked for, also where one stands first on the list: they say how high water can rise.
func TestOverflowsAreAskedFor(t *testing.T) {
	for _, first := range []bool{false, true} {
		r := shed()
		read(r, 0, 0.3, 0, 0, 0)
		i := 1
		if first {
			i = 0
			r.Outlets[0], r.Outlets[1] = r.Outlets[1], r.Outlets[0]
		}
		asked := 0
		for _, n := range of(r).Next {
			if n.Code == "INLET OS-1" {
				asked++
			}
		}
		r.Outlets[i].HasInvert = true
		for _, n := range of(r).Next {
			if n.Code == "INLET OS-1" {
				t.Error("an overflow is asked for whose inlet was read")
			}
		}
		if asked != 1 {
			t.Errorf("first on the list %v: asked for %d times", first, asked)
		}
	}
}

// Readings carry the survey's error, an inlet that was read by itself once too; a spot that states its own keeps it. Inlets stand first, then probes, then spots.
func TestReadings(t *testing.T) {
	r := dry(1.25)
	r.Tape.Probes = append(r.Tape.Probes, roof.Probe{Kind: roof.InletProbe, Of: "RD-1", Position: roof.Position{Plan: at(40, 30), Z: 30, HasZ: true}})
	stated := roof.Spot{Position: roof.Position{Plan: at(3, 3), Z: 31, HasZ: true}, Sigma: quantity.Length(0.001)}
	r.Spots = []roof.Spot{{Position: roof.Position{Plan: at(2, 2), Z: 30, HasZ: true}}, stated}
	s := of(r)
	got := s.Readings()
	want := []float64{s.Sigma, s.Sigma, s.Sigma, s.Sigma, s.Sigma, s.Sigma, s.Sigma, s.Sigma, 0.001}
	if len(got) != len(want) || !got[0].Inlet || got[0].What != "inlet of RD-1" || got[1].What != "lowest place of P3" || got[5].What != "before RD-1" {
		t.Fatalf("%+v", got)
	}
	for i := range want {
		if !(math.Abs(got[i].Sigma-want[i]) <= 1e-15) || got[i].Inlet != (i == 0) {
			t.Errorf("reading %d: %+v, want the error %g", i, got[i], want[i])
		}
	}
}

// Of ponds that weigh alike the wider comes first; one that nobody saw has no width. By hand: half a square metre of chalked water without a depth stands before a lowest place.
func TestTheWiderPondComesFirst(t *testing.T) {
	r := dry(-1)
	w := roof.Water{Number: "9", HoursSinceRain: 50}
	w.ID = "P9"
	for _, p := range []orb.Point{{0, 0}, {0.5, 0}, {1, 0}, {1, 0.5}, {0.5, 0.5}, {0, 0.5}} {
		w.Edge = append(w.Edge, roof.Position{Plan: orb.Point{20 + p[0], 9 + p[1]}})
	}
	r.Tape.Waters = []roof.Water{w}
	r.Tape.Probes = append([]roof.Probe{}, r.Tape.Probes...)
	if s := of(r); len(s.Ponds) != 3 || s.Ponds[0].ID != "P9" || s.Ponds[0].WeightMost != 0 {
		t.Errorf("%+v", s.Ponds)
	}
}

// One way off is enough for a roof not to be one of which no outlet was recorded.
func TestNoOutletRecorded(t *testing.T) {
	for n := range 3 {
		r := shed()
		r.Outlets = r.Outlets[:n]
		told := false
		for _, f := range of(r).Findings {
			told = told || f.Kind == finding.OutletsUnsurveyed
		}
		if told != (n == 0) {
			t.Errorf("%d outlets: told %v", n, told)
		}
	}
}
