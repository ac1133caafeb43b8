package geodesic

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// View looks at one place of a field after the other. It keeps at hand what it needs of a triangle, so that places of one triangle in turn cost little. Only one
// goroutine may use it.
type View struct {
	f       *Field
	t       int32 // triangle at hand, -1 none
	tips    [3]tip
	windows []opening // of the triangle
}

// tip is a corner of the triangle at hand.
type tip struct {
	at   orb.Point
	dist float64
	v    int32
}

// opening is a window of the triangle at hand, with its source and the ends of its edge.
type opening struct {
	from     orb.Point
	distance float64 // from the source to the target
	a, b     orb.Point
	t0, t1   float64
	source   int32
}

// View returns a view of the field.
func (f *Field) View() *View { return &View{f: f, t: -1} }

// At returns the distance of a place of triangle t [m], and how long the first straight piece of its way is.
func (v *View) At(t int32, p orb.Point) (far, piece float64) {
	far, _, _, at := v.find(t, p)
	return far, vector.Distance(p, at)
}

// turn takes triangle t at hand.
func (v *View) turn(t int32) {
	f := v.f
	v.t, v.windows = t, v.windows[:0]
	for e := 3 * t; e < 3*t+3; e++ {
		a, b := f.r.ends(e)
		v.tips[e-3*t] = tip{a, f.dist[f.r.V[e]], f.r.V[e]}
		for i := f.first[e]; i >= 0; i = f.windows[i].after {
			w := &f.windows[i]
			s := &f.sources[w.source]
			v.windows = append(v.windows, opening{s.at, s.distance, a, b, w.t0, w.t1, w.source})
		}
	}
}

// find returns the distance of a place, and the corner or else the source that its way goes to first.
func (v *View) find(t int32, p orb.Point) (far float64, corner, src int32, at orb.Point) {
	if t != v.t {
		v.turn(t)
	}
	far, corner, src, at = math.Inf(1), -1, -1, p
	for i := range v.tips {
		c := &v.tips[i]
		if d := c.dist + vector.Distance(p, c.at); d < far {
			far, corner, at = d, c.v, c.at
		}
	}
	for i := range v.windows {
		w := &v.windows[i]
		d := w.distance + vector.Distance(p, w.from)
		if d >= far {
			continue
		}
		if x := meets(w.from, p, w.a, w.b); x >= w.t0-grazing && x <= w.t1+grazing || vector.Distance(w.from, p) == 0 {
			far, corner, src, at = d, -1, w.source, w.from
		}
	}
	return far, corner, src, at
}
