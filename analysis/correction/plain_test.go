package correction_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// TestHighDrainOnAPlainGrid: four bays of 60 by 40 ft that fall at 1/4 in per ft, shot every 10 ft with an error of 0.008 ft and nine spots round each drain, no line coded and
// no spot on a wall. The fourth drain stands 0.12 ft high. It is set down, alone; what is written lists no pond.
func TestHighDrainOnAPlainGrid(t *testing.T) {
	for seed := range uint64(3) {
		random := rand.New(rand.NewPCG(seed, 7))
		h := func(x, y float64) float64 {
			z := 100 + 0.25/12*math.Max(math.Abs(math.Mod(x, 60)-30), math.Abs(math.Mod(y, 40)-20))
			return math.Round((z+0.008*random.NormFloat64())*1000) / 1000 * foot
		}
		r := shape.New("plain", shape.Bare(0, 0), shape.Bare(120*foot, 0), shape.Bare(120*foot, 80*foot), shape.Bare(0, 80*foot))
		r.Outline.Edge, r.Units, r.Imperial = roof.Wall, quantity.Feet, true
		for x := 0.0; x <= 120; x += 10 {
			for y := 0.0; y <= 80; y += 10 {
				u, v := math.Min(math.Max(x, 0.3), 119.7), math.Min(math.Max(y, 0.3), 79.7)
				shape.Spot(r, u*foot, v*foot, h(u, v))
			}
		}
		for i := range 2 {
			for k := range 2 {
				x, y := float64(30+60*i), float64(20+40*k)
				for _, a := range []float64{-3, 0, 3} {
					for _, b := range []float64{-3, 0, 3} {
						if a != 0 || b != 0 {
							shape.Spot(r, (x+a)*foot, (y+b)*foot, h(x+a, y+b))
						}
					}
				}
				o := shape.Drain(r, x*foot, y*foot, foot)
				o.Invert, o.HasInvert = 100*foot, true
				if i == 1 && k == 1 {
					o.Invert += 0.12 * foot
				}
				o = shape.Drain(r, (x+4)*foot, y*foot, foot)
				o.Duty, o.Invert, o.HasInvert = roof.Overflow, 100.17*foot, true
			}
		}
		_, o := first(t, corrected(t, r, correction.Input{}))
		if o.PondsLeft > 0 || len(o.Worse)+len(o.Limits) > 0 || !slices.Equal(kinds(o), []mend.Kind{mend.Clear, mend.LowerOutlet}) {
			t.Errorf("seed %d: %v, %d ponds left, worse %+v, limits %+v", seed, kinds(o), o.PondsLeft, o.Worse, o.Limits)
			continue
		}
		s, err := study.Run(o.Roof, study.Options{})
		if err != nil || len(s.Listed) > 0 {
			t.Errorf("seed %d: checked afresh: %v, %d ponds", seed, err, len(s.Listed))
		}
	}
}

// TestOpenedIsNeverMoreThanTheRoof: half boards reach over the edges of a level roof that is tapered as a whole.
func TestOpenedIsNeverMoreThanTheRoof(t *testing.T) {
	out := corrected(t, square(14*inch), correction.Input{})
	for i := range out.Options {
		if o := &out.Options[i]; o.Opened > 1600*foot*foot+1e-6 {
			t.Errorf("%s opens %.2f m2", o.Kind, o.Opened)
		}
	}
}
