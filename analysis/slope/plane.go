package slope

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/geometry/regression"
	"runnel/analysis/standard"
)

// describer fills in planes from their facets.
type describer struct {
	*grower
	wx, wy []float64 // per vertex: its weight in the gradient, scratch
	used   []int32   // vertices of the plane at work
	at     int32     // the plane at work
	owner  []int32   // per vertex: the largest plane at it
}

// describe turns regions into planes, largest first, and passes the verdict on each; spacing is that of the spots [m].
func (g *grower) describe(s *Slopes, c standard.Criteria, spacing float64) {
	s.Planes, s.Plane = g.number()
	d := &describer{grower: g, wx: make([]float64, len(g.t.X)), wy: make([]float64, len(g.t.X))}
	b := newBorderWalker(g.t, s.Plane)
	d.owners(s.Plane)
	total, below := 0.0, 0.0
	for i := range s.Planes {
		g.t.Halt.Look()
		p := &s.Planes[i]
		d.at = int32(i)
		d.fill(p)
		p.Outline = b.outline(p.Facets)
		judge(p, c.MinSlope)
		total += p.Area
		s.Weak += p.Weak
		if p.BelowMin {
			below += p.Area
		}
	}
	s.BelowMinShare = below / total
	d.inner(s, spacing)
}

// owners finds the largest plane at every vertex.
func (d *describer) owners(plane []int32) {
	d.owner = slices.Repeat([]int32{math.MaxInt32}, len(d.t.X))
	for e, v := range d.t.V {
		d.owner[v] = min(d.owner[v], plane[e/3]) // planes stand by area, falling
	}
}

// number orders the regions by area, falling, then lowest facet, and lists their facets.
func (g *grower) number() ([]Plane, []int32) {
	size, first, count := make([]float64, len(g.sums)), make([]int32, len(g.sums)), make([]int32, len(g.sums))
	var order []int32
	for f, r := range g.region {
		if count[r] == 0 {
			first[r] = int32(f)
			order = append(order, r)
		}
		count[r]++
		size[r] += g.t.FacetArea(int32(f))
	}
	slices.SortFunc(order, func(a, b int32) int {
		return cmp.Or(cmp.Compare(size[b], size[a]), cmp.Compare(first[a], first[b]))
	})
	rank := make([]int32, len(g.sums))
	all := make([]int32, len(g.region))
	planes := make([]Plane, len(order))
	at := int32(0)
	for i, r := range order {
		rank[r] = int32(i)
		planes[i].Facets = all[at : at : at+count[r]]
		planes[i].Area = size[r]
		at += count[r]
	}
	plane := make([]int32, len(g.region))
	for f, r := range g.region {
		k := rank[r]
		plane[f] = k
		planes[k].Facets = append(planes[k].Facets, int32(f))
	}
	return planes, plane
}

// fill fits the plane over its area and tells how far the fit can be trusted.
func (d *describer) fill(p *Plane) {
	t := d.t
	weak, assumed := 0.0, 0.0
	var m regression.Sums
	for _, f := range p.Facets {
		a := t.FacetArea(f)
		if d.weak[f] {
			weak += a
		} else {
			x, y, z := corners(t, f, d.ox, d.oy)
			m.Facet(x, y, z, a)
		}
		for e := 3 * f; e < 3*f+3; e++ {
			if v := t.V[e]; int(v) < len(t.Assumed) && t.Assumed[v] {
				assumed += a
				break
			}
		}
	}
	p.Weak, p.Assumed = weak, assumed/p.Area
	q, ok := m.Plane(thin)
	if !ok {
		return
	}
	p.Gradient = [2]float64{q.DX, q.DY}
	p.Slope, p.Aspect = q.Slope(), Aspect(q.DX, q.DY)
	p.Offset = q.At(-d.ox, -d.oy)
	d.errors(p, &q)
	p.Level = p.Slope < math.Max(leastSlope, p.Error())
}

// leastSlope is the slope below which a plane is level whatever its errors: 10 mm in a kilometre.
const leastSlope = 1e-5

