package shape

import "runnel/analysis/roof"

// Box is a box pond: a walled rectangle l by w with a level floor at elevation 0 inset by m on every side
// and sides rising to h at the wall. No outlet.
//
// Undrained: the whole. Filled to a level z <= h the water covers (l-2m+2mz/h)(w-2m+2mz/h); filled to h it
// holds h/6*(At+Ab+4*Am) with At = l*w, Ab = (l-2m)(w-2m), Am = (l-m)(w-m) (prismoidal rule).
func Box(l, w, m, h float64) *roof.Roof {
	r := New("box", At(0, 0, h), At(l, 0, h), At(l, w, h), At(0, w, h))
	floor := []roof.Position{At(m, m, 0), At(l-m, m, 0), At(l-m, w-m, 0), At(m, w-m, 0)}
	Breakline(r, roof.GradeBreak, closed(floor)...)
	outer := r.Outline.Rings[0]
	for i, c := range floor {
		Breakline(r, roof.Valley, c, outer[i])
		Spot(r, c.Plan[0], c.Plan[1], 0)
	}
	Spot(r, l/2, w/2, 0)
	return r
}

// Dish is a square hollow of side a and depth d in the middle of a square roof of side 3a that falls from
// the hollow's rim (elevation d) to free edges all round at elevation 0.
//
// One pond: level d, depth d, area a*a, volume a*a*d/3, lip at the rim. Dry, the pond's catchment is a*a
// and the free edge's 8*a*a; full, the free edge takes 9*a*a. Facets outside slope d/a, inside 2d/a.
func Dish(a, d float64) *roof.Roof {
	b := 3 * a
	r := New("dish", At(0, 0, 0), At(b, 0, 0), At(b, b, 0), At(0, b, 0))
	r.Outline.Edge = roof.Free
	rim := []roof.Position{At(a, a, d), At(2*a, a, d), At(2*a, 2*a, d), At(a, 2*a, d)}
	Breakline(r, roof.Ridge, closed(rim)...)
	outer := r.Outline.Rings[0]
	mid := At(b/2, b/2, 0)
	for i, c := range rim {
		Breakline(r, roof.Hip, c, outer[i])
		Breakline(r, roof.Valley, c, mid)
		Spot(r, c.Plan[0], c.Plan[1], d)
	}
	Spot(r, b/2, b/2, 0)
	return r
}

// Ell is an L of two legs, each w wide and l long outside, lying along the axes from the origin. It rises s to the
// north and s to the east from elevation 0 at the origin, where a scupper of the given width on the
// west edge at (0, width/2) has invert 0; two square curbs of side c stand in the legs, clear of the walls.
//
// One plane of slope s*sqrt(2), aspect 225 degrees. Net area l*w + (l-w)*w - 2*c*c; catchment of the
// scupper: all of it. Water runs round the curbs. No ponds.
func Ell(l, w, s, c, width float64) *roof.Roof {
	h := func(x, y float64) float64 { return s*x + s*y }
	p := func(x, y float64) roof.Position { return At(x, y, h(x, y)) }
	r := New("ell", p(0, 0), p(l, 0), p(l, w), p(w, w), p(w, l), p(0, l))
	for i := 0; i <= 8; i++ {
		t := l * float64(i) / 8
		Spot(r, t, w/2, h(t, w/2))
		if t > w {
			Spot(r, w/2, t, h(w/2, t))
		}
	}
	square(r, (l+w)/2, w/3, c)
	square(r, w/3, (l+w)/2, c)
	o := Scupper(r, 0, width/2, width)
	o.Invert, o.HasInvert = 0, true
	return r
}

// square adds a square curb of side c without elevations, centred on (x, y).
func square(r *roof.Roof, x, y, c float64) {
	d := c / 2
	Curb(r, Bare(x-d, y-d), Bare(x+d, y-d), Bare(x+d, y+d), Bare(x-d, y+d))
}
