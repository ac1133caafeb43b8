package demo

import (
	"math"

	"github.com/paulmach/orb"
)

// relief is the height of a surface over its plan [m]. Reliefs are built from planes by taking the
// greater (they meet in a valley) or the lesser (they meet in a ridge), and faults are added on top.
type relief func(p orb.Point) float64

// plus returns r with more on top of it.
func (r relief) plus(more relief) relief { return func(p orb.Point) float64 { return r(p) + more(p) } }

// cone is 1 at c and falls to 0 at distance radius.
func cone(c orb.Point, radius float64) relief {
	return func(p orb.Point) float64 { return math.Max(0, 1-distance(p, c)/radius) }
}

// bowl is 1 at c and falls to 0 at distance radius, as a paraboloid does.
func bowl(c orb.Point, radius float64) relief {
	return func(p orb.Point) float64 {
		d := distance(p, c) / radius
		return math.Max(0, 1-d*d)
	}
}

// ring is 1 at distance radius from c and falls to 0 at width on either side.
func ring(c orb.Point, radius, width float64) relief {
	return func(p orb.Point) float64 { return math.Max(0, 1-math.Abs(distance(p, c)-radius)/width) }
}

// ribbon is 1 on the stretch from a to b and falls to 0 at distance width from it.
func ribbon(a, b orb.Point, width float64) relief {
	return func(p orb.Point) float64 { return math.Max(0, 1-offset(p, a, b)/width) }
}

// profile is a line of straight pieces through (at, height), level beyond its ends.
type profile []struct{ at, height float64 }

// height returns the profile's height at x.
func (p profile) height(x float64) float64 {
	if x <= p[0].at {
		return p[0].height
	}
	for i := 1; i < len(p); i++ {
		if a, b := p[i-1], p[i]; x <= b.at {
			return a.height + (b.height-a.height)*(x-a.at)/(b.at-a.at)
		}
	}
	return p[len(p)-1].height
}

// dishSag returns how far a paraboloid dish of the given radius must sag below a plane of the given
// slope to hold a pond of the given depth.
//
// On the fall line z = slope*y - sag*(1 - y²/radius²). The lowest point is at y = -slope*radius²/(2*sag)
// and the lip at y = -radius, so depth = sag*(1 - slope*radius/(2*sag))².
func dishSag(slope, radius, depth float64) float64 {
	root := (math.Sqrt(depth) + math.Sqrt(depth+2*slope*radius)) / 2
	return root * root
}

// camberRise returns how far a span must rise between its supports, as 4*rise*u*(1-u), for a pond of the
// given depth to stand above the lower support of the span below it, on a plane that falls along the span.
//
// From the support down the fall z = -slope*t + 4*rise*(t/span)*(1-t/span), whose crest stands
// rise*(1 - slope*span/(4*rise))² above the support.
func camberRise(slope, span, depth float64) float64 {
	root := (math.Sqrt(depth) + math.Sqrt(depth+slope*span)) / 2
	return root * root
}

func distance(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// offset is the distance of p from the stretch a to b.
func offset(p, a, b orb.Point) float64 {
	ux, uy := b[0]-a[0], b[1]-a[1]
	l := ux*ux + uy*uy
	if l == 0 {
		return distance(p, a)
	}
	t := math.Min(1, math.Max(0, ((p[0]-a[0])*ux+(p[1]-a[1])*uy)/l))
	return distance(p, orb.Point{a[0] + t*ux, a[1] + t*uy})
}

// between is the point at share t of the way from a to b.
func between(a, b orb.Point, t float64) orb.Point {
	return orb.Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}
}

// circle returns n points on a circle, the first due east.
func circle(c orb.Point, radius float64, n int) []orb.Point {
	points := make([]orb.Point, n)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		points[i] = orb.Point{c[0] + radius*cos, c[1] + radius*sin}
	}
	return points
}
