package drawing

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
)

const (
	mostArrows = 24    // planes that may get an arrow, the largest first
	leastPlane = 180.0 // area on the sheet from which a plane gets one [mm2]
	arrowLong  = 9.0   // [mm]
	samples    = 9     // places across a plane at which an arrow is tried
)

// slopeArrows puts an arrow that points down the slope, with its rate, on each large plane.
func (p *plan) slopeArrows() {
	planes := p.s.Slopes.Planes
	outer := p.v.positions(p.s.Roof.Outline.Rings[0])
	for i := range planes[:min(mostArrows, len(planes))] {
		f := &planes[i]
		if f.Area*p.v.k*p.v.k < leastPlane {
			return
		}
		rate := "level"
		d := scene.Point{}
		if !f.Level {
			rate = p.rate(f.Slope)
			n := vector.Norm(f.Gradient[0], f.Gradient[1])
			d = p.v.way(-f.Gradient[0]/n, -f.Gradient[1]/n)
		}
		if !p.arrowOn(f.Outline, d, rate, outer) {
			p.missing++
		}
	}
}

// arrowOn puts an arrow that points along d, with a text under it, on an area; it reports whether there was room that hides none of outer.
func (p *plan) arrowOn(area orb.MultiPolygon, d scene.Point, s string, outer []scene.Point) bool {
	tw := typeface.Width(s, p.em, true)
	high := math.Abs(d.Y) * arrowLong
	w, h := max(tw+0.8, math.Abs(d.X)*arrowLong+1.8), high+p.em*leading+2
	r, ok := p.Over(p.places(p.area(area)), w, h, outer...)
	if !ok {
		return false
	}
	p.arrow(scene.Point{X: r.X + r.W/2, Y: r.Y + 1 + high/2}, d)
	p.write(scene.Rect{X: scene.Hundredth(r.X + (r.W-tw)/2 - 0.3), Y: scene.Hundredth(r.Y + r.H - p.em*leading), W: scene.Hundredth(tw + 0.6), H: p.em * leading}, s, palette.Ink, true)
	return true
}

// arrow draws a slope arrow about its middle; none for a level plane.
func (p *plan) arrow(c, d scene.Point) {
	if d == (scene.Point{}) {
		return
	}
	p.uses("slope")
	half := arrowLong / 2
	tail := scene.Point{X: scene.Hundredth(c.X - float64(d.X*half)), Y: scene.Hundredth(c.Y - float64(d.Y*half))}
	tip := scene.Point{X: scene.Hundredth(c.X + float64(d.X*half)), Y: scene.Hundredth(c.Y + float64(d.Y*half))}
	slopeArrow(p.layer("symbols"), tail, tip, d)
}

// slopeArrow draws an arrow with an open ring at its tail.
func slopeArrow(l *scene.Layer, tail, tip, d scene.Point) {
	l.Line(palette.Ink, 0.5, nil, tail, scene.Point{X: scene.Hundredth(tip.X - d.X), Y: scene.Hundredth(tip.Y - d.Y)})
	l.Add(scene.Shape{Paths: [][]scene.Point{arrowHead(tip, d.X, d.Y)}, Closed: true, Fill: palette.Ink})
	l.Add(scene.Shape{Paths: [][]scene.Point{scene.Circle(tail, 0.6)}, Closed: true, Fill: "#FFFFFF", Stroke: palette.Ink, Width: 0.3})
}

// places returns places inside an area, those farthest from its border first.
func (p *plan) places(rings [][]scene.Point) []scene.Point {
	var all []scene.Point
	for _, ring := range rings {
		all = append(all, ring...)
	}
	if len(all) == 0 {
		return nil
	}
	e := extent(all)
	type place struct {
		at    scene.Point
		clear float64
	}
	var found []place
	for i := range samples {
		for k := range samples {
			q := scene.Point{
				X: e.X + e.W*(float64(i)+0.5)/samples, Y: e.Y + e.H*(float64(k)+0.5)/samples,
			}
			if inside(rings, q) {
				found = append(found, place{q, scene.Hundredth(clearance(rings, q))})
			}
		}
	}
	centre := scene.Point{X: e.X + e.W/2, Y: e.Y + e.H/2}
	slices.SortStableFunc(found, func(a, b place) int {
		return cmp.Or(cmp.Compare(b.clear, a.clear), cmp.Compare(scene.Distance(a.at, centre), scene.Distance(b.at, centre)))
	})
	return gather.Each(found, func(x place) scene.Point { return x.at })
}

// clearance returns the distance of a place from the border of an area.
func clearance(rings [][]scene.Point, q scene.Point) float64 {
	least := math.Inf(1)
	for _, ring := range rings {
		for i := range ring {
			a, b := ring[i], ring[(i+1)%len(ring)]
			dx, dy := b.X-a.X, b.Y-a.Y
			t := 0.0
			if n := float64(dx*dx) + float64(dy*dy); n > 0 {
				t = max(0, min(1, (float64((q.X-a.X)*dx)+float64((q.Y-a.Y)*dy))/n))
			}
			least = min(least, scene.Distance(q, scene.Point{X: a.X + float64(t*dx), Y: a.Y + float64(t*dy)}))
		}
	}
	return least
}
