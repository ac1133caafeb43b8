package projection

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The elementary functions against those of the Go library.
func TestElementaryFunctions(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	near := func(name string, x, got, want float64) {
		t.Helper()
		if !(math.Abs(got-want) <= 4e-15*math.Max(1e-3, math.Abs(want))) {
			t.Errorf("%s(%v) = %.17g, want %.17g", name, x, got, want)
		}
	}
	for range 100000 {
		x := random.Float64()*8 - 4
		s, c := sincos(x)
		if !(math.Abs(s-math.Sin(x)) <= 4e-16) || !(math.Abs(c-math.Cos(x)) <= 4e-16) {
			t.Errorf("sincos(%v) = %.17g, %.17g", x, s, c)
		}
		sh, ch := sinhcosh(x)
		near("sinh", x, sh, math.Sinh(x))
		near("cosh", x, ch, math.Cosh(x))
		near("asinh", x, asinh(x), math.Asinh(x))
		wide := math.Tan(x)
		near("atan", wide, atan(wide), math.Atan(wide))
		near("atanh", x/20, atanh(x/20), math.Atanh(x/20))
	}
	near("atan", 1e300, atan(1e300), math.Pi/2)
	near("asinh", 1e12, asinh(1e12), math.Asinh(1e12))
}
