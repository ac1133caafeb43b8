package ponding

import (
	"math"
	"math/rand/v2"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// randomCase is an invented surface with outlets: integer plan coordinates and elevations from few values,
// so that ties, level areas and plateaus are common.
func randomCase(rng *rand.Rand, size, values int) (*surface.TIN, []surface.Outlet) {
	nx, ny := 3+rng.IntN(size), 3+rng.IntN(size)
	var points [][3]float64
	for j := range ny {
		for i := range nx {
			points = append(points, [3]float64{float64(4*i + rng.IntN(2)), float64(4*j + rng.IntN(2)), float64(rng.IntN(values))})
		}
	}
	var facets [][3]int32
	for j := range ny - 1 {
		for i := range nx - 1 {
			a := int32(j*nx + i)
			b, c, d := a+1, a+int32(nx)+1, a+int32(nx)
			switch {
			case rng.IntN(12) == 0: // a curb
			case rng.IntN(2) == 0:
				facets = append(facets, [3]int32{a, b, c}, [3]int32{a, c, d})
			default:
				facets = append(facets, [3]int32{a, b, d}, [3]int32{b, c, d})
			}
		}
	}
	points, facets = used(points, facets)
	t := tinOf(points, facets)
	return t, randomOutlets(rng, t, values)
}

// used leaves out points that no facet touches.
func used(points [][3]float64, facets [][3]int32) ([][3]float64, [][3]int32) {
	number := make([]int32, len(points))
	for _, f := range facets {
		for _, v := range f {
			number[v] = 1
		}
	}
	var keep [][3]float64
	for v := range points {
		if number[v] == 1 {
			number[v] = int32(len(keep))
			keep = append(keep, points[v])
		}
	}
	for f := range facets {
		for c := range 3 {
			facets[f][c] = number[facets[f][c]]
		}
	}
	return keep, facets
}

func randomOutlets(rng *rand.Rand, t *surface.TIN, values int) []surface.Outlet {
	var outlets []surface.Outlet
	for range rng.IntN(4) {
		if t.Facets() == 0 {
			break
		}
		f := int32(rng.IntN(t.Facets()))
		low := math.Inf(1)
		for _, v := range t.V[3*f : 3*f+3] {
			low = min(low, t.Z[v])
		}
		o := drain(t, low+float64(rng.IntN(2*values)-values)/2, f)
		o.Duty = roof.Duty(rng.IntN(2))
		outlets = append(outlets, o)
	}
	if edges, _ := borders(t); rng.IntN(2) == 0 && len(edges) > 0 {
		e := edges[rng.IntN(len(edges))]
		outlets = append(outlets, edgeOutlet(t, []int32{e}, []int32{t.V[e], t.V[surface.Next(e)]}))
	}
	return outlets
}

// waves is a large surface for benchmarks: four-way falls to sumps, with noise.
func waves(rng *rand.Rand, n int, noise float64) *surface.TIN {
	side := int(math.Sqrt(float64(n)))
	period := max(side/8, 10)
	return grid(side, side, 1, rising, func(i, j int) float64 {
		dx, dy := math.Abs(float64(i%period-period/2)), math.Abs(float64(j%period-period/2))
		return math.Round((0.02*max(dx, dy)+noise*rng.NormFloat64())*1e5) / 1e5
	})
}
