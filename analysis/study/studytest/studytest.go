// Package studytest is test support: it studies roofs where they lie, elsewhere on their grid and turned by quarters. Neither the place of a site
// grid nor the way north is anything that a roof knows of, so that the results must be one.
package studytest

import (
	"fmt"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// Options ask for rain, so that outlets are judged, and for spots to measure next.
func Options() study.Options {
	return study.Options{
		Criteria:  standard.Overrides{"rain_primary": 100 * float64(quantity.MillimetrePerHour), "rain_overflow": 200 * float64(quantity.MillimetrePerHour)},
		NextSpots: 6,
	}
}

// Roofs are random roofs on which rounding settles no tie.
func Roofs() map[string]func() *roof.Roof {
	out := map[string]func() *roof.Roof{}
	for _, seed := range []uint64{3, 14, 20} {
		out[fmt.Sprintf("random roof %d", seed)] = func() *roof.Roof { return untied(shape.Random(seed, 120)) }
	}
	return out
}

// untied sets the spots of a roof off by up to a fifth of a millimetre each: where elevations are alike to the last digit, rounding decides.
func untied(r *roof.Roof) *roof.Roof {
	for i := range r.Spots {
		r.Spots[i].Z += 0.00001 * float64(i*i%41-20)
	}
	return r
}

// run studies a roof whose places went to others.
func run(t *testing.T, r *roof.Roof, to func(p orb.Point) orb.Point) *study.Study {
	t.Helper()
	shape.Places(r, func(p *orb.Point) { *p = to(*p) })
	s, err := study.Run(r, Options())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Moved holds a part of the study of each roof to the same part of the roof 384 m east and 640 m south of it, exact in binary: each number, word and
// index, and each place, brought back.
func Moved(t *testing.T, part func(s *study.Study) any) {
	t.Helper()
	by := orb.Point{384, -640}
	for name, make := range Roofs() {
		here := run(t, make(), func(p orb.Point) orb.Point { return p })
		there := run(t, make(), func(p orb.Point) orb.Point { return orb.Point{p[0] + by[0], p[1] + by[1]} })
		for _, d := range shape.Differ(part(here), part(there), func(p orb.Point) orb.Point { return orb.Point{p[0] - by[0], p[1] - by[1]} }) {
			t.Errorf("%s, moved: %s", name, d)
		}
	}
}

// Turned holds what is told of each roof to what is told of it turned by one, two and three quarters, in whatever order: lines without place, bearing or index.
func Turned(t *testing.T, tell func(s *study.Study, say func(format string, args ...any))) {
	t.Helper()
	most := 0
	for name, make := range Roofs() {
		straight := told(run(t, make(), func(p orb.Point) orb.Point { return p }), tell)
		most = max(most, len(straight))
		for quarters, to := range []func(p orb.Point) orb.Point{
			func(p orb.Point) orb.Point { return orb.Point{-p[1], p[0]} },
			func(p orb.Point) orb.Point { return orb.Point{-p[0], -p[1]} },
			func(p orb.Point) orb.Point { return orb.Point{p[1], -p[0]} },
		} {
			got := told(run(t, make(), to), tell)
			for i := range max(len(got), len(straight)) {
				switch {
				case i >= len(got):
					t.Errorf("%s, turned by %d quarters, lacks %q", name, quarters+1, straight[i])
				case i >= len(straight) || got[i] != straight[i]:
					t.Errorf("%s, turned by %d quarters: %q", name, quarters+1, got[i])
				}
			}
		}
	}
	if most == 0 {
		t.Error("nothing is told of any roof")
	}
}

// told lists what is told of a roof.
func told(s *study.Study, tell func(s *study.Study, say func(format string, args ...any))) (lines []string) {
	tell(s, func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) })
	slices.Sort(lines)
	return lines
}
