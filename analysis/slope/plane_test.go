package slope_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/paulmach/orb/planar"

	"runnel/analysis/slope"
	"runnel/analysis/standard"
)

// walked surveys a roof l by w in uneven rows, apart metres between spots, with errors of standard
// deviation noise.
func walked(l, w, apart, noise float64, seed uint64, height func(x, y float64) float64) *survey {
	r := rand.New(rand.NewPCG(seed, 11))
	s := &survey{}
	for _, p := range lattice(l, w, apart, r) {
		s.spot(p[0], p[1], height(p[0], p[1])+noise*r.NormFloat64())
	}
	return s
}

func find(tb testing.TB, s *survey, c standard.Criteria) *slope.Slopes {
	tb.Helper()
	got, err := slope.Of(s.surface(tb), &s.roof, c)
	if err != nil {
		tb.Fatal(err)
	}
	return got
}

// One plane of 2 % stays one plane however the survey scatters, and its slope is right within four
// standard errors of a straight fit: scatter / (spread of y * sqrt(n)), where y spreads w/sqrt(12).
func TestScatterDoesNotBreakAPlane(t *testing.T) {
	const l, w = 30.0, 24.0
	for _, apart := range []float64{3.5, 2.5, 1.5} {
		for _, noise := range []float64{0, 0.001, 0.002, 0.003} {
			for seed := range uint64(10) {
				s := walked(l, w, apart, noise, seed, func(_, y float64) float64 { return 5 + 0.02*y })
				got := find(t, s, standard.Criteria{MinSlope: 1.0 / 96})
				name := fmt.Sprintf("%d spots, %g mm, seed %d", len(s.x), noise*1000, seed)
				p := &got.Planes[0]
				if p.Area < 0.97*l*w {
					t.Errorf("%s: the largest of %d planes has %.0f of %.0f m2", name, len(got.Planes), p.Area, l*w)
				}
				bound := 4*noise*math.Sqrt(12)/(w*math.Sqrt(float64(len(s.x)))) + 1e-5
				near(t, name+": slope", p.Slope, 0.02, bound)
				near(t, name+": offset", p.Offset, 5, 0.005)
				if !(math.Abs(p.Aspect-180) <= 1.5) || p.BelowMin || got.BelowMinShare > 0.03 {
					t.Errorf("%s: aspect %g, below %v, share %g", name, p.Aspect, p.BelowMin, got.BelowMinShare)
				}
				if len(s.x) > 150 && (got.Noise > 1.5*noise+1e-4 || got.Noise < 0.6*noise) {
					t.Errorf("%s: scatter estimated as %.2f mm", name, got.Noise*1000)
				}
			}
		}
	}
}

// Four falls at 2 % to the middle of 40 by 30 m, no breakline shot, hips at 45 degrees from the corners:
// four planes, those that fall north and south (2*l*w - w*w)/4 = 375 m2, east and west w*w/4 = 225 m2.
func TestFourFallsWithoutBreaklines(t *testing.T) {
	const l, w = 40.0, 30.0
	for _, noise := range []float64{0, 0.001, 0.003} {
		for seed := range uint64(8) {
			s := walked(l, w, 2.5, noise, seed, func(x, y float64) float64 {
				return 0.02 * math.Max(math.Abs(x-l/2)-(l-w)/2, math.Abs(y-w/2))
			})
			got := find(t, s, standard.Criteria{})
			name := fmt.Sprintf("%g mm, seed %d", noise*1000, seed)
			if len(got.Planes) < 4 {
				t.Fatalf("%s: %d planes", name, len(got.Planes))
			}
			seen := map[float64]float64{}
			for i := range 4 {
				p := &got.Planes[i]
				near(t, name+": slope", p.Slope, 0.02, 0.0006)
				seen[math.Mod(90*math.Round(p.Aspect/90), 360)] += p.Area
			}
			// half a row of facets beside each fold may fall to either side
			near(t, name+": north", seen[0], 375, 45)
			near(t, name+": south", seen[180], 375, 45)
			near(t, name+": east", seen[90], 225, 45)
			near(t, name+": west", seen[270], 225, 45)
		}
	}
}

// A breakline that does not fold the surface parts nothing, and is no line.
func TestBreaklineInOnePlane(t *testing.T) {
	for _, noise := range []float64{0, 0.002} {
		r := rand.New(rand.NewPCG(5, 5))
		s := &survey{}
		z := func(x, y float64) float64 { return 0.01*x + 0.02*y + noise*r.NormFloat64() }
		var line [][3]float64
		for i := range 9 {
			x := 3 * float64(i)
			line = append(line, [3]float64{x, 10, z(x, 10)})
		}
		s.breakline(0, line...)
		for _, p := range lattice(24, 20, 3, r) {
			s.spot(p[0], p[1], z(p[0], p[1]))
		}
		got := find(t, s, standard.Criteria{MinValleySlope: 0.01})
		if got.Planes[0].Area < 0.97*24*20 || len(got.Valleys)+len(got.Ridges) != 0 {
			t.Errorf("scatter %g mm: %d planes, %d valleys, %d ridges", noise*1000, len(got.Planes), len(got.Valleys), len(got.Ridges))
		}
	}
}

