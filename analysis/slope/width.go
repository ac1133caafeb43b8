package slope

import (
	"math"

	"github.com/paulmach/orb/planar"
)

// Width returns the mean width of a plane: the short side of the rectangle of its area and perimeter [m].
func (p *Plane) Width() float64 {
	length := 0.0
	for _, poly := range p.Outline {
		for _, ring := range poly {
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
