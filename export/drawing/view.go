package drawing

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/export/drawing/scene"
)

// view takes places of the roof to the sheet.
type view struct {
	cos, sin float64   // of the turn
	centre   orb.Point // of the turned roof's extent [m]
	w, h     float64   // of that extent [m]
	at       scene.Point
	k        float64 // millimetres of sheet a metre of roof
}

// nearlyNorth is how far a side may lie off the axes for the roof to stand as surveyed: the sine of half a degree.
const nearlyNorth = 0.0087

// newView turns the roof so that its longest side is level, unless that side lies north to south or east to west.
func newView(r *roof.Roof) *view {
	v := &view{cos: 1}
	ring := r.Outline.Rings[0]
	longest := 0.0
	for i := 1; i < len(ring); i++ {
		dx, dy := ring[i].Plan[0]-ring[i-1].Plan[0], ring[i].Plan[1]-ring[i-1].Plan[1]
		l := vector.Norm(dx, dy)
		if l <= longest*1.0001 {
			continue
		}
		longest, v.cos, v.sin = l, dx/l, -dy/l
		if v.cos < 0 {
			v.cos, v.sin = -v.cos, -v.sin
		}
	}
	if math.Abs(v.sin) < nearlyNorth || v.cos < nearlyNorth {
		v.cos, v.sin = 1, 0
	}
	low, high := orb.Point{math.Inf(1), math.Inf(1)}, orb.Point{math.Inf(-1), math.Inf(-1)}
	for i := range ring {
		p := v.turn(ring[i].Plan)
		for k := range p {
			low[k], high[k] = min(low[k], p[k]), max(high[k], p[k])
		}
	}
	v.w, v.h = high[0]-low[0], high[1]-low[1]
	v.centre = orb.Point{(low[0] + high[0]) / 2, (low[1] + high[1]) / 2}
	return v
}

// turn returns a place, turned about the origin.
func (v *view) turn(p orb.Point) orb.Point {
	return orb.Point{float64(p[0]*v.cos) - float64(p[1]*v.sin), float64(p[0]*v.sin) + float64(p[1]*v.cos)}
}

// point returns where a place of the roof lies on the sheet, to a hundredth of a millimetre.
func (v *view) point(p orb.Point) scene.Point {
	q := v.turn(p)
	return scene.Point{X: scene.Hundredth(v.at.X + float64((q[0]-v.centre[0])*v.k)), Y: scene.Hundredth(v.at.Y - float64((q[1]-v.centre[1])*v.k))}
}

// way returns a direction of the roof on the sheet.
func (v *view) way(dx, dy float64) scene.Point {
	q := v.turn(orb.Point{dx, dy})
	return scene.Point{X: q[0], Y: -q[1]}
}

// line returns a line on the sheet without points that lie closer together than can be drawn.
func (v *view) line(line []orb.Point) []scene.Point {
	out := make([]scene.Point, 0, len(line))
	for i, p := range line {
		q := v.point(p)
		if n := len(out); n > 0 && scene.Distance(q, out[n-1]) < 0.1 && i < len(line)-1 {
			continue
		}
		out = append(out, q)
	}
	return out
}

// rings returns all rings of polygons on the sheet.
func (v *view) rings(m orb.MultiPolygon) [][]scene.Point {
	var out [][]scene.Point
	for _, polygon := range m {
		for _, ring := range polygon {
			out = append(out, v.line(ring))
		}
	}
	return out
}

func (v *view) positions(ps []roof.Position) []scene.Point { return v.line(roof.PlanOf(ps)) }
