package shape

import (
	"math"

	"runnel/analysis/roof"
)

// Plane is a rectangle l (east) by w (north) that rises s to the north from elevation 0, with a gutter
// along its south edge and walls elsewhere; spots on a grid of n by n steps.
//
// Slope s everywhere, aspect 180 degrees. The gutter's catchment is l*w; longest travel w, mean travel
// w/2. No ponds. Volume under the surface above 0: s*l*w*w/2.
func Plane(l, w, s float64, n int) *roof.Roof {
	r := New("plane", At(0, 0, 0), At(l, 0, 0), At(l, w, s*w), At(0, w, s*w))
	Grid(r, 0, 0, l, w, n, n, func(_, y float64) float64 { return s * y })
	Edge(r, roof.Gutter, Bare(0, 0), Bare(l, 0))
	return r
}

// Pyramid is a walled rectangle l (east) by w (north), w <= l, centred on the origin, that falls four ways
// at slope s in plan steps parallel to its sides to a drain at the origin (elevation 0):
// z = s*max(|x|, |y|). Breaklines run from the drain at 45 degrees to (+-w/2, +-w/2).
//
// Every facet has slope s; the valleys fall at s/sqrt(2). Volume under the surface above 0:
// s*(l*l*w/4 + w*w*w/12). The drain's catchment is l*w; no ponds. Aspects 0, 90, 180 and 270 degrees on
// areas w*w/4, (2*l*w-w*w)/4, w*w/4 and (2*l*w-w*w)/4.
func Pyramid(l, w, s, bowl float64) *roof.Roof {
	h := func(x, y float64) float64 { return s * math.Max(math.Abs(x), math.Abs(y)) }
	a, b := l/2, w/2
	corners := []roof.Position{At(-a, -b, h(a, b)), At(a, -b, h(a, b)), At(a, b, h(a, b)), At(-a, b, h(a, b))}
	if l > w {
		corners = []roof.Position{
			At(-a, -b, h(a, b)), At(-b, -b, h(b, b)), At(b, -b, h(b, b)), At(a, -b, h(a, b)),
			At(a, b, h(a, b)), At(b, b, h(b, b)), At(-b, b, h(b, b)), At(-a, b, h(a, b)),
		}
	}
	r := New("pyramid", corners...)
	for _, c := range [][2]float64{{-b, -b}, {b, -b}, {b, b}, {-b, b}} {
		Breakline(r, roof.Valley, At(0, 0, 0), At(c[0], c[1], h(b, b)))
		Spot(r, c[0]/2, c[1]/2, h(b/2, b/2))
	}
	Spot(r, 0, 0, 0)
	Drain(r, 0, 0, bowl)
	return r
}

// Cone is a walled regular n-gon with corners on a circle of the given radius round the origin, rising
// from 0 at a drain in the middle to h at every corner.
//
// Slope of every facet: h/(radius*cos(pi/n)). Plan area n*radius*radius*sin(2*pi/n)/2; volume under the
// surface above 0: 2/3 of area*h; the drain's catchment is the whole. No ponds. The corners stand on the
// grid only to its rounding, so compare to 1e-4 relative.
func Cone(n int, radius, h, bowl float64) *roof.Roof {
	corners := make([]roof.Position, n)
	for i := range corners {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		corners[i] = At(radius*cos, radius*sin, h)
	}
	r := New("cone", corners...)
	Spot(r, 0, 0, 0)
	for _, c := range corners {
		Spot(r, c.Plan[0], c.Plan[1], h)
	}
	Drain(r, 0, 0, bowl)
	return r
}

// Trough is a walled rectangle l (east) by 2*w (north), its valley along y = w from elevation v*l at x = 0 to 0
// at x = l, with side planes rising s to both sides; a scupper of the given width stands at (l, w) with
// invert 0.
//
// Both planes have slope sqrt(s*s+v*v), the valley falls at v. The scupper's catchment is 2*l*w; longest
// travel from a far corner: the path on the plane meets the valley after w*sqrt(1+(v/s)^2), having gone
// w*v/s east, then l-w*v/s along the valley, less half the width where the path enters beside it. No ponds.
func Trough(l, w, s, v, width float64) *roof.Roof {
	h := func(x, y float64) float64 { return s*math.Abs(y-w) + v*(l-x) }
	r := New("trough", At(0, 0, h(0, 0)), At(l, 0, h(l, 0)), At(l, w, 0),
		At(l, 2*w, h(l, 0)), At(0, 2*w, h(0, 0)), At(0, w, h(0, w)))
	Breakline(r, roof.Valley, At(0, w, h(0, w)), At(l, w, 0))
	Grid(r, 0, 0, l, 2*w, 4, 4, h)
	o := Scupper(r, l, w, width)
	o.Invert, o.HasInvert = 0, true
	return r
}

// Hip is a hip roof l (east) by w (north), w < l, with gutters all round at elevation 0, all four faces at slope
// s: z = s*min(distance to the sides).
//
// Ridge from (w/2, w/2) to (l-w/2, w/2) at s*w/2; hips at 45 degrees fall s/sqrt(2). Volume under the
// surface: s*w*w*(3*l-w)/12. Faces: two triangles w*w/4, two trapezoids (2*l*w-w*w)/4. One gutter run
// whose catchment is l*w; longest travel w/2. No ponds.
func Hip(l, w, s float64) *roof.Roof {
	r := New("hip", At(0, 0, 0), At(l, 0, 0), At(l, w, 0), At(0, w, 0))
	r.Outline.Edge = roof.Gutter
	top := s * w / 2
	a, b := At(w/2, w/2, top), At(l-w/2, w/2, top)
	Breakline(r, roof.Ridge, a, b)
	Breakline(r, roof.Hip, At(0, 0, 0), a)
	Breakline(r, roof.Hip, At(0, w, 0), a)
	Breakline(r, roof.Hip, At(l, 0, 0), b)
	Breakline(r, roof.Hip, At(l, w, 0), b)
	Spot(r, a.Plan[0], a.Plan[1], top)
	Spot(r, b.Plan[0], b.Plan[1], top)
	Spot(r, l/2, w/4, s*w/4)
	Spot(r, l/2, 3*w/4, s*w/4)
	return r
}
