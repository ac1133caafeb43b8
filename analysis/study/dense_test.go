package study_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// scan is a walled roof of 60 by 36 m that falls 1 % to a gutter, with a dish of the given depth and radius 5 m, as a scanner
// takes it: 6,000 points at random places, errors of 16 mm, twenty of them twice within 5 mm. It says nothing of its error
// unless stated.
func scan(deep float64, stated bool, seed uint64) *roof.Roof {
	random := rand.New(rand.NewPCG(seed, 11))
	r := shape.New("scan", shape.Bare(0, 0), shape.Bare(60, 0), shape.Bare(60, 36), shape.Bare(0, 36))
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(60, 0))
	z := func(x, y float64) float64 {
		q := ((x-30)*(x-30) + (y-18)*(y-18)) / 25
		return 0.01*y - deep*math.Max(0, 1-q)
	}
	for i := range 6000 {
		x, y := 60*random.Float64(), 36*random.Float64()
		shape.Spot(r, x, y, z(x, y)+0.016*random.NormFloat64())
		if i%300 == 0 {
			shape.Spot(r, math.Min(60, x+0.003), y, z(x, y)+0.016*random.NormFloat64())
		}
	}
	if stated {
		for i := range r.Spots {
			r.Spots[i].Sigma = quantity.Length(0.016)
		}
	}
	return r
}

// A scan of a drained roof shows no pond; one of a dish 120 mm deep, 79 mm of it water on that fall, shows it and nothing else.
// Its points are brought to means before anything is judged, and the surface is theirs: the error of a mean of 2 by 2
// points is half of 16 mm.
func TestDenseScans(t *testing.T) {
	for seed := range uint64(2) {
		for _, stated := range []bool{true, false} {
			for _, deep := range []float64{0, 0.12} {
				s, err := study.Run(scan(deep, stated, seed), study.Options{})
				if err != nil {
					t.Fatal(err)
				}
				want := 0
				if deep > 0 {
					want = 1
				}
				if len(s.Listed) != want {
					t.Errorf("seed %d, stated %t, dish of %g m: %d ponds listed", seed, stated, deep, len(s.Listed))
				}
				for _, f := range s.Findings {
					if deep == 0 && f.Severity == finding.Urgent {
						t.Errorf("seed %d: %s is urgent: %s", seed, f.Kind, f.What.Format)
					}
				}
				if s.Means == nil || s.Means.Points < 5900 || len(s.Roof.Spots) > 2200 || s.Survey.Spots > 2200 {
					t.Errorf("seed %d: means %+v, %d spots", seed, s.Means, len(s.Roof.Spots))
					continue
				}
				if s.Errors.Typical < 0.007 || s.Errors.Typical > 0.011 || s.Survey.SigmaStated != stated {
					t.Errorf("seed %d: error of %g m, stated %t", seed, s.Errors.Typical, s.Survey.SigmaStated)
				}
			}
		}
	}
}

// A drained field of 61 by 36.6 m that falls half a per cent or one to free edges all round, 6,118 points with errors of 16 mm that nobody
// states: no pond is listed and nothing is urgent. Before ponds were judged such a scan listed hundreds.
func TestDrainedFieldOfAScan(t *testing.T) {
	for _, slope := range []float64{0.005, 0.01} {
		random := rand.New(rand.NewPCG(5, 12))
		const l, w = 61, 36.6
		r := shape.New("field", shape.Bare(0, 0), shape.Bare(l, 0), shape.Bare(l, w), shape.Bare(0, w))
		r.Outline.Edge = roof.Free
		for range 6118 {
			x, y := l*random.Float64(), w*random.Float64()
			shape.Spot(r, x, y, slope*math.Min(math.Min(x, l-x), math.Min(y, w-y))+0.016*random.NormFloat64())
		}
		s, err := study.Run(r, study.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Listed) > 0 || s.Unresolved.Count < 20 {
			t.Errorf("slope %g: %d ponds listed, %d in doubt", slope, len(s.Listed), s.Unresolved.Count)
		}
		for _, f := range s.Findings {
			if f.Severity == finding.Urgent {
				t.Errorf("slope %g: %s is urgent", slope, f.Kind)
			}
		}
	}
}
