package fold

import (
	"math"
	"slices"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
)

// snap is how near a vertex a fold may pass and be said to run through it [m].
const snap = 0.05

// marcher lays folds through the mesh.
type marcher struct {
	*pairs
	out      *Folds
	atEdge   []int32 // per half-edge: point on it, -1 none
	atVertex []int32 // per vertex
}

// mark lays the folds.
func (p *pairs) mark(out *Folds) {
	out.Label = p.label
	out.Elsewhere = make([]bool, len(p.label))
	for v := range p.label {
		out.Elsewhere[v] = p.elsewhere(int32(v))
	}
	m := &marcher{pairs: p, out: out, atEdge: filled(len(p.V)), atVertex: filled(len(p.X))}
	for i := range p.list {
		if p.list[i].known {
			out.Lines++
		}
	}
	p.joining(func(e, u, v int32) {
		if q := p.of(p.label[u], p.label[v]); !q.known {
			if q.doubted && q.shape == valley { // at a ridge the mesh runs below the roof, never above
				m.open(u, v)
			}
			return
		}
		at := m.cross(e, u, v)
		m.atEdge[e] = at
		if t := p.Twin[e]; t >= 0 {
			m.atEdge[t] = at
		}
	})
	for f := int32(0); f < int32(len(p.V)/3); f++ {
		m.link(f)
	}
	out.dropLone()
}

// dropLone takes out the points that no link joins with another: a single one is a pit or a peak, and no fold.
func (out *Folds) dropLone() {
	at := filled(len(out.Points))
	for _, l := range out.Links {
		at[l[0]], at[l[1]] = 0, 0
	}
	kept := out.Points[:0]
	for i, p := range out.Points {
		if at[i] == 0 {
			at[i] = int32(len(kept))
			kept = append(kept, p)
		}
	}
	out.Points = kept
	for i, l := range out.Links {
		out.Links[i] = [2]int32{at[l[0]], at[l[1]]}
	}
}

// mostMoved is how far an inferred elevation may be moved onto a plane that the spot beside it is not on [m]. Own choice.
const mostMoved = 0.025

// elsewhere reports whether vertex v, that nobody measured, was given a plane which is that of another part of the roof: the spot nearest to it of those that
// an edge joins it with is on another plane, and its own elevation is far off.
func (p *pairs) elsewhere(v int32) bool {
	l := p.label[v]
	if p.Measured[v] || l < 0 || math.Abs(p.Z[v]-p.grower.list[l].At(p.X[v], p.Y[v])) <= mostMoved {
		return false
	}
	near, far := int32(-1), math.Inf(1)
	for _, w := range p.around(v) {
		if d := vector.Norm(p.X[w]-p.X[v], p.Y[w]-p.Y[v]); p.Measured[w] && (d < far || d == far && w < near) {
			near, far = w, d
		}
	}
	return near >= 0 && p.label[near] != l
}

func filled(n int) []int32 {
	a := slices.Repeat([]int32{-1}, n)
	return a
}

// open notes how far the mesh may stand off the roof along an edge across which no fold could be shown: at the middle of the edge, where two planes
// that pass through its ends are farthest off it.
func (m *marcher) open(u, v int32) {
	a, b := &m.grower.list[m.label[u]], &m.grower.list[m.label[v]]
	most := math.Abs(float64((a.DX-b.DX)*(m.X[v]-m.X[u]))+float64((a.DY-b.DY)*(m.Y[v]-m.Y[u]))) / 4
	for _, w := range [...]int32{u, v} {
		if m.Measured[w] { // the height of others follows the spots beside them, doubt and all
			m.out.Open[w] = math.Max(m.out.Open[w], most)
		}
	}
}

// cross returns the point at which the planes of u and v are equal on the edge between them, kept to the edge; -1 where a third plane or an outlet
// speaks against it.
func (m *marcher) cross(e, u, v int32) int32 {
	a, b := &m.grower.list[m.label[u]], &m.grower.list[m.label[v]]
	du, dv := a.At(m.X[u], m.Y[u])-b.At(m.X[u], m.Y[u]), b.At(m.X[v], m.Y[v])-a.At(m.X[v], m.Y[v])
	t := 0.0
	switch {
	case (du > 0) == (dv > 0) && du+dv != 0:
		t = du / (du + dv)
	case math.Abs(dv) < math.Abs(du):
		t = 1
	}
	long := vector.Norm(m.X[v]-m.X[u], m.Y[v]-m.Y[u])
	switch {
	case float64(t*long) < m.snapTo(u):
		return m.through(u)
	case float64((1-t)*long) < m.snapTo(v):
		return m.through(v)
	}
	x, y := m.X[u]+float64(t*(m.X[v]-m.X[u])), m.Y[u]+float64(t*(m.Y[v]-m.Y[u]))
	za, zb, z := a.At(m.X[u], m.Y[u]), b.At(m.X[v], m.Y[v]), (a.At(x, y)+b.At(x, y))/2
	if m.out.Elsewhere[u] || m.out.Elsewhere[v] {
		return -1 // it would run far below the roof, or above it
	}
	if m.hidden(u, v, x, y, z) || m.drains(e, z) {
		return -1
	}
	if m.denied(e, m.of(m.label[u], m.label[v]).shape == valley) {
		return -1
	}
	planes := math.Max(a.sigma(x, y), b.sigma(x, y))
	off := math.Max(planes, math.Abs(za+float64(t*(zb-za))-z))
	below := choose.If(m.of(m.label[u], m.label[v]).shape == valley, planes, off)
	return m.point(Point{x, y, z, -1, e, off, below})
}

