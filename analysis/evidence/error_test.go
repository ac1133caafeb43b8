package evidence_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/evidence"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// sloping is a plane of 2 % with a gutter, 400 spots a step apart with errors of one standard deviation; every second spot
// comes from another file, which stands offset higher.
func sloping(sigma, offset float64, seed uint64) *roof.Roof {
	random := rand.New(rand.NewPCG(seed, 3))
	r := shape.New("plane", shape.Bare(0, 0), shape.Bare(40, 0), shape.Bare(40, 40), shape.Bare(0, 40))
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(40, 0))
	for j := range 20 {
		for i := range 20 {
			x, y := float64(2*i)+0.8+0.4*random.Float64(), float64(2*j)+0.8+0.4*random.Float64()
			up := offset * float64((i+j)%2)
			shape.Spot(r, x, y, 0.02*y+up+sigma*random.NormFloat64())
			if (i+j)%2 == 1 {
				r.Spots[len(r.Spots)-1].Origin.File = "second"
			}
		}
	}
	return r
}

// On planes the median of the residuals gives the error back. Forty planes of 400 spots: the mean lies within 5 % of the truth.
func TestScatterOfAPlane(t *testing.T) {
	for _, sigma := range []float64{0.002, 0.016} {
		sum := 0.0
		for seed := range uint64(40) {
			r := sloping(sigma, 0, seed)
			e := evidence.ErrorsOf(shape.Build(t, r), r)
			if e.Source != evidence.Scatter {
				t.Fatalf("source %d", e.Source)
			}
			sum += e.Typical / 40
		}
		if !(math.Abs(sum/sigma-1) <= 0.05) {
			t.Errorf("sigma %g read as %g", sigma, sum)
		}
	}
}

// Four four-way falls of 2 % round drains 12 m apart on spots 3 m apart, good to 3 mm: most spots stand beside a fold, off the plane of their neighbours
// by up to some 30 mm, so the median of what neighbours leave is relief. The planes tell the error. A dish of the same spots has no planes, and its bound stays.
func TestScatterAboutPlanes(t *testing.T) {
	const sigma, n = 0.003, 20
	fall := func(x, y float64) float64 {
		return 0.02 * max(math.Abs(math.Mod(x, 12)-6), math.Abs(math.Mod(y, 12)-6))
	}
	bowl := func(x, y float64) float64 { return 0.002 * (float64((x-12)*(x-12)) + float64((y-12)*(y-12))) }
	told, sum := 0.0, 0.0
	for seed := range uint64(n) {
		for k, height := range []func(x, y float64) float64{fall, bowl} {
			random := rand.New(rand.NewPCG(seed, 5))
			r := shape.New("folds", shape.Bare(0, 0), shape.Bare(24, 0), shape.Bare(24, 24), shape.Bare(0, 24))
			shape.Grid(r, 0.15, 0.15, 23.85, 23.85, 8, 8, func(x, y float64) float64 { return height(x, y) + sigma*random.NormFloat64() })
			e := evidence.ErrorsOf(shape.Build(t, r), r)
			switch {
			case k == 0 && e.Source == evidence.Planes:
				told++
				sum += e.Typical
			case k == 1 && e.Source != evidence.Scatter:
				t.Errorf("seed %d: a dish has a scatter of %g about planes", seed, e.Typical)
			}
		}
	}
	if told < 0.7*n || !(math.Abs(sum/told/sigma-1) <= 0.25) { // of 200 such falls it is told in 128, and reads 1.2 times the error
		t.Errorf("told %g times of %d, read as %g", told, n, sum/told)
	}
}

// Two set-ups among each other, 20 mm apart in level and read to 3 mm: the offset is found, and the error becomes the root of
// 3^2 + 20^2/4, of each spot as on the whole. Without an offset none is found.
func TestOffsetOfFiles(t *testing.T) {
	for seed := range uint64(10) {
		for _, offset := range []float64{0, 0.02} {
			r := sloping(0.003, offset, seed)
			for i := range r.Spots {
				r.Spots[i].Sigma = quantity.Length(0.003)
			}
			e := evidence.ErrorsOf(shape.Build(t, r), r)
			want := math.Sqrt(0.003*0.003 + offset*offset/4)
			if !(math.Abs(e.Offset-offset) <= 0.0015) || !(math.Abs(e.Typical-want) <= 0.001) {
				t.Errorf("seed %d, offset %g: found %g, error %g, want %g", seed, offset, e.Offset, e.Typical, want)
			}
			for v, sigma := range e.Sigma {
				if !(math.Abs(sigma-want) <= 0.001) {
					t.Fatalf("seed %d, offset %g: vertex %d is good to %g, want %g", seed, offset, v, sigma, want)
				}
			}
		}
	}
}

// Stated errors are taken as they are; a handful of spots tells nothing, and the usual error is taken.
func TestSources(t *testing.T) {
	r := sloping(0.003, 0, 1)
	r.Spots[5].Sigma = 0.007
	e := evidence.ErrorsOf(shape.Build(t, r), r)
	if e.Source != evidence.Stated || !(math.Abs(e.Typical-0.007) <= 1e-12) {
		t.Errorf("stated: %d, %g", e.Source, e.Typical)
	}
	few := shape.Pyramid(10, 10, 0.02, 0.3)
	if e = evidence.ErrorsOf(shape.Build(t, few), few); e.Source != evidence.Usual || e.Typical != 0.005 {
		t.Errorf("few spots: %d, %g", e.Source, e.Typical)
	}
	r.Sigma = 0.012
	e = evidence.ErrorsOf(shape.Build(t, r), r)
	lower := 0
	for _, s := range e.Sigma {
		if s == 0.007 {
			lower++
		} else if s != 0.012 {
			t.Errorf("sigma %g", s)
		}
	}
	if e.Source != evidence.Stated || e.Typical != 0.012 || lower != 1 {
		t.Errorf("the roof states one, a spot its own: %d, %g, %d", e.Source, e.Typical, lower)
	}
}

// A survey that states 5 mm and scatters by 12 mm contradicts itself; one that states 8 mm does not, by the rule of twice, nor one that states 1 mm on a roof
// uneven by 6 mm.
func TestScatterAgainstWhatIsStated(t *testing.T) {
	for _, c := range []struct {
		stated quantity.Length
		truth  float64
		want   bool
	}{{0.005, 0.012, true}, {0.008, 0.012, false}, {0, 0.012, false}, {0.001, 0.006, false}} {
		r := sloping(c.truth, 0, 9)
		for i := range r.Spots {
			r.Spots[i].Sigma = c.stated
		}
		e := evidence.ErrorsOf(shape.Build(t, r), r)
		if e.Doubtful() != c.want || !(math.Abs(e.Scatter/c.truth-1) <= 0.2) {
			t.Errorf("%+v: scatter %g, doubtful %v", c, e.Scatter, e.Doubtful())
		}
	}
}
