package geodesic

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// View looks at one place of a field after the other. It keeps at hand what it needs of a triangle, so that places of one triangle in turn cost little. Only one
// goroutine may use it.
type View struct {
	f      *Field
	t      int32   // triangle at hand, -1 none
	lights []light // of the triangle: its corners, then its windows
}

// light is what a way over the triangle at hand may go straight to: a corner of it, or a source that is seen through a window.
type light struct {
	from     orb.Point
	distance float64 // from there to the target
	source   int32   // itself, or of a corner that which its way goes to; -1 at the target
	corner   int32   // vertex, -1 for a source
	a, b     orb.Point
	t0, t1   float64 // the window on the edge from a to b
}

// shines reports whether a place of the triangle is seen from the light through its window.
func (l *light) shines(p orb.Point) bool {
	if l.corner >= 0 {
		return true
	}
	x := meets(l.from, p, l.a, l.b)
	return x >= l.t0-grazing && x <= l.t1+grazing || vector.Distance(l.from, p) == 0
}

// View returns a view of the field.
func (f *Field) View() *View { return &View{f: f, t: -1} }

// At returns the distance of a place of triangle t [m].
func (v *View) At(t int32, p orb.Point) float64 {
	for _, c := range v.f.r.V[3*t : 3*t+3] {
		if v.f.r.point(c) == p {
			return v.f.dist[c]
		}
	}
	far, _ := v.find(t, p)
	return far
}

// turn takes triangle t at hand.
func (v *View) turn(t int32) {
	f := v.f
	v.t, v.lights = t, v.lights[:0]
	for _, c := range f.r.V[3*t : 3*t+3] {
		v.lights = append(v.lights, light{from: f.r.point(c), distance: f.dist[c], source: f.via[c], corner: c})
	}
	for e := 3 * t; e < 3*t+3; e++ {
		a, b := f.r.ends(e)
		for i := f.first[e]; i >= 0; i = f.windows[i].after {
			w := &f.windows[i]
			s := &f.sources[w.source]
			v.lights = append(v.lights, light{s.at, s.distance, w.source, -1, a, b, w.t0, w.t1})
		}
	}
}

// find returns the distance of a place, and which of the lights its way goes to first; -1 where there is no way.
func (v *View) find(t int32, p orb.Point) (far float64, first int) {
	if t != v.t {
		v.turn(t)
	}
	far, first = math.Inf(1), -1
	for i := range v.lights {
		l := &v.lights[i]
		if d := l.distance + vector.Distance(p, l.from); d < far && l.shines(p) {
			far, first = d, i
		}
	}
	return far, first
}
