package studytest

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/study"
)

// number is a number in a line that was told.
var number = regexp.MustCompile(`-?\d+(\.\d+)?(e[-+]\d+)?`)

// Slanted holds what is told of each roof to what is told of it turned by the angle of the triangle 3, 4, 5, in whatever order. That angle keeps every place, to the millimetre, on the grid of the survey; but round footprints, and what is
// looked at in so many directions, lie otherwise: numbers may differ by a share of themselves, and by a thousandth.
func Slanted(t *testing.T, share float64, tell func(s *study.Study, say func(format string, args ...any))) {
	t.Helper()
	most := 0
	for name, make := range Roofs() {
		straight := told(run(t, make(), func(p orb.Point) orb.Point { return p }), tell)
		slant := told(run(t, make(), func(p orb.Point) orb.Point { return orb.Point{0.8*p[0] - 0.6*p[1], 0.6*p[0] + 0.8*p[1]} }), tell)
		most = max(most, len(straight))
		for _, line := range straight {
			found := -1
			for i, other := range slant {
				if alike(line, other, share) {
					found = i
					break
				}
			}
			if found < 0 {
				t.Errorf("%s, turned at a slant, lacks %q", name, line)
				continue
			}
			slant = append(slant[:found], slant[found+1:]...)
		}
		for _, line := range slant {
			t.Errorf("%s, turned at a slant: %q", name, line)
		}
	}
	if most == 0 {
		t.Error("nothing is told of any roof")
	}
}

// alike reports whether two lines have the same words, and numbers that differ by no more than a share of the first and a thousandth.
func alike(a, b string, share float64) bool {
	if number.ReplaceAllString(a, "n") != number.ReplaceAllString(b, "n") {
		return false
	}
	x, y := number.FindAllString(a, -1), number.FindAllString(b, -1)
	for i := range x {
		v, errV := strconv.ParseFloat(x[i], 64)
		w, errW := strconv.ParseFloat(y[i], 64)
		if errV != nil || errW != nil || !(math.Abs(v-w) <= share*math.Abs(v)+0.001) {
			return false
		}
	}
	return true
}