// A fold of 0.4 % along a breakline parts two planes exactly there.
func TestBreaklineFoldParts(t *testing.T) {
	s := &survey{}
	z := func(_, y float64) float64 { return 0.016*y + 0.004*math.Max(0, y-10) }
	s.breakline(0, [3]float64{0, 10, z(0, 10)}, [3]float64{12, 10, z(0, 10)}, [3]float64{24, 10, z(0, 10)})
	for _, p := range lattice(24, 20, 3, nil) {
		s.spot(p[0], p[1], z(p[0], p[1]))
	}
	got := find(t, s, standard.Criteria{MinSlope: 1.0 / 48})
	if len(got.Planes) != 2 {
		t.Fatalf("%d planes, want 2", len(got.Planes))
	}
	for i := range got.Planes {
		p := &got.Planes[i]
		near(t, "area", p.Area, 240, 1e-9)
		near(t, "slope", p.Slope, []float64{0.016, 0.02}[b2i(p.Slope > 0.018)], 1e-6)
		if !p.BelowMin || !p.Resolved {
			t.Errorf("%.3f %% passes 1/4 in per ft", 100*p.Slope)
		}
	}
	near(t, "share below", got.BelowMinShare, 1, 1e-12)
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// A spot 5 mm off an exact plane strays and stays; one 40 mm off is no part of it, nor are its facets.
func TestStraySpot(t *testing.T) {
	for _, c := range []struct {
		off    float64
		planes int
	}{{0.005, 1}, {0.04, 2}} {
		s := &survey{}
		for _, p := range lattice(24, 24, 3, nil) {
			z := 0.02 * p[1]
			if p == [2]float64{12, 12} {
				z += c.off
			}
			s.spot(p[0], p[1], z)
		}
		got := find(t, s, standard.Criteria{})
		if (len(got.Planes) > 1) != (c.planes > 1) {
			t.Errorf("%g mm off: %d planes", c.off*1000, len(got.Planes))
		}
		near(t, "slope", got.Planes[0].Slope, 0.02, 1e-5+0.001*b2f(c.planes == 1))
	}
}

func b2f(b bool) float64 { return float64(b2i(b)) }

// With stated deviations of 10 mm the tolerance is 20 mm; without, such scatter breaks the plane.
func TestStatedSigmaWidensTheTolerance(t *testing.T) {
	s := walked(30, 24, 3, 0.010, 3, func(_, y float64) float64 { return 0.02 * y })
	wild := find(t, s, standard.Criteria{})
	s.sigma = make([]float64, len(s.x))
	for i := range s.sigma {
		s.sigma[i] = 0.010
	}
	stated := find(t, s, standard.Criteria{})
	if stated.Planes[0].Area < 0.97*30*24 {
		t.Errorf("stated: largest plane %.0f m2 of 720", stated.Planes[0].Area)
	}
	if wild.Planes[0].Area > stated.Planes[0].Area-1 {
		t.Errorf("unstated: largest plane %.0f m2", wild.Planes[0].Area)
	}
	if stated.Planes[0].Sigma == 0 || stated.Sigma == nil || wild.Planes[0].Sigma != 0 || wild.Sigma != nil {
		t.Error("standard errors from sigma belong to the stated survey, and only to it")
	}
}

// The standard errors say what repeated surveys show: the scatter of the slope over 400 surveys of one
// plane equals both, the one from stated deviations and the mean of the one from residuals.
func TestStandardErrorsAgainstRepeatedSurveys(t *testing.T) {
	const noise, trials = 0.002, 400
	r := rand.New(rand.NewPCG(9, 9))
	places := lattice(18, 12, 3, r)
	sum, squares, stated, residual := 0.0, 0.0, 0.0, 0.0
	for range trials {
		s := &survey{}
		for _, p := range places {
			s.spot(p[0], p[1], 0.02*p[1]+0.01*p[0]+noise*r.NormFloat64())
			s.sigma = append(s.sigma, noise)
		}
		got := find(t, s, standard.Criteria{})
		p := &got.Planes[0]
		sum += p.Slope
		squares += p.Slope * p.Slope
		stated += p.Sigma / trials
		residual += p.ResidualSigma / trials
	}
	mean := sum / trials
	observed := math.Sqrt(squares/trials - mean*mean)
	// the standard deviation of 400 is itself good to 1/sqrt(800) = 3.5 %
	near(t, "stated", stated/observed, 1, 0.11)
	near(t, "residual", residual/observed, 1, 0.13)
}

func TestVerdictAllowsForTheError(t *testing.T) {
	// Twelve spots on 10 by 10 m with deviations of 3 mm: the slope is known to some 0.03 %.
	for _, c := range []struct {
		slope           float64
		below, resolved bool
	}{{0.0200, false, false}, {0.01998, false, false}, {0.0195, true, false}, {0.0185, true, true}} {
		s := &survey{}
		for _, p := range lattice(9, 9, 3, nil) {
			s.spot(p[0], p[1], c.slope*p[1])
			s.sigma = append(s.sigma, 0.003)
		}
		got := find(t, s, standard.Criteria{MinSlope: 0.02})
		p := &got.Planes[0]
		if p.BelowMin != c.below || p.Resolved != c.resolved {
			t.Errorf("%.3f %% +- %.3f: below %v, resolved %v", 100*p.Slope, 100*p.Error(), p.BelowMin, p.Resolved)
		}
	}
}

func TestExactMinimumPasses(t *testing.T) {
	s := &survey{}
	for _, p := range lattice(12, 12, 3, nil) {
		s.spot(p[0], p[1], p[1]/48)
	}
	got := find(t, s, standard.Criteria{MinSlope: 1.0 / 48})
	if got.Planes[0].BelowMin || got.BelowMinShare != 0 {
		t.Errorf("a plane of 1/4 in per ft fails 1/4 in per ft: %.6f %%", 100*got.Planes[0].Slope)
	}
}

// Facets split the area between planes, each outline has its plane's area, and indices agree.
func TestPlanesCoverTheRoof(t *testing.T) {
	s := walked(40, 30, 2, 0.002, 4, func(x, y float64) float64 {
		// a level bottom 8 by 8 m within four falls, and a bump: holes and scraps
		z := 0.02 * math.Max(0, math.Max(math.Abs(x-20), math.Abs(y-15))-4)
		if math.Hypot(x-33, y-22) < 2.5 {
			z += 0.08
		}
		return z
	})
	su := s.surface(t)
	got, err := slope.Of(su, nil, standard.Criteria{})
	if err != nil {
		t.Fatal(err)
	}
	total, count := 0.0, 0
	for i := range got.Planes {
		p := &got.Planes[i]
		near(t, "outline", planar.Area(p.Outline), p.Area, 1e-9*p.Area)
		total += p.Area
		count += len(p.Facets)
		for j, f := range p.Facets {
			if got.Plane[f] != int32(i) || j > 0 && p.Facets[j-1] >= f {
				t.Fatalf("plane %d does not list its facets", i)
			}
		}
		if i > 0 && p.Area > got.Planes[i-1].Area {
			t.Fatalf("plane %d is larger than the one before", i)
		}
	}
	near(t, "total", total, 1200, 1e-9)
	if count != su.TIN.Facets() {
		t.Errorf("%d facets in planes, want %d", count, su.TIN.Facets())
	}
	again, err := slope.Of(su, nil, standard.Criteria{})
	if err != nil || !reflect.DeepEqual(got.Planes, again.Planes) || !reflect.DeepEqual(got.Valleys, again.Valleys) {
		t.Error("not the same twice")
	}
}

func TestAssumedShare(t *testing.T) {
	s := &survey{}
	for _, p := range lattice(10, 10, 5, nil) {
		s.spot(p[0], p[1], 0.02*p[1])
	}
	su := s.surface(t)
	su.TIN.Assumed = make([]bool, len(s.x))
	want := 0.0
	su.TIN.Assumed[0] = true // the corner (0, 0): facets there are half of a cell of 25 m2, or the whole cell
	for f := range su.TIN.Facets() {
		for e := 3 * f; e < 3*f+3; e++ {
			if su.TIN.V[e] == 0 {
				want += 12.5 / 100
			}
		}
	}
	got, err := slope.Of(su, nil, standard.Criteria{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "assumed share", got.Planes[0].Assumed, want, 1e-12)
}

// A surface rougher than any tolerance ends in a bounded number of planes, most of it marked weak.
func TestRoughSurface(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 8))
	s := &survey{}
	for _, p := range lattice(30, 30, 0.25, r) {
		s.spot(p[0], p[1], 0.2*r.Float64())
	}
	got := find(t, s, standard.Criteria{MinSlope: 0.02})
	total := 0.0
	for i := range got.Planes {
		total += got.Planes[i].Area
	}
	near(t, "area", total, 900, 1e-6)
	if got.Weak < 0.5*900 || len(got.Planes) > 5000 {
		t.Errorf("%d planes, %.0f m2 weak", len(got.Planes), got.Weak)
	}
}

func benchmark(b *testing.B, spots int, noise float64) {
	b.Helper()
	apart := 1.0
	n := math.Sqrt(float64(spots)) * apart
	s := walked(n, n, apart, noise, 1, func(x, y float64) float64 {
		return 0.02 * math.Max(math.Abs(math.Mod(x, 40)-20), math.Abs(math.Mod(y, 40)-20))
	})
	su := s.surface(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := slope.Of(su, nil, standard.Criteria{MinSlope: 1.0 / 48, MinValleySlope: 1.0 / 96}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOf10kFacets(b *testing.B)         { benchmark(b, 5000, 0.003) }
func BenchmarkOf100kFacets(b *testing.B)        { benchmark(b, 50000, 0.003) }
func BenchmarkOf100kFacetsRough(b *testing.B)   { benchmark(b, 50000, 0.050) }
func BenchmarkOf2000kFacetsSmooth(b *testing.B) { benchmark(b, 1000000, 0) }
