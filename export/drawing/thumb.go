package drawing

import (
	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/gather"
	"runnel/analysis/roof"
	"runnel/export/drawing/scene"
	"runnel/export/palette"
	"runnel/export/record"
)

// mostInThumb is how many ponds a thumb-nail shows beside its own finding, the heaviest first.
const mostInThumb = 40

// Thumbs draws thumb-nails: where on the roof one finding is.
type Thumbs struct {
	Width, Height float64 // of each [mm]

	p            *plan
	under, above []scene.Shape // what lies under and over the finding's area
}

// NewThumbs prepares thumb-nails that take at most that much room [mm].
func NewThumbs(b *record.Book, w, h float64) *Thumbs {
	p := &plan{b: b, s: b.Study, u: b.Units, v: newView(b.Study.Roof)}
	k := min((w-2)/p.v.w, (h-2)/p.v.h)
	t := &Thumbs{Width: scene.Hundredth(float64(p.v.w*k) + 2), Height: scene.Hundredth(float64(p.v.h*k) + 2), p: p}
	p.v.fit(scene.Rect{X: 1, Y: 1, W: t.Width - 2, H: t.Height - 2})
	t.base()
	return t
}

// base draws what all share.
func (t *Thumbs) base() {
	p, r := t.p, t.p.s.Roof
	outline := gather.Each(r.Outline.Rings, p.v.positions)
	t.under = []scene.Shape{{Paths: outline, Closed: true, Fill: "#FFFFFF"}}
	add := func(s scene.Shape) { t.above = append(t.above, s) }
	for i := range p.s.Listed[:min(mostInThumb, len(p.s.Listed))] {
		add(scene.Shape{Paths: p.area(p.s.Ponds.Outline(p.s.Listed[i].Pond)), Closed: true, Fill: palette.Tint(palette.Water, 0.55), Stroke: palette.Water, Width: 0.15})
	}
	for i := range r.Curbs {
		add(scene.Shape{Paths: [][]scene.Point{p.v.positions(r.Curbs[i].Ring)}, Closed: true, Fill: "#BBBBBB", Stroke: palette.Ink, Width: 0.15})
	}
	add(scene.Shape{Paths: outline, Closed: true, Stroke: palette.Ink, Width: 0.3})
	for i := range p.s.Surface.Outlets {
		o := &p.s.Surface.Outlets[i]
		colour := choose.If(o.Duty == roof.Overflow, palette.Overflow, palette.Primary)
		if o.Type == roof.EdgeOutlet {
			add(scene.Shape{Paths: [][]scene.Point{p.v.line(o.Line)}, Stroke: colour, Width: 0.7, Butt: true})
			continue
		}
		add(scene.Shape{Paths: [][]scene.Point{scene.Circle(p.v.point(o.Plan), 0.7)}, Closed: true, Fill: colour, Stroke: palette.Ink, Width: 0.12})
	}
}

// leastMark is how large a finding is on a thumb-nail before a ring is drawn about it to lead the eye [mm].
const leastMark = 4.0

// Of draws the thumb-nail of finding i.
func (t *Thumbs) Of(i int) *scene.Scene {
	f := &t.p.s.Findings[i]
	s := &scene.Scene{Width: t.Width, Height: t.Height, Title: string(f.Kind)}
	l := s.Layer("roof")
	colour := palette.OfSeverity(f.Severity)
	paths, closed := t.paths(f.Geometry)
	l.Add(t.under...)
	if closed {
		l.Add(scene.Shape{Paths: paths, Closed: true, Fill: palette.Tint(colour, 0.45)})
	}
	l.Add(t.above...)
	if len(paths) == 0 || len(paths[0]) == 0 {
		return s
	}
	var all []scene.Point
	for _, path := range paths {
		all = append(all, path...)
	}
	if e := extent(all); max(e.W, e.H) < leastMark {
		paths, closed = [][]scene.Point{scene.Circle(middle(all), 2.2)}, true
	}
	l.Add(scene.Shape{Paths: paths, Closed: closed, Stroke: palette.Ink, Width: 1.1})
	l.Add(scene.Shape{Paths: paths, Closed: closed, Stroke: colour, Width: 0.6})
	return s
}

// paths returns a finding's place on the thumb-nail.
func (t *Thumbs) paths(g orb.Geometry) (paths [][]scene.Point, closed bool) {
	switch g := g.(type) {
	case orb.Point:
		return [][]scene.Point{{t.p.v.point(g)}}, false
	case orb.LineString:
		return [][]scene.Point{t.p.v.line(g)}, false
	case orb.Polygon:
		return t.p.area(orb.MultiPolygon{g}), true
	case orb.MultiPolygon:
		return t.p.area(g), true
	}
	return nil, false
}
