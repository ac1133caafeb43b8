package surface

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
)

// leastMove is how far a scupper must be moved for it to be said [m].
const leastMove = 0.003

// laySlot finds a scupper's place and width on the outline and cuts its two ends.
func (l *layout) laySlot(i int, o *roof.Outlet) (at orb.Point, ends [2]int32, ok bool) {
	e, t, far := l.cut.border.nearest(o.Plan, OutlineEdge)
	if far > l.Reach() {
		l.RefuseOutlet(i, o.Plan, fmt.Sprintf("%s, a scupper, is %.2f m from the outline", l.OutletName(i), far),
			"move it to within 0.5 m of the outline or make it a drain")
		return at, ends, false
	}
	if far > leastMove {
		l.NoteMoved(i)
	}
	at = l.s.TIN.along(e, t)
	half := math.Max(float64(o.Width), leastFootprint) / 2
	e0, t0 := l.s.TIN.slide(e, t, half, false)
	e1, t1 := l.s.TIN.slide(e, t, half, true)
	return at, [2]int32{l.cut.onBorder(e0, t0, l.s.TIN), l.cut.onBorder(e1, t1, l.s.TIN)}, true
}

// onBorder returns the copy's vertex at a place on border half-edge e of the TIN, made if there is none.
func (c *cutter) onBorder(e int32, at float64, t *TIN) int32 {
	a, b := t.V[e], t.End(e)
	x := float64(t.GX[a]) + float64(at*float64(t.GX[b]-t.GX[a]))
	y := float64(t.GY[a]) + float64(at*float64(t.GY[b]-t.GY[a]))
	for e = c.Out[a]; ; e = c.Out[c.End(e)] {
		u, v := c.V[e], c.End(e)
		if end := fraction(t.GX, t.GY, a, b, float64(c.GX[v]), float64(c.GY[v])); v == b || at <= end {
			return c.place(e, fraction(c.GX, c.GY, u, v, x, y))
		}
	}
}
