package slope

import (
	"math"

	"github.com/paulmach/orb/planar"
	"github.com/paulmach/orb/simplify"
)

// Width returns the mean width of a plane: the short side of the rectangle of its area and perimeter [m].
func (p *Plane) Width() float64 { return p.WidthAt(0) }

// WidthAt returns the mean width of a plane whose border is told no finer than grain [m]. Where errors are large, which facets beside a border lie on the
// plane is chance: it steps in and out by up to a spacing of the spots, and the perimeter of all those teeth would make a broad plane narrow.
func (p *Plane) WidthAt(grain float64) float64 {
	length := 0.0
	for _, poly := range p.Outline {
		for _, ring := range poly {
			if grain > 0 {
				ring = simplify.DouglasPeucker(grain).Ring(ring.Clone())
			}
			length += planar.Length(ring)
		}
	}
	half := length / 4
	root := float64(half*half) - p.Area
	if root <= 0 {
		return half
	}
	return half - math.Sqrt(root)
}
