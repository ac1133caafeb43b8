package demo

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/standard"
)

// TestValleySlope holds the cricket formula against the two-plane formula s1*s2*sin(th)/sqrt(...) worked by
// hand for a diamond of length to width L:W on a field of 1/4 in per ft: phi = atan(W/L).
func TestValleySlope(t *testing.T) {
	for _, c := range []struct{ length, want float64 }{ // in per ft
		{1, 0.1768}, {1.5, 0.1387}, {2, 0.1118}, {3, 0.0791}, {4, 0.0606},
	} {
		if got := valleySlope(0.25, math.Atan(1/c.length)); !(math.Abs(got-c.want) <= 5e-5) {
			t.Errorf("%g:1: %.4f in per ft, want %.4f", c.length, got, c.want)
		}
	}
}

// TestDishAndCamber compare the closed forms with the water that a fine profile of the shape holds.
func TestDishAndCamber(t *testing.T) {
	for _, slope := range []float64{0.008, 0.018, 0.03} {
		for _, depth := range []float64{0.013, 0.035} {
			const radius, span = 2.4, 7.0
			sag, rise := dishSag(slope, radius, depth), camberRise(slope, span, depth)
			dish := held(2*radius, func(x float64) float64 {
				y := (x - radius) / radius
				return slope*x - sag*(1-y*y)
			})
			camber := held(2*span, func(x float64) float64 {
				_, u := math.Modf(x / span)
				return slope*x + 4*rise*u*(1-u)
			})
			if !(math.Abs(dish-depth) <= 1e-4) || !(math.Abs(camber-depth) <= 1e-4) {
				t.Errorf("slope %g: dish holds %.5f, arched span %.5f, want %.5f", slope, dish, camber, depth)
			}
		}
	}
}

// held is the deepest water on a profile that falls towards x = 0 and is open there.
func held(length float64, height func(x float64) float64) float64 {
	most, deepest := math.Inf(-1), 0.0
	for i := range 20001 {
		z := height(length * float64(i) / 20000)
		most = math.Max(most, z)
		deepest = math.Max(deepest, most-z)
	}
	return deepest
}

// TestDesignsMeetTheCriteria looks at every roof outside the areas of its planted faults: the surface
// there must fall by a sixth more than the criterion as found, and valleys and crickets too, so that the
// survey's errors alone put none below it.
func TestDesignsMeetTheCriteria(t *testing.T) {
	roofs := Roofs()
	for seed := range uint64(60) {
		roofs = append(roofs, Random(seed))
	}
	limits := standard.Defaults()
	const margin = 7.0 / 6
	for _, r := range roofs {
		s := r.survey.site
		for _, p := range r.survey.spots {
			if ok := clearOf(s, p.at); !ok {
				continue
			}
			const h = 1e-4
			gx := (s.relief(orb.Point{p.at[0] + h, p.at[1]}) - s.relief(orb.Point{p.at[0] - h, p.at[1]})) / (2 * h)
			gy := (s.relief(orb.Point{p.at[0], p.at[1] + h}) - s.relief(orb.Point{p.at[0], p.at[1] - h})) / (2 * h)
			if g := math.Hypot(gx, gy); g < margin*limits.MinSlope {
				t.Errorf("%s: slope %.4f at %.2f", r.Stem(), g, p.at)
			}
		}
		for _, f := range s.folds {
			for i := 1; i < len(f.path); i++ {
				a, b := f.path[i-1], f.path[i]
				if f.kind != "valley" && f.kind != "cricket" || inFault(s, a) || inFault(s, b) || inFault(s, between(a, b, 0.5)) {
					continue
				}
				if g := math.Abs(s.relief(b)-s.relief(a)) / distance(a, b); g < margin*limits.MinValleySlope {
					t.Errorf("%s: %s slope %.4f from %.2f to %.2f", r.Stem(), f.kind, g, a, b)
				}
			}
		}
	}
}

// clearOf reports whether p lies off every fold, outlet and planted fault.
func clearOf(s *site, p orb.Point) bool {
	for _, f := range s.folds {
		if offsetOf(p, f.path) < 0.01 {
			return false
		}
	}
	for _, o := range s.outlets {
		if distance(o.at, p) < near {
			return false
		}
	}
	return !inFault(s, p)
}

func inFault(s *site, p orb.Point) bool {
	for _, f := range s.faults {
		if planar.RingContains(f.Area, p) && f.Kind != "no-overflow" {
			return true
		}
	}
	return false
}

// TestSurveysStayOnTheRoof checks that every shot lies on the roof, none inside a curb, and that elevations
// are off by what the method says: the root mean square within a fifth of sigma over all roofs.
func TestSurveysStayOnTheRoof(t *testing.T) {
	sum, n := 0.0, 0
	for seed := range uint64(40) {
		r := Random(seed)
		s := r.survey
		for _, group := range append(append([][]shot{s.walls, s.spots}, s.folds...), s.curbs...) {
			for _, p := range group {
				ring := closed(s.site.outline)
				if !planar.RingContains(ring, p.at) && offsetOf(p.at, ring) > onto {
					t.Errorf("%s: shot at %.3f is off the roof", r.Stem(), p.at)
				}
				for _, k := range s.site.curbs {
					if c := closed(k.ring); planar.RingContains(c, p.at) && offsetOf(p.at, c) > onto {
						t.Errorf("%s: shot at %.3f is in a curb", r.Stem(), p.at)
					}
				}
				e := (p.z - s.site.base - s.site.relief(p.at)) / r.method.sigma
				sum += e * e
				n++
			}
		}
	}
	if rms := math.Sqrt(sum / float64(n)); !(math.Abs(rms-1) <= 0.2) {
		t.Errorf("elevations are off by %.2f sigma over %d shots", rms, n)
	}
}