// hidden reports whether a third plane lies over the place at which those of u and v meet, in a valley, or under it, at a ridge: there the roof is
// that plane, though the mesh joins u and v past it.
func (m *marcher) hidden(u, v int32, x, y, z float64) bool {
	a, b := m.label[u], m.label[v]
	how := m.of(a, b).shape
	for _, w := range [2]int32{u, v} {
		for _, c := range m.beside(w) {
			if c == a || c == b {
				continue
			}
			p, q := m.of(a, c), m.of(b, c)
			d := m.grower.list[c].At(x, y) - z
			alike := (p != nil || q != nil) && (p == nil || p.shape == how) && (q == nil || q.shape == how)
			if alike && (how == valley && d > 0 || how == ridge && d < 0) {
				return true
			}
		}
	}
	return false
}

// drains reports whether an outlet stands opposite half-edge e, higher than z: a fold does not pass lower beside the spot that it leads to.
func (m *marcher) drains(e int32, z float64) bool {
	if m.Outlet == nil {
		return false
	}
	if w := m.before(e); m.Outlet[w] && m.Z[w] > z {
		return true
	}
	t := m.Twin[e]
	return t >= 0 && m.Outlet[m.before(t)] && m.Z[m.before(t)] > z
}

// snapTo returns how near vertex v a fold runs through it: at an outlet from wherever it crosses an edge that leads there, since a fold's point
// beside it would be a low place or a dam by the errors of the planes alone.
func (m *marcher) snapTo(v int32) float64 {
	if m.Outlet != nil && m.Outlet[v] {
		return math.Inf(1)
	}
	return snap
}

func (m *marcher) point(p Point) int32 {
	m.out.Points = append(m.out.Points, p)
	return int32(len(m.out.Points) - 1)
}

func (m *marcher) through(v int32) int32 {
	if m.atVertex[v] < 0 {
		m.atVertex[v] = m.point(Point{m.X[v], m.Y[v], m.Z[v], v, -1, 0, 0})
	}
	return m.atVertex[v]
}

// link joins the points on the sides of triangle f.
func (m *marcher) link(f int32) {
	var at []int32
	for e := 3 * f; e < 3*f+3; e++ {
		if p := m.atEdge[e]; p >= 0 {
			at = append(at, p)
		}
	}
	switch {
	case len(at) < 2:
	case len(at) == 2:
		m.join(at[0], at[1])
	case at[0] == at[1] || at[1] == at[2] || at[2] == at[0]: // through a corner
		m.join(at[0], at[1])
		m.join(at[1], at[2])
		m.join(at[2], at[0])
	default:
		t := m.triple(f, at)
		for _, p := range at {
			m.join(p, t)
		}
	}
}

func (m *marcher) join(a, b int32) {
	if a != b {
		m.out.Links = append(m.out.Links, [2]int32{a, b})
	}
}

// triple returns the point inside triangle f where the planes of its three corners meet, or amid the points on its sides where they meet
// outside it.
func (m *marcher) triple(f int32, at []int32) int32 {
	var p [3]*Plane
	var x, y [3]float64
	for c := range p {
		v := m.V[3*f+int32(c)]
		if m.snapTo(v) > snap {
			return m.through(v)
		}
		p[c], x[c], y[c] = &m.grower.list[m.label[v]], m.X[v], m.Y[v]
	}
	mx, my := 0.0, 0.0
	for _, i := range at {
		mx, my = mx+m.out.Points[i].X/3, my+m.out.Points[i].Y/3
	}
	if tx, ty, ok := common(p); ok && inside(x, y, tx, ty) {
		mx, my = tx, ty
	}
	z, s, below := 0.0, 0.0, 0.0
	for c := range p {
		z += p[c].At(mx, my) / 3
		s = math.Max(s, math.Max(p[c].sigma(mx, my), m.out.Points[at[c]].Sigma))
		below = math.Max(below, math.Max(p[c].sigma(mx, my), m.out.Points[at[c]].Below))
	}
	return m.point(Point{mx, my, z, -1, -1, s, below})
}

// common returns the place where three planes are equal.
func common(p [3]*Plane) (x, y float64, ok bool) {
	ax, ay, bx, by := p[0].DX-p[1].DX, p[0].DY-p[1].DY, p[0].DX-p[2].DX, p[0].DY-p[2].DY
	a, b := p[1].At(0, 0)-p[0].At(0, 0), p[2].At(0, 0)-p[0].At(0, 0)
	det := float64(ax*by) - float64(ay*bx)
	if math.Abs(det) < 1e-9 {
		return 0, 0, false
	}
	return (float64(a*by) - float64(ay*b)) / det, (float64(ax*b) - float64(a*bx)) / det, true
}

// inside reports whether (tx, ty) lies inside a triangle, clear of its sides.
func inside(x, y [3]float64, tx, ty float64) bool {
	for c := range 3 {
		d := (c + 1) % 3
		if ux, uy := x[d]-x[c], y[d]-y[c]; float64(ux*(ty-y[c]))-float64(uy*(tx-x[c])) < snap*vector.Norm(ux, uy) {
			return false
		}
	}
	return true
}
