package regression_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/geometry/regression"
)

// By hand: 2x + y - z = 8, -3x - y + 2z = -11 and -2x + y + 2z = -3 hold for (2, 3, -1), in whatever unit a row is written. With the third row twice the second
// nothing tells z, which is 0 then: 2x + y = 8 and -3x - y = -11 hold for (3, 2).
func TestSolve(t *testing.T) {
	for _, c := range []struct {
		third [4]float64
		want  [3]float64
		whole bool
	}{{[4]float64{-2, 1, 2, -3}, [3]float64{2, 3, -1}, true}, {[4]float64{-6, -2, 4, -22}, [3]float64{3, 2, 0}, false}} {
		for _, unit := range []float64{1, 1e-9, 1e9} {
			rows := [][]float64{{2, 1, -1, 8}, {-3, -1, 2, -11}, {c.third[0] * unit, c.third[1] * unit, c.third[2] * unit, c.third[3] * unit}}
			x := []float64{7, 7, 7}
			whole := regression.Solve(rows, []float64{3, 3, 3 * unit}, 1e-12, x)
			for k, want := range c.want {
				if whole != c.whole || !(math.Abs(x[k]-want) <= 1e-9) {
					t.Errorf("%v in unit %g: %v, %v", c.want, unit, x, whole)
				}
			}
		}
	}
}

// What is put in comes out, also where the first pivot is 0, and a pivot counts from least times its row's scale on.
func TestSolvePutsBack(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	for range 40 {
		n := 2 + r.IntN(6)
		want, rows, scale := make([]float64, n), make([][]float64, n), make([]float64, n)
		for i := range want {
			want[i], scale[i] = r.NormFloat64(), 1
		}
		for i := range rows {
			rows[i] = make([]float64, n+1)
			for k := range n {
				if i > 0 || k > 0 {
					rows[i][k] = r.NormFloat64()
				}
				rows[i][n] += rows[i][k] * want[k]
			}
		}
		x := make([]float64, n)
		if !regression.Solve(rows, scale, 1e-12, x) {
			t.Fatal("not solved")
		}
		for i := range want {
			if !(math.Abs(x[i]-want[i]) <= 1e-7) {
				t.Fatalf("%v, want %v", x, want)
			}
		}
	}
	for scale, want := range map[float64]bool{0.99: true, 1: false, 1.01: false} {
		if got := regression.Solve([][]float64{{1, 5}}, []float64{scale}, 1, []float64{0}); got != want {
			t.Errorf("a pivot of 1 by a scale of %g: %v", scale, got)
		}
	}
}
