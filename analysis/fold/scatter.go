package fold

import (
	"math"

	"runnel/analysis/standard"
)

// How the scatter about planes is found.
const (
	finer         = 1.4   // each error that is tried is so many times the one before
	onPlanes      = 0.75  // of the spots must lie on planes
	leastFree     = 20    // degrees of freedom: fewer tell no scatter
	mostScattered = 2_000 // points: where there are more, what the six nearest spots leave tells as much
)

// aboutPlanes returns the standard deviation of the spots about the planes that they lie on, 0 where that is not told. What a spot lies off the plane of
// its neighbours holds relief as well: on a roof of many folds and few spots several times their error. So errors are tried from that of a level upwards, to no more than what the
// neighbours leave: the first that finds most spots on planes about which they scatter by no more than it is theirs. With a smaller one planes break up, and
// with a larger one they run on over folds. On 960 roofs on plain grids it is told of seven in ten, and reads 1.05 to 1.12 times the error in the median and
// in nineteen of twenty no less than 0.88 times; what the neighbours leave reads 1.1 to 1.5 times.
func (g *grower) aboutPlanes() float64 {
	most := g.typical
	if most <= standard.LevelError {
		return 0
	}
	for e := standard.LevelError / (finer * finer); e < finer*most; e *= finer {
		h := g.anew(e)
		h.tries = 1            // an error that is too small fails everywhere
		h.fromDiscs(discs[2:]) // small discs cost little, and what they grow into is the same where planes are found
		h.narrow()
		if s := h.residual(); s > 0 && s <= e {
			return s
		}
	}
	return 0
}

// residual returns the standard deviation of the spots about the planes on which most of them lie [m], 0 where most do not.
func (g *grower) residual() float64 {
	sum, free, on, all := 0.0, -3*len(g.list), 0, 0
	for v, l := range g.label {
		if !g.Measured[v] || g.Coded[v] {
			continue
		}
		all++
		if l >= 0 {
			r := g.Z[v] - g.list[l].At(g.X[v], g.Y[v])
			sum += float64(r * r)
			on++
		}
	}
	if free += on; free < leastFree || float64(on) < onPlanes*float64(all) {
		return 0
	}
	return math.Sqrt(sum / float64(free))
}
