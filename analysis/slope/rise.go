package slope

import "math"

// rise returns how far a ridge stands above the feet of its two planes, on the side where that is
// less: the fall square to the line over the width of the plane beside it.
func (l *liner) rise(line *Line) float64 {
	a, b := line.Plan[0], line.Plan[len(line.Plan)-1]
	n := hypot(b[0]-a[0], b[1]-a[1])
	if n == 0 {
		return 0
	}
	ux, uy := (b[0]-a[0])/n, (b[1]-a[1])/n
	side := func(plane int32, sign float64) float64 {
		p := &l.slopes.Planes[plane]
		fall := -sign * (float64(p.Gradient[1]*ux) - float64(p.Gradient[0]*uy))
		width := 0.0
		for _, polygon := range p.Outline {
			for _, q := range polygon[0] {
				dx, dy := q[0]-a[0], q[1]-a[1]
				along := float64(dx*ux) + float64(dy*uy)
				if along < 0 || along > n {
					continue
				}
				width = math.Max(width, sign*(float64(dy*ux)-float64(dx*uy)))
			}
		}
		return math.Max(0, fall*width)
	}
	return math.Min(side(line.Left, 1), side(line.Right, -1))
}
