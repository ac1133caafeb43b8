package cricket_test

import (
	"math"
	"testing"

	"runnel/analysis/cricket"
)

const foot, inch = 0.3048, 0.0254

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.6f, want %.6f", what, got, want)
	}
}

// Behind a curb 6 ft wide on 1/4 in per ft a valley of 1/8 in per ft takes a tip 1.73 ft off and 0.75 in at the side; the widest, 3 ft, gives
// 0.177 in per ft. By hand: s*sin(phi), and twice s over 3 ft times sin(phi).
func TestOn(t *testing.T) {
	c := cricket.On(6*foot, 1.0/48, 1.0/96)
	near(t, "tip in ft", c.Apex/foot, math.Sqrt(3), 1e-9)
	near(t, "valley in in per ft", c.Valley*12, 0.125, 1e-9)
	near(t, "thickness in in", c.Thickness/inch, 0.75, 1e-9)
	c = cricket.On(6*foot, 1.0/48, 1.0/48)
	near(t, "widest tip in ft", c.Apex/foot, 3, 1e-9)
	near(t, "its valley in in per ft", c.Valley*12, 0.25*math.Sqrt(0.5), 1e-9)
}

// A valley is laid a quarter over the least fall asked for, and never steeper than the field that it lies in.
func TestValley(t *testing.T) {
	near(t, "on a steep field", cricket.Valley(0.03, 0.01), 0.0125, 1e-12)
	near(t, "on a flat field", cricket.Valley(0.011, 0.01), 0.011, 1e-12)
}
