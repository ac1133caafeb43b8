package ponding

import "runnel/analysis/surface"

// tent is one facet as a pond sees it: plan area and corner elevations, a <= b <= c.
type tent struct{ size, a, b, c float64 }

func newTent(t *surface.TIN, z []float64, f int32) tent {
	i, j, k := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
	ux, uy := t.X[j]-t.X[i], t.Y[j]-t.Y[i]
	vx, vy := t.X[k]-t.X[i], t.Y[k]-t.Y[i]
	return pitched((float64(ux*vy)-float64(uy*vx))/2, z[i], z[j], z[k])
}

// pitched returns a facet of that plan area with corners at a, b and c, in any order.
func pitched(size, a, b, c float64) tent {
	if b < a {
		a, b = b, a
	}
	if c < b {
		b, c = c, b
	}
	if b < a {
		a, b = b, a
	}
	return tent{size, a, b, c}
}

// Under returns plan area and volume of the water over a facet of the plan area whole whose corners lie a, b and c under its level [m]; negative is dry.
func Under(a, b, c, whole float64) (area, volume float64) { return pitched(whole, -a, -b, -c).water(0) }

// water returns plan area and volume of the part below level. The facet is split along its contour
// through b, so that only positive terms are added:
//
//	a < level <= b: area S t u, volume area (level-a)/3, with t = (level-a)/(b-a), u = (level-a)/(c-a)
//	b < level < c:  the part below b, area S (b-a)/(c-a) at its mean depth; of the part above b, area
//	                S (c-b)/(c-a), the share w(2-w) at volume (level-b) w (1-w/3), with w = (level-b)/(c-b)
//	level >= c:     all of it at its mean depth
func (f tent) water(level float64) (area, volume float64) {
	switch {
	case level <= f.a:
		return 0, 0
	case level >= f.c:
		return f.size, f.size * (((level - f.a) + (level - f.b) + (level - f.c)) / 3)
	case level <= f.b:
		area = f.size * ((level - f.a) / (f.b - f.a)) * ((level - f.a) / (f.c - f.a))
		return area, area * (level - f.a) / 3
	}
	below := f.size * ((f.b - f.a) / (f.c - f.a))
	above := f.size * ((f.c - f.b) / (f.c - f.a))
	w := (level - f.b) / (f.c - f.b)
	deep := (level - f.a) + float64(2*(level-f.b))
	area = below + float64(above*w*(2-w))
	volume = float64(below*deep/3) + float64(above*(level-f.b)*w*(1-w/3))
	return area, volume
}
