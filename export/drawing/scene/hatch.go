package scene

import (
	"math"
	"slices"
)

// diagonal is the cosine and the sine of 45 degrees.
const diagonal = math.Sqrt2 / 2

// Hatch returns lines rising to the right, step apart, over the inside of rings (even-odd).
func Hatch(rings [][]Point, step float64) [][]Point {
	low, high := math.Inf(1), math.Inf(-1)
	across := func(p Point) float64 { return float64((p.X + p.Y) * diagonal) }
	along := func(p Point) float64 { return float64((p.X - p.Y) * diagonal) }
	for _, ring := range rings {
		for _, p := range ring {
			low, high = min(low, across(p)), max(high, across(p))
		}
	}
	var out [][]Point
	for at := math.Ceil(low/step)*step + step/2; at < high; at += step {
		var cuts []float64
		for _, ring := range rings {
			for i := range ring {
				a, b := ring[i], ring[(i+1)%len(ring)]
				if (across(a) < at) == (across(b) < at) {
					continue
				}
				part := (at - across(a)) / (across(b) - across(a))
				cuts = append(cuts, along(a)+float64(part*(along(b)-along(a))))
			}
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			out = append(out, []Point{back(at, cuts[i]), back(at, cuts[i+1])})
		}
	}
	return out
}

// back returns the place that lies so far across and along the hatching.
func back(across, along float64) Point {
	return Point{X: Hundredth((across + along) * diagonal), Y: Hundredth((across - along) * diagonal)}
}

// Circle returns a polygon that looks round, with its corners on the circle.
func Circle(c Point, r float64) []Point {
	out := make([]Point, 0, 4*len(arc))
	for _, turn := range [4][4]float64{{1, 0, 0, 1}, {0, -1, 1, 0}, {-1, 0, 0, -1}, {0, 1, -1, 0}} {
		for _, a := range arc {
			x, y := float64(turn[0]*a[0])+float64(turn[1]*a[1]), float64(turn[2]*a[0])+float64(turn[3]*a[1])
			out = append(out, Point{X: Hundredth(c.X + float64(r*x)), Y: Hundredth(c.Y + float64(r*y))})
		}
	}
	return out
}

// arc is a quarter of a circle in steps of 15 degrees: cosines and sines.
var arc = [6][2]float64{
	{1, 0}, {0.9659258, 0.2588190}, {0.8660254, 0.5}, {0.7071068, 0.7071068}, {0.5, 0.8660254}, {0.2588190, 0.9659258},
}
