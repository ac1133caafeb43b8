package evidence

import (
	"math"
	"testing"
)

// Nine spots 1 m apart over a valley of slope a on either side, z = a |x|. By hand: the plane through them is level, 2a/3 over the valley, six spots lie a/3 over it and
// three 2a/3 under it, so that the misfit is 2 a^2/(9-3) = a^2/3. With errors of variance a^2/5, a^2/3 - a^2/5 = 2 a^2/15 is left where a fold is known, and nothing
// where none is. The farthest spot stands root 8 m from the first, over which the gradient changes by 4 root(2/15) a/root 8.
func TestBendOverAFold(t *testing.T) {
	const a = 0.02
	g := &ground{first: make([]int32, 10)}
	of := make([]int32, 0, 9)
	for i := range 9 {
		x, y := float64(i/3-1), float64(i%3-1)
		g.x, g.y, g.z = append(g.x, x), append(g.y, y), append(g.z, a*math.Abs(x))
		g.low, g.high = append(g.low, 5/(a*a)), append(g.high, 5/(a*a))
		of = append(of, int32(i))
	}
	for folded, want := range map[bool]float64{true: 4 * math.Sqrt(2.0/15) * a / math.Sqrt(8), false: 0} {
		if got := g.bend(of, make([]int32, 9), 1, folded); !(math.Abs(got-want) < 1e-12) {
			t.Errorf("a fold known: %v: %g, want %g", folded, got, want)
		}
	}
}
