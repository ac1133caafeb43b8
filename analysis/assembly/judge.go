package assembly

import (
	"math"

	"runnel/analysis/geometry/vector"
)

// Bounds of a verdict.
const (
	sure       = 3.0     // standard errors by which a verdict must hold
	minor      = 0.25    // a part of the fall up to this counts as none: thickness is even within error
	margin     = 0.1     // a part of the fall by which two falls must add up, or fight, beyond the error
	levelSlope = 1 / 96. // rise over run under which deck and insulation count as level: 1/8 in per ft
	flatSlope  = 1 / 384.
)

// Slope returns the length of the gradient, rise over run.
func (g Gradient) Slope() float64 { return vector.Norm(g.X, g.Y) }

// Sigma returns the standard error of the gradient along itself; of a gradient of 0 that of its worst direction.
func (g Gradient) Sigma() float64 {
	s := g.Slope()
	if s == 0 {
		return g.worst()
	}
	return g.along(g.X/s, g.Y/s)
}

// along returns the standard error in a direction of length 1.
func (g Gradient) along(x, y float64) float64 {
	return math.Sqrt(math.Max(0, float64(g.XX*x*x)+float64(2*g.XY*x*y)+float64(g.YY*y*y)))
}

// worst returns the standard error in the direction in which it is greatest.
func (g Gradient) worst() float64 {
	_, most := eigen(g.XX, g.XY, g.YY)
	return math.Sqrt(math.Max(0, most))
}

// judge compares the gradient of thickness with that of the surface.
func judge(surface, thickness Gradient) Verdict {
	if s := surface.Slope(); s <= math.Max(sure*surface.Sigma(), flatSlope) {
		return judgeLevel(thickness)
	}
	return judgePart(part(surface, thickness))
}

// judgeLevel passes the verdict where the surface is level: what the deck falls, the insulation takes away.
func judgeLevel(thickness Gradient) Verdict {
	t, own, worst := thickness.Slope(), float64(sure*thickness.Sigma()), float64(sure*thickness.worst())
	switch {
	case t > own && t+own > levelSlope:
		return TaperFights
	case t+worst < levelSlope:
		return NothingSlopes
	default:
		return NotResolved
	}
}

// part returns the gradient of thickness in units of that of the surface: x along the surface's, y across to the left. The error of the
// surface goes in as that of the unit.
func part(surface, thickness Gradient) Gradient {
	s := surface.Slope()
	ux, uy := surface.X/s, surface.Y/s
	p := Gradient{
		X:  (float64(thickness.X*ux) + float64(thickness.Y*uy)) / s,
		Y:  (float64(thickness.Y*ux) - float64(thickness.X*uy)) / s,
		XX: (float64(thickness.XX*ux*ux) + float64(2*thickness.XY*ux*uy) + float64(thickness.YY*uy*uy)) / (s * s),
		YY: (float64(thickness.XX*uy*uy) - float64(2*thickness.XY*ux*uy) + float64(thickness.YY*ux*ux)) / (s * s),
		XY: (float64((thickness.YY-thickness.XX)*ux*uy) + float64(thickness.XY*(float64(ux*ux)-float64(uy*uy)))) / (s * s),

		Known: true,
	}
	unit := surface.Sigma() / s
	own := float64(float64(unit*unit) * (float64(p.X*p.X) + float64(p.Y*p.Y)))
	p.XX += own
	p.YY += own
	return p
}

// judgePart passes the verdict on a part: (0, 0) is a structure that slopes, (1, 0) insulation that tapers, inside the
// circle over these two both add up, outside of it they work against each other.
func judgePart(p Gradient) Verdict {
	to0, to1 := vector.Norm(p.X, p.Y), vector.Norm(p.X-1, p.Y)
	error := float64(sure * p.worst())
	switch {
	case to0+error <= minor:
		return StructureSlopes
	case to1+error <= minor:
		return InsulationTapers
	}
	radius := vector.Norm(p.X-0.5, p.Y)
	radial := error
	if radius > 0 {
		radial = float64(sure * p.along((p.X-0.5)/radius, p.Y/radius))
	}
	switch {
	case radius-0.5 > radial+margin:
		return TaperFights
	case 0.5-radius > radial+margin, to0 > minor+error && to1 > minor+error:
		return BothSlope
	default:
		return NotResolved
	}
}
