package slope

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
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
				length += coarse(ring, grain)
			} else {
				length += planar.Length(ring)
			}
		}
	}
	half := length / 4
	root := float64(half*half) - p.Area
	if root <= 0 {
		return half
	}
	return half - math.Sqrt(root)
}

// coarse returns the length of a ring that is told no finer than grain: it runs straight from one of its places to another where none between stands farther
// off than that (Ramer, Douglas and Peucker). orb/simplify does the same for every kind of geometry, and all of it would be fetched with the page's program.
func coarse(ring orb.Ring, grain float64) float64 {
	sum := 0.0
	for stretches := [][2]int{{0, len(ring) - 1}}; len(stretches) > 0; {
		from, to := stretches[len(stretches)-1][0], stretches[len(stretches)-1][1]
		stretches = stretches[:len(stretches)-1]
		far, at := float64(grain*grain), -1
		for i := from + 1; i < to; i++ {
			if d := planar.DistanceFromSegmentSquared(ring[from], ring[to], ring[i]); d > far {
				far, at = d, i
			}
		}
		if at < 0 {
			sum += planar.Distance(ring[from], ring[to])
			continue
		}
		stretches = append(stretches, [2]int{at, to}, [2]int{from, at})
	}
	return sum
}
