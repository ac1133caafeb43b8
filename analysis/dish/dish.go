// Package dish tells from the chalked edge of a pond and a few depths how much water it holds.
//
// The edge is a smooth closed curve through the marks (Around). Depths are 0 on it. What lies between is a smooth bowl: the deflection of
// a membrane that is held along the edge and evenly loaded, which for an oval is the paraboloid, averaged with a paraboloid whose deepest
// place is the deepest sounding, times a factor that makes the bowl meet every depth that was sounded and varies smoothly between them. With few
// soundings a pond may have another shape, so a volume goes with two others: the least is that of straight lines from the edge to each
// sounding, a cone of A d / 3 over one; the most takes every place as deep as the sounding nearest to it, a pan of A d. Neither is
// nearer to the volume than the error that trials on known dishes showed.
package dish

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/geometry/vector"
)

// Sounding is one depth [m] at a place [m].
type Sounding struct {
	Plan  orb.Point
	Depth float64
}

// Bowl is the shape of a pond's water.
type Bowl struct {
	Ring      orb.Ring // the edge, closed, counter-clockwise
	Area      float64  // [m2]
	Soundings []Sounding
	Deepest   int // index of the deepest sounding, -1 where there is none

	Volume, Least, Most float64 // [m3]; 0 without a sounding

	centre   orb.Point
	size     float64 // radius of a circle round the edge [m]
	harmonic []float64
	top      float64       // of the membrane, in the middle
	axes     [2][2]float64 // scaled main axes
	mean     float64
	weights  []float64
}

// degree is that of the harmonic polynomial that holds the membrane along the edge.
const degree = 8

// steps is how many cells the longer side of the box round a pond has when volumes are summed up.
const steps = 32

// Of returns the shape of the water within a closed ring. Soundings off the water are the caller's to leave out.
func Of(ring orb.Ring, soundings []Sounding) *Bowl {
	centre, area := planar.CentroidArea(ring)
	b := &Bowl{Ring: ring, Area: math.Abs(area), Soundings: soundings, Deepest: -1, centre: centre}
	for i := range soundings {
		if b.Deepest < 0 || soundings[i].Depth > soundings[b.Deepest].Depth {
			b.Deepest = i
		}
	}
	if b.Deepest < 0 {
		return b
	}
	b.stretch()
	b.top = b.membrane(b.centre)
	b.scale()
	b.fit()
	b.sum()
	return b
}

// stretch finds the membrane: a harmonic polynomial that equals a quarter of the squared distance from the middle along the edge.
func (b *Bowl) stretch() {
	for _, p := range b.Ring {
		b.size = max(b.size, vector.Distance(p, b.centre))
	}
	var rows [][]float64
	var want []float64
	for _, p := range b.Ring[:len(b.Ring)-1] {
		row := b.powers(p)
		rows = append(rows, row[:])
		d := vector.Distance(p, b.centre) / b.size
		want = append(want, d*d/4)
	}
	b.harmonic = leastSquares(rows, want, 1e-9)
}

// powers returns the harmonic polynomials at a place: real and imaginary parts of the powers of (x + iy).
func (b *Bowl) powers(p orb.Point) (out [2*degree + 1]float64) {
	x, y := (p[0]-b.centre[0])/b.size, (p[1]-b.centre[1])/b.size
	out[0] = 1
	re, im := 1.0, 0.0
	for k := range degree {
		re, im = float64(re*x)-float64(im*y), float64(re*y)+float64(im*x)
		out[2*k+1], out[2*k+2] = re, im
	}
	return out
}

// membrane returns the deflection at a place, without unit: 0 on the edge, above 0 within it.
func (b *Bowl) membrane(p orb.Point) float64 {
	d := vector.Distance(p, b.centre) / b.size
	sum := -d * d / 4
	for k, v := range b.powers(p) {
		sum += float64(b.harmonic[k] * v)
	}
	return max(sum, 0)
}

// bowl returns the shape that the soundings are a factor of: the mean of the membrane and of a paraboloid that is drawn from the edge to
// the deepest sounding, which may lie far from the middle.
func (b *Bowl) bowl(p orb.Point) float64 {
	t := b.share(b.Deepest, p)
	return (b.membrane(p) + float64(b.top*(1-float64(t*t)))) / 2
}

// share returns how far a place lies from a sounding on the way to the edge: 0 at it, 1 on the edge.
func (b *Bowl) share(sounding int, p orb.Point) float64 {
	c := b.Soundings[sounding].Plan
	d := vector.Distance(p, c)
	if d == 0 {
		return 0
	}
	best := 0.0
	ux, uy := (p[0]-c[0])/d, (p[1]-c[1])/d
	for i := 1; i < len(b.Ring); i++ {
		q, r := b.Ring[i-1], b.Ring[i]
		s1 := float64(ux*(q[1]-c[1])) - float64(uy*(q[0]-c[0]))
		s2 := float64(ux*(r[1]-c[1])) - float64(uy*(r[0]-c[0]))
		if s1 > 0 || s2 <= 0 {
			continue
		}
		f := s1 / (s1 - s2)
		along := float64(ux*(q[0]+float64(f*(r[0]-q[0]))-c[0])) + float64(uy*(q[1]+float64(f*(r[1]-q[1]))-c[1]))
		best = max(best, along)
	}
	if best <= 0 {
		return 1
	}
	return min(d/best, 1)
}