// looseness is by how many standard deviations of that sum the squares of a plane's residuals may pass what the errors of its spots and the
// unevenness of a roof make.
const looseness = 4

// errorOf returns the standard deviation of vertex v's elevation, as stated or estimated.
func (g *grower) errorOf(v int32) float64 {
	if g.sigma != nil {
		return g.sigma[v]
	}
	return g.noise
}

// errors fills the standard errors of the plane's slope.
//
// The area-weighted fit is linear in the elevations: gradient = I * sum of z_v w_v, with w_v the first
// moment about the centroid of the function that is 1 at vertex v and falls to 0 at its neighbours,
// and I the inverse of the second moments. Independent errors s_v give the covariance
// I (sum of s_v^2 w_v w_v') I', of which the component along the fall is taken.
func (d *describer) errors(p *Plane, q *regression.Plane) {
	d.weights(p, q)
	ux, uy := q.DX, q.DY
	if s := q.Slope(); s > 0 {
		ux, uy = ux/s, uy/s
	} else {
		ux, uy = 1, 0
	}
	// the row of I along the fall
	rx := float64(q.IXX*ux) + float64(q.IXY*uy)
	ry := float64(q.IXY*ux) + float64(q.IYY*uy)
	unit, stated, squares, expected := 0.0, 0.0, 0.0, 0.0
	measured := 0
	for _, v := range d.used {
		k := float64(rx*d.wx[v]) + float64(ry*d.wy[v])
		unit += float64(k * k)
		if d.sigma != nil {
			ks := k * d.sigma[v]
			stated += float64(ks * ks)
		}
		d.wx[v], d.wy[v] = 0, 0
		if d.inferred(v) {
			continue
		}
		measured++
		if d.owner[v] == d.at {
			p.Own++
		}
		r := d.t.Z[v] - q.At(d.t.X[v]-d.ox, d.t.Y[v]-d.oy)
		squares += float64(r * r)
		e := d.errorOf(v)
		expected += float64(e*e) + levelling*levelling
	}
	free := math.Max(1, float64(measured-3))
	p.Loose = squares/free > (1+float64(looseness*math.Sqrt(2/free)))*expected/math.Max(1, float64(measured))
	n := math.Max(1, float64(measured))
	p.Spots = measured
	p.Residual = math.Sqrt(squares / n)
	p.Sigma = math.Sqrt(stated)
	// three degrees of freedom go into the fit, three of levelling error steady small planes
	p.ResidualSigma = math.Sqrt(unit * (squares + 3*levelling*levelling) / n)
}

// inferred reports whether nobody measured vertex v: it tells nothing of how well its plane fits.
func (d *describer) inferred(v int32) bool {
	t := d.t
	return int(v) < len(t.Assumed) && t.Assumed[v] || int(v) < len(t.Found) && t.Found[v]
}

// weights sums w_v over the plane's own facets.
func (d *describer) weights(p *Plane, q *regression.Plane) {
	t := d.t
	d.stamp++
	d.used = d.used[:0]
	for _, f := range p.Facets {
		if d.weak[f] {
			continue
		}
		x, y, _ := corners(t, f, d.ox+q.X, d.oy+q.Y)
		a12 := t.FacetArea(f) / 12
		sx, sy := x[0]+x[1]+x[2], y[0]+y[1]+y[2]
		for c := range 3 {
			v := t.V[3*f+int32(c)]
			d.wx[v] += float64(a12 * (sx + x[c]))
			d.wy[v] += float64(a12 * (sy + y[c]))
			if d.vertexMark[v] != d.stamp {
				d.vertexMark[v] = d.stamp
				d.used = append(d.used, v)
			}
		}
	}
}

// judge compares the plane with the least slope; 0 passes everything.
func judge(p *Plane, least float64) {
	const rounding = 1e-6 // share of the criterion: a slope built from it passes
	least *= 1 - rounding
	p.BelowMin = p.Slope+p.Error() < least
	p.Resolved = p.BelowMin && p.Slope+2*p.Error() < least
}
