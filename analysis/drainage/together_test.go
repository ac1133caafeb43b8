package drainage_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/standard"
)

// Two scuppers of 12 and 24 in hold one water on a level floor of 40 by 20 ft: at one level the wider takes twice the
// flow, since a weir's is as its width, and together they take what falls. By hand: 800 ft2 at 6 in/h bring 800/96.25*6 =
// 49.87 gpm.
func TestScuppersInOneWaterShareByTheirLaws(t *testing.T) {
	l, w := 40*foot, 20*foot
	r := shape.New("one water", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, w, 0), shape.At(0, w, 0))
	for i, x := range []float64{0.25 * l, 0.75 * l} {
		o := shape.Scupper(r, x, 0, float64(i+1)*float64(12*inch))
		o.Invert, o.HasInvert = 0.02, true
	}
	c := standard.Defaults()
	c.RainPrimary = 6 * inchesHour
	d := run(t, r, c)
	a, b := &d.Outlets[0], &d.Outlets[1]
	if !(math.Abs(a.Head-b.Head) <= 1e-9) {
		t.Errorf("heads of %.6f and %.6f m in one water", a.Head, b.Head)
	}
	if sum := (a.Demand + b.Demand) / gpm; !(math.Abs(sum-800/96.25*6) <= 0.02) {
		t.Errorf("%.4f gpm in all, want %.4f", sum, 800/96.25*6)
	}
	if got := b.Demand / a.Demand; !(math.Abs(got-2) <= 1e-6) {
		t.Errorf("the wider takes %.6f times the flow, want twice", got)
	}
}
