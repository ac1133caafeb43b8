package blunder

import (
	"iter"
	"math"
	"slices"

	"runnel/analysis/geometry/regression"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// prediction is what one side of a vertex says about its elevation.
type prediction struct {
	z       float64 // [m]
	sigma   float64 // standard error of the vertex's measured elevation less z [m]
	company bool    // a neighbour stands off in the same direction, by half as much at least
}

// predictions goes through what every side of v that has a say expects there, and every straight line through it: one at a time, since most
// vertices are as the first expects and nobody asks the others.
func (f *finder) predictions(v int32) iter.Seq[prediction] {
	return func(yield func(prediction) bool) {
		f.ends = f.endsAt(v)
		said := false
		for _, side := range f.hood.sides(v) {
			says, more := f.fromSide(v, side, yield)
			if !more {
				return
			}
			said = said || says
		}
		if !said {
			return
		}
		for _, p := range f.fromLines(v) {
			if !yield(p) {
				return
			}
		}
	}
}

// fromSide yields what one side of v expects there. It reports whether that is anything, and whether more is asked for.
func (f *finder) fromSide(v, side int32, yield func(prediction) bool) (says, more bool) {
	near := f.hood.gather(v, side, f.without)
	for _, n := range []int{nearest, wanted} {
		if p, ok := f.fromPlane(v, near[:min(n, len(near))]); ok {
			says = true
			if !yield(p) {
				return true, false
			}
		}
		if len(near) <= n {
			break
		}
	}
	if p, ok := f.fromFew(v, near); ok && says {
		return true, yield(p)
	}
	return says, true
}

// thin is how near to one line neighbours may lie to make a plane: see regression.Sums.
const thin = 1e-6

// fromPlane predicts v from the plane on which most of its neighbours lie.
func (f *finder) fromPlane(v int32, near []neighbour) (prediction, bool) {
	if len(near) < fewest {
		return prediction{}, false
	}
	f.local(v, near)
	p, ok := f.majority()
	if !ok {
		return prediction{}, false
	}
	own := f.sigma(v)
	spread := math.Max(f.spread(&p), own)
	var m regression.Sums
	sum, count := 0.0, 0.0
	for i := range f.x {
		if r := f.z[i] - p.At(f.x[i], f.y[i]); math.Abs(r) <= 2.5*spread {
			m.Weigh(1, f.x[i], f.y[i], f.z[i])
			count++
		}
	}
	if p, ok = m.Plane(thin); !ok || count < fewest-1 {
		return prediction{}, false
	}
	for i := range f.x {
		if r := f.z[i] - p.At(f.x[i], f.y[i]); math.Abs(r) <= 2.5*spread {
			sum += float64(r * r)
		}
	}
	lever := p.Leverage(0, 0)
	if lever > farthest {
		return prediction{}, false
	}
	variance := math.Max(sum/math.Max(count-3, 1), float64(own*own))
	out := prediction{z: f.t.Z[v] + p.At(0, 0), sigma: math.Sqrt(float64(variance * (1 + lever)))}
	off := -p.At(0, 0)
	for i := range f.x {
		if i >= beside && !slices.Contains(f.ends, near[i].vertex) {
			continue
		}
		r := f.z[i] - p.At(f.x[i], f.y[i])
		out.company = out.company || r*off > 0 && math.Abs(r) >= 0.6*math.Abs(off)
	}
	return out, true
}

// fromFew predicts a corner or another point of the border from the four points nearest to it, which are all that may lie on its plane.
func (f *finder) fromFew(v int32, near []neighbour) (prediction, bool) {
	const few = 4
	if !f.t.Border(v) || len(near) < few {
		return prediction{}, false
	}
	f.local(v, near[:few])
	var m regression.Sums
	for i := range f.x {
		m.Weigh(1, f.x[i], f.y[i], f.z[i])
	}
	p, ok := m.Plane(thin)
	if !ok {
		return prediction{}, false
	}
	own := f.sigma(v)
	return prediction{z: f.t.Z[v] + p.At(0, 0), sigma: own * math.Sqrt(1+p.Leverage(0, 0))}, true
}

// local puts the neighbours of v into f.x, f.y, f.z, as they stand from v.
func (f *finder) local(v int32, near []neighbour) {
	t := f.t
	f.x, f.y, f.z = f.x[:0], f.y[:0], f.z[:0]
	for _, n := range near {
		w := n.vertex
		f.x, f.y, f.z = append(f.x, t.X[w]-t.X[v]), append(f.y, t.Y[w]-t.Y[v]), append(f.z, t.Z[w]-t.Z[v])
	}
}

// majority returns the plane through three of the neighbours from which the median distance of all of them is least.
// Source: Rousseeuw, "Least median of squares regression", Journal of the American Statistical Association 79, 1984 (from memory).
func (f *finder) majority() (best regression.Plane, ok bool) {
	n := len(f.x)
	least := math.Inf(1)
	for i := range n {
		for j := i + 1; j < n; j++ {
			for k := j + 1; k < n; k++ {
				p, fine := f.through(i, j, k)
				if !fine {
					continue
				}
				if d := f.median(&p, least); d < least {
					best, least, ok = p, d, true
				}
			}
		}
	}
	return best, ok
}

// through returns the plane through three neighbours; fine is false where they stand nearly in line.
func (f *finder) through(i, j, k int) (p regression.Plane, fine bool) {
	ax, ay, bx, by := f.x[j]-f.x[i], f.y[j]-f.y[i], f.x[k]-f.x[i], f.y[k]-f.y[i]
	cross := float64(ax*by) - float64(ay*bx)
	const thin = 0.2 // sine of the least angle
	if math.Abs(cross) < thin*vector.Norm(ax, ay)*vector.Norm(bx, by) || math.Abs(cross) < thin*vector.Norm(ax, ay)*vector.Norm(bx-ax, by-ay) {
		return p, false
	}
	az, bz := f.z[j]-f.z[i], f.z[k]-f.z[i]
	p.X, p.Y, p.Z = f.x[i], f.y[i], f.z[i]
	p.DX = (float64(az*by) - float64(bz*ay)) / cross
	p.DY = (float64(bz*ax) - float64(az*bx)) / cross
	return p, true
}

// median returns the distance within which more than half of the neighbours lie from p, or some number no less than enough.
func (f *finder) median(p *regression.Plane, enough float64) float64 {
	n := len(f.x)
	f.off = f.off[:0]
	beyond := 0
	for i := range f.x {
		r := math.Abs(f.z[i] - p.At(f.x[i], f.y[i]))
		if r >= enough {
			if beyond++; beyond >= n-n/2 {
				return enough
			}
		}
		f.off = append(f.off, r)
	}
	slices.Sort(f.off)
	return f.off[n/2]
}

// spread returns the standard deviation of the neighbours about p as their median distance tells it, with the usual correction for few.
func (f *finder) spread(p *regression.Plane) float64 {
	n := float64(len(f.x))
	return 1.4826 * (1 + 5/math.Max(n-3, 1)) * f.median(p, math.Inf(1))
}

// fromLines predicts v, on breaklines or a border, between the next points along each that runs straight through it.
func (f *finder) fromLines(v int32) []prediction {
	var out []prediction
	for i, a := range f.ends {
		for _, b := range f.ends[i+1:] {
			if p, ok := f.between(v, a, b); ok {
				out = append(out, p)
			}
		}
	}
	return out
}

// endsAt returns the next vertices along the breaklines through v and along the border.
func (f *finder) endsAt(v int32) []int32 {
	t, ends := f.t, f.ends[:0]
	for e := range t.Star(v) {
		if t.Twin[e] < 0 || t.Flag[e]&surface.BreaklineEdge != 0 {
			ends = append(ends, t.End(e))
		}
	}
	if e := t.Last(v); e >= 0 {
		ends = append(ends, t.V[e])
	}
	return ends
}

// straight is the cosine of the least angle between two pieces of a line that runs on: 160 degrees.
const straight = -0.94

// between predicts v on the straight way from a to b; ok is false where the way bends at v.
func (f *finder) between(v, a, b int32) (p prediction, ok bool) {
	t := f.t
	if f.without[a] || f.without[b] {
		return p, false
	}
	ax, ay, bx, by := t.X[a]-t.X[v], t.Y[a]-t.Y[v], t.X[b]-t.X[v], t.Y[b]-t.Y[v]
	la, lb := vector.Norm(ax, ay), vector.Norm(bx, by)
	if float64(ax*bx)+float64(ay*by) > straight*la*lb {
		return p, false
	}
	wa, wb := lb/(la+lb), la/(la+lb)
	sa, sb, sv := wa*f.sigma(a), wb*f.sigma(b), f.sigma(v)
	p.z = float64(wa*t.Z[a]) + float64(wb*t.Z[b])
	p.sigma = math.Sqrt(float64(sv*sv) + float64(sa*sa) + float64(sb*sb))
	return p, true
}

// neighbour is a vertex and its plan distance [m].
type neighbour struct {
	vertex int32
	far    float64
}

// neighbourhood gathers the vertices round one, without crossing a breakline.
type neighbourhood struct {
	t       *surface.TIN
	facet   []int32 // per facet: the stamp of the last walk that met it
	vertex  []int32
	stamp   int32
	queue   []int32
	pending []neighbour
}

func newNeighbourhood(t *surface.TIN) neighbourhood {
	return neighbourhood{t: t, facet: make([]int32, t.Facets()), vertex: make([]int32, len(t.X))}
}

// sides returns one facet of every side of v: breaklines through v part them.
func (h *neighbourhood) sides(v int32) []int32 {
	var out []int32
	h.stamp++
	for e := range h.t.Star(v) {
		f := e / 3
		if h.facet[f] == h.stamp {
			continue
		}
		out = append(out, f)
		h.facet[f] = h.stamp
		h.spread(e)
	}
	return out
}

// spread marks the facets round the start of half-edge e that are on the side of its facet.
func (h *neighbourhood) spread(e int32) {
	t := h.t
	for g := e; t.Flag[g]&surface.BreaklineEdge == 0; { // clockwise
		w := t.Twin[g]
		if w < 0 || h.facet[w/3] == h.stamp {
			break
		}
		h.facet[w/3] = h.stamp
		g = surface.Next(w)
	}
	for g := surface.Prev(e); t.Flag[g]&surface.BreaklineEdge == 0; { // counter-clockwise
		w := t.Twin[g]
		if w < 0 || h.facet[w/3] == h.stamp {
			break
		}
		h.facet[w/3] = h.stamp
		g = surface.Prev(w)
	}
}

// gather returns the vertices nearest to v on the side of facet first, nearest first, but for those in without and those whose
// elevation was assumed.
func (h *neighbourhood) gather(v, first int32, without []bool) []neighbour {
	t := h.t
	h.stamp++
	h.queue, h.pending = append(h.queue[:0], first), h.pending[:0]
	h.facet[first], h.vertex[v] = h.stamp, h.stamp
	const facets, plenty = 90, 30
	for i := 0; i < len(h.queue) && i < facets && len(h.pending) < plenty; i++ {
		f := h.queue[i]
		for e := 3 * f; e < 3*f+3; e++ {
			if w := t.V[e]; h.vertex[w] != h.stamp {
				h.vertex[w] = h.stamp
				if !without[w] && !t.Assumed[w] {
					h.pending = append(h.pending, neighbour{w, vector.Norm(t.X[w]-t.X[v], t.Y[w]-t.Y[v])})
				}
			}
			if o := t.Twin[e]; o >= 0 && t.Flag[e]&surface.BreaklineEdge == 0 && h.facet[o/3] != h.stamp {
				h.facet[o/3] = h.stamp
				h.queue = append(h.queue, o/3)
			}
		}
	}
	slices.SortFunc(h.pending, func(a, b neighbour) int {
		switch {
		case a.far < b.far:
			return -1
		case a.far > b.far:
			return 1
		}
		return int(a.vertex - b.vertex)
	})
	return h.pending[:min(wanted, len(h.pending))]
}
