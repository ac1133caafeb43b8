package dish

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/geometry/vector"
)

// scale finds the main axes of the edge, in which a long pond is as round as a short one.
func (b *Bowl) scale() {
	var xx, xy, yy float64
	n := float64(len(b.Ring) - 1)
	for _, p := range b.Ring[:len(b.Ring)-1] {
		x, y := p[0]-b.centre[0], p[1]-b.centre[1]
		xx += float64(x*x) / n
		xy += float64(x*y) / n
		yy += float64(y*y) / n
	}
	angle := math.Atan2(2*xy, xx-yy) / 2
	c, s := math.Cos(angle), math.Sin(angle)
	for k, axis := range [2][2]float64{{c, s}, {-s, c}} {
		spread := float64(axis[0]*axis[0]*xx) + float64(2*axis[0]*axis[1]*xy) + float64(axis[1]*axis[1]*yy)
		length := math.Sqrt(2 * max(spread, 1e-12)) // of an oval: half its axis
		b.axes[k] = [2]float64{axis[0] / length, axis[1] / length}
	}
}

// alike returns how much the factor at one place says of that at another: 1 where they are one, little beyond reach. The kernel is
// (1 + d2/16)^-8, which is positive definite, nearly exp(-d2/2), and the same number on every processor.
func (b *Bowl) alike(p, q orb.Point) float64 {
	v := 1 / (1 + b.apart(p, q)/(16*reach*reach))
	v *= v
	v *= v
	return v * v
}

// apart returns the squared distance of two places in the scaled axes.
func (b *Bowl) apart(p, q orb.Point) float64 {
	sum := 0.0
	for _, axis := range b.axes {
		d := float64(axis[0]*(p[0]-q[0])) + float64(axis[1]*(p[1]-q[1]))
		sum += float64(d * d)
	}
	return sum
}

// reach is how far in half axes one sounding's say goes, and nugget how far the factor may miss one.
const (
	reach  = 1.2
	nugget = 1e-3
)

// trialError is by how much the volume missed that of known dishes at most, with twelve marks and five soundings: 200 dishes of five shapes in
// this package's tests, as a part.
const trialError = 0.1

// shallowest is the least part of the bowl's height at which a sounding tells of the factor: beside the edge a ruler's error would
// make any of it.
const shallowest = 0.1

// fit finds the factor: its mean, and a smooth part that meets the soundings.
func (b *Bowl) fit() {
	ratio := make([]float64, len(b.Soundings))
	n := len(b.Soundings)
	m := newMatrix(n+1, n+2)
	for i, s := range b.Soundings {
		h := max(b.bowl(s.Plan), shallowest*b.top)
		ratio[i] = s.Depth / h
		for j, t := range b.Soundings {
			m[i][j] = b.alike(s.Plan, t.Plan)
		}
		m[i][i] += nugget
		m[i][n], m[n][i], m[i][n+1] = 1, 1, ratio[i]
	}
	x := m.solve()
	b.weights, b.mean = x[:n], x[n]
}

// DepthAt returns the depth of the water at a place [m].
func (b *Bowl) DepthAt(p orb.Point) float64 {
	if b.Deepest < 0 || !planar.RingContains(b.Ring, p) {
		return 0
	}
	return b.depth(p)
}

func (b *Bowl) depth(p orb.Point) float64 {
	factor := b.mean
	for i, s := range b.Soundings {
		factor += float64(b.weights[i] * b.alike(p, s.Plan))
	}
	return max(float64(factor*b.bowl(p)), 0)
}

// sum sums up the volumes over a grid of cells.
func (b *Bowl) sum() {
	box := b.Ring.Bound()
	cell := max(box.Right()-box.Left(), box.Top()-box.Bottom()) / steps
	var inside int
	var volume, least, most float64
	for y := box.Bottom() + cell/2; y < box.Top(); y += cell {
		for x := box.Left() + cell/2; x < box.Right(); x += cell {
			p := orb.Point{x, y}
			if !planar.RingContains(b.Ring, p) {
				continue
			}
			inside++
			volume += b.depth(p)
			least += b.cone(p)
			most += b.Soundings[b.nearest(p)].Depth
		}
	}
	if inside == 0 {
		return
	}
	b.Volume = volume / float64(inside) * b.Area
	b.Least, b.Most = least/float64(inside)*b.Area, most/float64(inside)*b.Area
	if len(b.Soundings) == 1 { // without the error of the cells
		d := b.Soundings[0].Depth
		b.Least, b.Most = b.Area*d/3, b.Area*d
	}
	b.Least, b.Most = min(b.Least, float64(b.Volume*(1-trialError))), max(b.Most, float64(b.Volume*(1+trialError)))
}

// cone returns the depth at a place where the bottom runs straight from the edge to the sounding that makes it deepest.
func (b *Bowl) cone(p orb.Point) float64 {
	deepest := 0.0
	for i := range b.Soundings {
		deepest = max(deepest, float64(b.Soundings[i].Depth*(1-b.share(i, p))))
	}
	return deepest
}

func (b *Bowl) nearest(p orb.Point) int {
	best := 0
	for i := range b.Soundings {
		if vector.Distance(p, b.Soundings[i].Plan) < vector.Distance(p, b.Soundings[best].Plan) {
			best = i
		}
	}
	return best
}
