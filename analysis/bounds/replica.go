package bounds

import "math"

// replica is one patch with errors of the survey.
type replica struct {
	m     *model
	p     *patch
	z     []float64 // elevations [m]
	off   []float64 // errors of the vertices [m]
	limit []float64 // per outlet of the patch: level at which it takes water
	in    []float64 // per outlet: error of its inlet level [m]
}

func newReplica(m *model, p *patch) *replica {
	n, sinks := len(p.vertex), len(p.sinks)
	return &replica{m: m, p: p, z: make([]float64, n), off: make([]float64, n), limit: make([]float64, sinks), in: make([]float64, sinks)}
}

// draw makes the errors of a replicate.
func (r *replica) draw(e *dice) {
	for i, v := range r.p.vertex[:r.p.own] {
		r.off[i] = float64(e.next() * r.m.Errors.Sigma[v])
	}
	for k, c := range r.p.made {
		sum := 0.0
		for j, i := range c {
			if i >= 0 {
				sum += float64(r.p.weight[k][j] * r.off[i])
			}
		}
		r.off[r.p.own+k] = sum
	}
	for i := range r.in {
		r.in[i] = float64(e.next() * r.m.Errors.Typical)
	}
}

// replicate gives the surface the errors at hand times sign: 0 for the surface itself.
func (r *replica) replicate(sign float64) {
	for i := range r.z {
		r.z[i] = r.p.base[i] + float64(sign*r.off[i])
	}
	for k, n := range r.p.sinks {
		s, low := &r.m.sinks[n], math.Inf(1)
		for _, i := range r.p.feet[k] {
			low = math.Min(low, r.z[i])
		}
		r.limit[k] = math.Max(low, s.invert+float64(sign*r.in[k]))
		if s.assumed {
			r.limit[k] = low + math.Max(0, s.over)
		}
	}
}
