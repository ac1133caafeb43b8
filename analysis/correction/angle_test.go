package correction_test

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/correction"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// Which way the walls run on the site grid: a roof turned by the angle of the triangle 3, 4, 5, which keeps every place on the grid of the survey, is mended by the same options, which take and leave the same. Its spots
// stand some millimetres beside a square grid and off its planes, no two alike, so that nothing is left to chance.
func TestMendedAtAnAngle(t *testing.T) {
	numbers := regexp.MustCompile(`\d+\.\d+`)
	for name, make := range map[string]func() *roof.Roof{
		"hollow":   func() *roof.Roof { r, _ := hollow(1, 0, 0.03, 2); return r },
		"square":   func() *roof.Roof { return square(0.3) },
		"sunk":     sunk,
		"bays":     func() *roof.Roof { return sunkAt(1, 0, 3, 4, 0.04) },
		"high":     func() *roof.Roof { r := falls(2, 2, 12, 0, even); r.Outlets[2].Invert += 0.02; return r },
		"stepped":  func() *roof.Roof { return stepped(24, 12, 6, 0) },
		"edge":     func() *roof.Roof { return stepped(12, 12, 1.8, 0) },
		"humped":   func() *roof.Roof { return humped(1, 0) },
		"shop":     func() *roof.Roof { return shop(1, 0) },
		"gutter":   gutter,
		"across":   func() *roof.Roof { return across(1, 0) },
		"bypassed": func() *roof.Roof { return bypassed(0) },
	} {
		mended := func(to func(p orb.Point) orb.Point) []string {
			r := make()
			ring := orb.LineString(roof.PlanOf(r.Outline.Rings[0]))
			for i := range r.Spots {
				p := &r.Spots[i]
				p.Z += 0.00001 * float64(i*71%199-99)
				if q := p.Plan; planar.DistanceFrom(ring, q) > 0.2 {
					p.Plan = orb.Point{q[0] + 0.001*float64(i*7%11-5), q[1] + 0.001*float64(i*5%13-6)}
				}
			}
			shape.Places(r, func(p *orb.Point) { *p = to(*p) })
			return offered(corrected(t, r, correction.Input{Rates: standard.BoardRates}))
		}
		here := mended(func(p orb.Point) orb.Point { return p })
		there := mended(func(p orb.Point) orb.Point { return orb.Point{0.8*p[0] - 0.6*p[1], 0.6*p[0] + 0.8*p[1]} })
		if len(here) != len(there) || len(here) < 8 {
			t.Errorf("%s: %d lines, not %d", name, len(there), len(here))
			continue
		}
		for i := range here {
			same := numbers.ReplaceAllString(here[i], "n") == numbers.ReplaceAllString(there[i], "n")
			a, b := numbers.FindAllString(here[i], -1), numbers.FindAllString(there[i], -1)
			for k := 0; same && k < len(a); k++ {
				x, errX := strconv.ParseFloat(a[k], 64)
				y, errY := strconv.ParseFloat(b[k], 64)
				same = errX == nil && errY == nil && math.Abs(x-y) <= 0.0021+0.02*math.Abs(x)
			}
			if !same {
				t.Errorf("%s: %s\nnot %s", name, there[i], here[i])
			}
		}
	}
}
