package fold

import (
	"math"

	"runnel/analysis/geometry/regression"
	"runnel/analysis/geometry/vector"
)

// terms is the number of coefficients of a surface of the second degree; two planes have as many.
const terms = 6

// bowl is the sums of a least-squares surface of the second degree.
type bowl struct {
	rows [terms][terms + 1]float64
	n    int
}

func powers(x, y float64) [terms]float64 {
	return [terms]float64{1, x, y, float64(x * x), float64(x * y), float64(y * y)}
}

func (q *bowl) add(x, y, z, w float64) {
	t := powers(x, y)
	q.n++
	for i := range terms {
		for j := range terms {
			q.rows[i][j] += float64(w * float64(t[i]*t[j]))
		}
		q.rows[i][terms] += float64(w * float64(t[i]*z))
	}
}

// solve returns the coefficients; ok is false where the points fix no such surface, or leave nothing to judge it by.
func (q *bowl) solve() (c [terms]float64, ok bool) {
	m := q.rows
	var rows [terms][]float64
	var scale [terms]float64
	for i := range rows {
		rows[i], scale[i] = m[i][:], m[0][0]
	}
	ok = q.n >= terms+2 && regression.Solve(rows[:], scale[:], 1e-9, c[:])
	return c, ok
}

// bends reports whether the spots of p.set lie no farther off one smooth bowl, dome or saddle than off the two planes of a pair: then the roof bends
// there, and does not fold.
func (p *pairs) bends() bool {
	mx, my, n := 0.0, 0.0, 0.0
	for _, v := range p.set {
		mx, my, n = mx+p.X[v], my+p.Y[v], n+1
	}
	mx, my = mx/n, my/n
	far := 0.0
	for _, v := range p.set {
		far = math.Max(far, vector.Norm(p.X[v]-mx, p.Y[v]-my))
	}
	var s bowl
	for _, v := range p.set {
		if p.Measured[v] {
			s.add((p.X[v]-mx)/far, (p.Y[v]-my)/far, p.Z[v], 1/float64(p.sigma[v]*p.sigma[v]))
		}
	}
	c, ok := s.solve()
	if !ok {
		return false
	}
	folded, bent := 0.0, 0.0
	for _, v := range p.set {
		if !p.Measured[v] {
			continue
		}
		r := p.off(&p.grower.list[p.label[v]], v)
		folded += float64(r * r)
		z := 0.0
		for i, t := range powers((p.X[v]-mx)/far, (p.Y[v]-my)/far) {
			z += float64(c[i] * t)
		}
		r = (p.Z[v] - z) / p.sigma[v]
		bent += float64(r * r)
	}
	return bent <= folded
}
