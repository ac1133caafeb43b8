package cause

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
)

// By hand: before a wall with a scupper in it the last 0.9 m of a fall of 2 % rise by 22 mm to the wall, as far as 2.2 m to either side of the scupper: that is all along the 6 ft to either side that count, wherever the wall runs; to one side, half of 0.3 to 0.7 of them. The lowest water stands 0.9 m
// off its line, beside the scupper too. Where the roof rises at the scupper's own foot alone it does not rise along the wall.
func TestRoofRisesAlongAWall(t *testing.T) {
	for _, c := range []struct{ west, half, share float64 }{{2.2, 2.2, 1}, {0.4, 0.4, 0}, {0.15, 2.2, 0.5}} {
		for name, to := range map[string]func(p orb.Point) orb.Point{
			"south": func(p orb.Point) orb.Point { return p },
			"slant": func(p orb.Point) orb.Point { return orb.Point{0.8*p[0] - 0.6*p[1] + 31, 0.6*p[0] + 0.8*p[1] - 17} },
		} {
			r := shape.New("wall", shape.Bare(0, 0), shape.Bare(20, 0), shape.Bare(20, 12), shape.Bare(0, 12))
			for _, y := range []float64{0, 0.9, 2, 4, 8, 12} {
				for _, x := range []float64{0, 3, 6, 10 - c.half - 0.05, 10 - c.half, 9.5, 9.9, 10, 10.1, 10 + c.half, 10 + c.half + 0.05, 14, 17, 20} {
					z := 0.02 * y
					if y == 0 && x >= 10-c.west && x <= 10+c.half {
						z = 0.04
					}
					shape.Spot(r, x, y, z)
				}
			}
			o := shape.Scupper(r, 10, 0, 0.2)
			o.Invert, o.HasInvert = 0.04, true
			shape.Places(r, func(p *orb.Point) { *p = to(*p) })
			m, st := modelOf(t, r)
			v := &view{model: m, site: st, depth: 0.022}
			near(t, name+": share", v.wallRises(&m.s.Outlets[0]), c.share, 1e-9)
			// The score, half of 1.8 to 0.45 m from the lip to the wall.
			pond := *st.p
			pond.HeldBy = -1
			scored := *v
			scored.noise, scored.crest.ok = 0.001, true
			scored.site = &site{p: &pond, deep: st.deep, way: way{v: []int32{0, 0, 0}, s: []float64{0, 1, 2.125}, lip: 1, end: 0}}
			if got, ok := edgeHigh(&scored); !ok || !(math.Abs(got.Score-0.95*c.share*0.5*ramp(scored.backFrom(&m.s.Outlets[0]), 3.6, 1.8)) <= 1e-9) {
				t.Errorf("%s: a score of %g, %t", name, got.Score, ok)
			}
			at := to(orb.Point{13, 0.9})
			for i := range m.t.X {
				if math.Hypot(m.t.X[i]-at[0], m.t.Y[i]-at[1]) > 1.1 {
					continue
				}
				st.deep = int32(i)
				q := orb.Point{m.t.X[i] - to(orb.Point{})[0], m.t.Y[i] - to(orb.Point{})[1]}
				up := orb.Point{to(orb.Point{0, 1})[0] - to(orb.Point{})[0], to(orb.Point{0, 1})[1] - to(orb.Point{})[1]}
				near(t, name+": off the wall", v.backFrom(&m.s.Outlets[0]), math.Abs(q[0]*up[0]+q[1]*up[1]), 1e-6)
			}
		}
	}
}
