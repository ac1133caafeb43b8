package slope

import (
	"math"
	"slices"

	"runnel/analysis/geometry/regression"
	"runnel/analysis/surface"
)

// How far a corner may lie off its plane.
const (
	planeTolerance = 0.003 // [m]; or two standard deviations where that is more
	strayFactor    = 2     // one corner of a facet may stray this many times farther: four standard deviations
	levelling      = planeTolerance / 2
	noiseLimit     = 0.003 // a scatter estimated from the spots widens the tolerance no further than this standard deviation
	noiseRings     = 20    // fewer rings than this tell nothing
	noiseSamples   = 20000
)

// statedSigma returns the standard deviation of every vertex, nil when none carries one. A vertex
// without takes the root mean square of those that have one.
func statedSigma(t *surface.TIN) []float64 {
	sum, n := 0.0, 0
	for _, s := range t.Sigma {
		if s > 0 {
			sum += float64(s * s)
			n++
		}
	}
	if n == 0 {
		return nil
	}
	rms := math.Sqrt(sum / float64(n))
	out := make([]float64, len(t.X))
	for v := range out {
		out[v] = rms
		if v < len(t.Sigma) && t.Sigma[v] > 0 {
			out[v] = t.Sigma[v]
		}
	}
	return out
}

// scatter estimates the standard deviation of the elevations about the planes they lie on.
//
// Every vertex is compared with the plane fitted to its neighbours. Vertices on a fold are off by far
// more than the scatter, so the lower quartile is taken: for normal errors it is 0.3186 standard
// deviations. It is 0 when too few vertices have a full ring of neighbours.
func scatter(t *surface.TIN) float64 {
	step := max(1, len(t.X)/noiseSamples)
	var off []float64
	for v := 0; v < len(t.X); v += step {
		if r, ok := ringResidual(t, int32(v)); ok {
			off = append(off, r)
		}
	}
	if len(off) < noiseRings {
		return 0
	}
	slices.Sort(off)
	return off[len(off)/4] / 0.3186
}

// ringResidual returns how far vertex v lies off the plane of its neighbours, divided by the standard
// deviation that equal errors of one would give. It is not ok on a border, a breakline or a fold that was
// found.
func ringResidual(t *surface.TIN, v int32) (r float64, ok bool) {
	var m regression.Sums
	start := t.Out[v]
	if start < 0 || int(v) < len(t.Found) && t.Found[v] {
		return 0, false
	}
	for e := start; ; {
		if t.Flag[e]&parting != 0 {
			return 0, false
		}
		w := t.V[surface.Next(e)]
		m.Add(t.X[w]-t.X[v], t.Y[w]-t.Y[v], t.Z[w]-t.Z[v])
		e = t.Twin[surface.Prev(e)]
		if e < 0 {
			return 0, false
		}
		if e == start {
			break
		}
	}
	p, ok := m.Plane(thin)
	if !ok || m.N < 4 {
		return 0, false
	}
	return math.Abs(p.At(0, 0)) / math.Sqrt(1+p.Leverage(0, 0)), true
}
