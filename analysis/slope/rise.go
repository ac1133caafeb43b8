package slope

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// rise returns how far a ridge stands above the feet of its two planes, on the side where that is
// less: the fall square to the line over the width of the plane beside it.
func (l *liner) rise(line *Line) float64 {
	a, b := line.Plan[0], line.Plan[len(line.Plan)-1]
	n := vector.Norm(b[0]-a[0], b[1]-a[1])
	if n == 0 {
		return 0
	}
	f := frame{a, (b[0] - a[0]) / n, (b[1] - a[1]) / n, n}
	return math.Min(f.fall(&l.slopes.Planes[line.Left], 1), f.fall(&l.slopes.Planes[line.Right], -1))
}

// frame measures along and to the left of a straight line.
type frame struct {
	at     orb.Point
	ux, uy float64 // unit vector along it
	length float64
}

// fall returns how far a plane falls from the line to the far side of its stretch beside it; sign is 1
// on the left and -1 on the right.
func (f *frame) fall(p *Plane, sign float64) float64 {
	down := -sign * (float64(p.Gradient[1]*f.ux) - float64(p.Gradient[0]*f.uy))
	width := 0.0
	for _, polygon := range p.Outline {
		outer := polygon[0]
		for i := 1; i < len(outer); i++ {
			width = math.Max(width, f.reach(outer[i-1], outer[i], sign))
		}
	}
	return math.Max(0, down*width)
}

// reach returns how far the part of the edge from a to b that lies beside the line is off it.
func (f *frame) reach(a, b orb.Point, sign float64) float64 {
	sa, da := f.place(a, sign)
	sb, db := f.place(b, sign)
	if math.Max(sa, sb) < 0 || math.Min(sa, sb) > f.length {
		return 0
	}
	at := func(s float64) float64 {
		if sa == sb {
			return math.Max(da, db)
		}
		return da + float64((db-da)*(math.Min(math.Max(s, 0), f.length)-sa)/(sb-sa))
	}
	return math.Max(at(sa), at(sb))
}

// place returns how far p is along the line, and off it on the side of sign.
func (f *frame) place(p orb.Point, sign float64) (along, off float64) {
	dx, dy := p[0]-f.at[0], p[1]-f.at[1]
	return float64(dx*f.ux) + float64(dy*f.uy), sign * (float64(dy*f.ux) - float64(dx*f.uy))
}
