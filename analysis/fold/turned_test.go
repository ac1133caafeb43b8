package fold_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/fold"
)

// scattered are n places at random within 13 m of the origin, no two nearer than 0.5 m, and an error for each.
func scattered(seed uint64, n int, sigma float64) (places [][2]float64, errors []float64) {
	r := rand.New(rand.NewPCG(seed, 21))
	for len(places) < n {
		p := [2]float64{26*r.Float64() - 13, 26*r.Float64() - 13}
		clear := math.Hypot(p[0], p[1]) <= 13
		for _, q := range places {
			clear = clear && math.Hypot(p[0]-q[0], p[1]-q[1]) >= 0.5
		}
		if clear {
			places = append(places, p)
			errors = append(errors, sigma*r.NormFloat64())
		}
	}
	return places, errors
}

// Folds turn and mirror with the spots: of the same scattered spots turned by quarters and by the angle of 3, 4 and 5, and in the mirror, the planes are as many, each spot has the same
// companions, and every point of a fold lies where the turn puts it, at one height and as sure.
func TestFoldsTurnWithTheSpots(t *testing.T) {
	for name, height := range map[string]func(x, y float64) float64{
		"valley":    func(x, y float64) float64 { return 0.005*x + 0.02*math.Abs(y-1) },
		"ridge":     func(x, y float64) float64 { return 0.01*y - 0.02*math.Abs(x+2) },
		"four ways": func(x, y float64) float64 { return 0.03 * math.Max(math.Abs(x), math.Abs(y)) },
		"a plane":   func(x, y float64) float64 { return 0.02*x - 0.01*y },
	} {
		found := 0
		for seed := range uint64(3) {
			places, errors := scattered(seed, 260, 0.001)
			z := make([]float64, len(places))
			for i, p := range places {
				z[i] = height(p[0], p[1]) + errors[i]
			}
			turned := func(sin, cos, mirror float64) (*fold.Folds, func(x, y float64) (float64, float64)) {
				turn := func(x, y float64) (float64, float64) { return cos*mirror*x - sin*y, sin*mirror*x + cos*y }
				there := make([][2]float64, len(places))
				for i, p := range places {
					there[i][0], there[i][1] = turn(p[0], p[1])
				}
				i := -1
				return fold.Find(field(t, there, func(float64, float64) float64 { i++; return z[i] })), turn
			}
			here, _ := turned(0, 1, 1)
			found += len(here.Points)
			for _, c := range []struct{ sin, cos, mirror float64 }{{1, 0, 1}, {0, -1, 1}, {-1, 0, 1}, {0, 1, -1}, {1, 0, -1}, {0.6, 0.8, 1}, {-0.8, 0.6, -1}} {
				there, turn := turned(c.sin, c.cos, c.mirror)
				if len(there.Planes) != len(here.Planes) || there.Lines != here.Lines || len(there.Points) != len(here.Points) || len(there.Links) != len(here.Links) {
					t.Errorf("%s %d, %+v: %d planes, %d lines, %d points, %d links, not %d, %d, %d, %d", name, seed, c, len(there.Planes), there.Lines, len(there.Points), len(there.Links),
						len(here.Planes), here.Lines, len(here.Points), len(here.Links))
					continue
				}
				companions := map[[2]int32]bool{}
				for v := range here.Label {
					companions[[2]int32{here.Label[v], there.Label[v]}] = true
				}
				labels := map[int32]bool{}
				for _, l := range here.Label {
					labels[l] = true
				}
				if len(companions) != len(labels) {
					t.Errorf("%s %d, %+v: spots have other companions: %v", name, seed, c, companions)
				}
				for _, p := range here.Points {
					x, y := turn(p.X, p.Y)
					same := false
					for _, q := range there.Points {
						same = same || math.Hypot(q.X-x, q.Y-y) <= 2e-4 && math.Abs(q.Z-p.Z) <= 1e-5 && math.Abs(q.Sigma-p.Sigma) <= 1e-5 && math.Abs(q.Below-p.Below) <= 1e-5
					}
					if !same {
						t.Errorf("%s %d, %+v: no point at (%.4f, %.4f, %.4f)", name, seed, c, x, y, p.Z)
					}
				}
			}
		}
		if (found > 0) == (name == "a plane") {
			t.Errorf("%s: %d points of folds", name, found)
		}
	}
}

// Spots of 26 m across that are sure to a millimetre show a valley of 4 % on its line y = 1 to a twentieth of a metre, at its height to two millimetres, from side to side; its planes rise as they were put.
func TestPlanesAsTheyWerePut(t *testing.T) {
	places, errors := scattered(7, 300, 0.001)
	i := -1
	got := fold.Find(field(t, places, func(x, y float64) float64 { i++; return 0.005*x + 0.02*math.Abs(y-1) + errors[i] }))
	if len(got.Planes) != 2 {
		t.Fatalf("%d planes", len(got.Planes))
	}
	for k := range got.Planes {
		p := &got.Planes[k]
		north := math.Copysign(0.02, p.At(0, 5)-p.At(0, 4))
		if east := p.At(1, 0) - p.At(0, 0); !(math.Abs(east-0.005) <= 2e-4) || !(math.Abs(p.At(0, 5)-p.At(0, 4)-north) <= 2e-4) || !(math.Abs(p.At(0, 1)) <= 1e-3) {
			t.Errorf("a plane rises %g east and %g north, and stands at %g on the valley", east, p.At(0, 5)-p.At(0, 4), p.At(0, 1))
		}
	}
	from, to := math.Inf(1), math.Inf(-1)
	for _, p := range got.Points {
		if p.Vertex >= 0 {
			continue
		}
		from, to = math.Min(from, p.X), math.Max(to, p.X)
		if !(math.Abs(p.Y-1) <= 0.05) || !(math.Abs(p.Z-0.005*p.X) <= 0.002) || !(p.Sigma >= p.Below) || !(p.Below > 0) {
			t.Errorf("a point of the valley at (%.3f, %.3f, %.4f), to %g and downwards %g", p.X, p.Y, p.Z, p.Sigma, p.Below)
		}
	}
	if !(from <= -11) || !(to >= 11) {
		t.Errorf("the valley runs from %.2f to %.2f", from, to)
	}
	if !(got.Sigma >= 0.0005) || !(got.Sigma <= 0.002) {
		t.Errorf("a spot's error is told as %g, and was 1 mm", got.Sigma)
	}
}
