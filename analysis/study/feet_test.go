package study_test

import (
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// feet returns a length in feet to the hundredth, as a rod is read, in metres.
func feet(v float64) float64 { return math.Round(v*100) / 100 * 0.3048 }

// drained returns a walled roof in feet that falls to some drains, each with its rim at the elevation of the spot
// there. Places and elevations are read to the hundredth of a foot; noise is a normal error of each spot [ft].
func drained(seed uint64, pitch, noise float64, rim bool) *roof.Roof {
	g := rand.New(rand.NewPCG(seed, 120))
	nx, ny := 1+g.IntN(2), 1+g.IntN(2)
	bay := float64(4+g.IntN(5)) * pitch
	l, w, fall := float64(nx)*bay, float64(ny)*bay, 0.01+0.02*g.Float64()
	base := 100 + 50*g.Float64()
	height := func(x, y float64) float64 {
		dx := math.Abs(math.Mod(x, bay) - bay/2)
		dy := math.Abs(math.Mod(y, bay) - bay/2)
		if x == l {
			dx = bay / 2
		}
		if y == w {
			dy = bay / 2
		}
		return base + fall*math.Max(dx, dy)
	}
	r := shape.New("feet", shape.Bare(0, 0), shape.Bare(feet(l), 0), shape.Bare(feet(l), feet(w)), shape.Bare(0, feet(w)))
	for x := 0.0; x <= l; x += pitch {
		for y := 0.0; y <= w; y += pitch {
			if math.Max(math.Abs(math.Mod(x, bay)-bay/2), math.Abs(math.Mod(y, bay)-bay/2)) > 0.6 || x == l || y == w {
				shape.Spot(r, feet(x), feet(y), feet(height(x, y)+noise*g.NormFloat64()))
			}
		}
	}
	for i := range nx {
		for j := range ny {
			x, y := (float64(i)+0.5)*bay, (float64(j)+0.5)*bay
			z := feet(base + noise*g.NormFloat64())
			if rim {
				shape.Spot(r, feet(x), feet(y), z)
			}
			o := shape.Drain(r, feet(x), feet(y), 0.3048)
			o.Invert, o.HasInvert = z, true
		}
	}
	return r
}

// trials returns how many trials to make: all when asked for by RUNNEL_LONG=1.
func trials(some, all uint64) uint64 {
	if os.Getenv("RUNNEL_LONG") == "1" {
		return all
	}
	return some
}

// firstSeed returns the seed to begin with, RUNNEL_SEED where that is set.
func firstSeed(usual uint64) uint64 {
	if v, err := strconv.ParseUint(os.Getenv("RUNNEL_SEED"), 10, 64); err == nil {
		return v
	}
	return usual
}

// A rim at the elevation of the spot there drains, whatever the unit: water runs straight to every drain.
func TestRimsInFeetDrain(t *testing.T) {
	none, drains := 0, 0
	first := firstSeed(1)
	for seed := first; seed < first+trials(30, 120); seed++ {
		s, err := study.Run(drained(seed, 8, 0, true), study.Options{})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		direct := make([]float64, len(s.Surface.Outlets))
		for _, c := range s.Catchments.Dry {
			if c.Outlet >= 0 {
				direct[c.Outlet] = c.Area
			}
		}
		for i, area := range direct {
			drains++
			if area < 1 {
				none++
				t.Errorf("seed %d: %.3f m2 run straight to %s", seed, area, s.Surface.Outlets[i].Label)
			}
		}
	}
	t.Logf("seeds %d to %d: %d of %d drains get nothing straight", first, first+trials(30, 120)-1, none, drains)
}

// On a 3 m grid with 3 to 5 mm of noise, and no spot at the rim or one that stands in no sump, water pools beside the drain
// more often than not. Every drain that drains anything still has a travel, and one that takes most of its bay, whose
// corners are half a bay off in both directions, is found to lie farther off than half a bay.
func TestDrainsInNoiseHaveTravel(t *testing.T) {
	drains, without, half, missed, due := 0, 0, 0, 0, 0
	for seed := firstSeed(1001); drains < int(trials(90, 360)); seed++ {
		noise := 0.010 + 0.006*float64(seed%4)/3
		r := drained(seed, 10, noise, seed%2 == 0)
		limit := math.Inf(1)
		for i := range r.Outlets {
			for _, x := range r.Outlets[i].Plan { // a drain lies half a bay from two walls at the nearest
				limit = math.Min(limit, x)
			}
		}
		s, err := study.Run(r, study.Options{Criteria: standard.Overrides{"max_travel": limit}})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		long := map[int]bool{}
		for i := range s.Findings {
			if s.Findings[i].Kind == finding.TravelLong {
				long[s.Findings[i].Outlet] = true
			}
		}
		direct := make([]float64, len(s.Surface.Outlets))
		for _, c := range s.Catchments.Dry {
			if c.Outlet >= 0 {
				direct[c.Outlet] = c.Area
			}
		}
		for _, c := range s.Catchments.Full {
			drains++
			if !(c.TravelMax > 0 && c.TravelMean > 0) {
				without++
				t.Errorf("seed %d: %.1f m2 run to %s without a travel", seed, c.Area, s.Surface.Outlets[c.Outlet].Label)
			}
			if direct[c.Outlet] < c.Area/2 {
				half++
			}
			if c.Area > 0.75*4*limit*limit {
				due++
				if !long[int(c.Outlet)] {
					missed++
					t.Errorf("seed %d: %s is not found to be far off: %.2f m, limit %.2f m", seed, s.Surface.Outlets[c.Outlet].Label, c.TravelMax, limit)
				}
			}
		}
	}
	t.Logf("%d drains, %d without a travel; %d have less than half of their area direct; of %d over the limit %d are missed",
		drains, without, half, due, missed)
}
