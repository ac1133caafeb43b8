package demo

import (
	"math"

	"github.com/paulmach/orb"
)

// wing adds to a trough of 26 by 12 m a second one of 12 by 16 m, at right angles on its upper side, which
// falls to a scupper of its own at its far end. The two meet in a ridge where both are equally high.
func (t *trough) wing() {
	const (
		x0, x1, middle = 8.0, 20.0, 14.0
		top            = 22.0
		fall           = 0.016
		start          = 0.356 // of the second valley at the first trough's upper side
	)
	y0 := t.width / 2
	first := t.relief
	second := func(p orb.Point) float64 {
		return start - fall*(p[1]-y0) + t.cross*math.Abs(p[0]-middle)
	}
	t.relief = func(p orb.Point) float64 { return math.Min(first(p), second(p)) }
	t.outline = []orb.Point{{0, -y0}, {t.length, -y0}, {t.length, y0}, {x1, y0}, {x1, top}, {x0, top}, {x0, y0}, {0, y0}}
	t.scupper("SC-2", orb.Point{middle, top})
	t.overflow("OS-2", orb.Point{middle + 0.9, top}, len(t.outlets)-1)

	// Along x both rise by t.cross and fall per metre of y, so that the ridge stands off y0 by their
	// difference there over the sum of their slopes.
	ridge := func(x float64) orb.Point {
		p := orb.Point{x, y0}
		return orb.Point{x, y0 + (second(p)-first(p))/(t.cross+fall)}
	}
	path := []orb.Point{ridge(x0)}
	for _, p := range t.floor {
		if p.at > x0 && p.at < middle {
			path = append(path, ridge(p.at))
			t.fold("grade-break", orb.Point{p.at, y0}, ridge(p.at))
		}
	}
	t.fold("ridge", append(path, ridge(middle), ridge(x1))...)
	t.fold("valley", orb.Point{middle, top - sumpEdge}, ridge(middle))
}

// units sets small curbs on planes whose fall is not square to their sides, so that water passes them
// without a cricket.
func (s *site) units(label func(i int) string, width float64, at ...orb.Point) {
	for i, p := range at {
		d := width * (1 + 0.15*float64(i%3))
		s.curbs = append(s.curbs, curb{ring: rectangle(p[0], p[1], p[0]+d, p[1]+width), height: curbHeight, label: label(i)})
	}
}
