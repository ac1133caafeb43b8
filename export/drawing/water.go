package drawing

import (
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/export/drawing/scene"
	"runnel/export/palette"
	"runnel/export/record"
)

// catchments tints the area of each outlet and draws its border.
func (p *plan) catchments() {
	l := p.layer("catchments")
	c := p.s.Catchments
	for i := range c.Full {
		rings := p.area(c.Full[i].Outline)
		p.uses("catchment")
		l.Add(scene.Shape{Paths: rings, Closed: true, Fill: palette.Tint(palette.Areas[i%len(palette.Areas)], 0.22)})
		l.Add(scene.Shape{Paths: rings, Closed: true, Stroke: palette.Ink, Width: 0.4, Dash: catchmentDash})
	}
	if len(c.Undrawn) > 0 {
		p.uses("undrained")
		rings := p.area(c.Undrawn)
		l.Add(scene.Shape{Paths: scene.Hatch(rings, 2), Stroke: palette.Urgent, Width: 0.2})
		l.Add(scene.Shape{Paths: rings, Closed: true, Stroke: palette.Urgent, Width: 0.3})
	}
}

// shade is one class of depth: water deeper than from [m].
type shade struct {
	from float64
	fill string
	name string // of the class
}

// shades returns the classes of depth as the plan fills them.
func (p *plan) shades() []shade {
	return gather.Each(record.DepthClasses(p.u), func(c record.DepthClass) shade { return shade{c.From, palette.Tint(palette.Water, c.Strength), c.Name} })
}

// ponds shades the listed ponds by depth.
func (p *plan) ponds() {
	l := p.layer("ponds")
	cut := p.s.Surface.Cut
	for i := range p.s.Listed {
		pond := &p.s.Ponds.Ponds[p.s.Listed[i].Pond]
		for _, c := range p.shades() {
			if pond.Depth <= c.from {
				continue
			}
			p.uses(c.name)
			rings := gather.Each(below(cut, pond.Facets, pond.Level-c.from), p.v.line)
			l.Add(scene.Shape{Paths: rings, Closed: true, Fill: c.fill})
			if c.from == 0 {
				for _, ring := range rings {
					p.Avoid(ring)
				}
			}
		}
		outline := p.area(p.s.Ponds.Outline(p.s.Listed[i].Pond))
		if p.s.Confidence(i) != finding.Shown {
			p.uses("unresolved")
			l.Add(scene.Shape{Paths: scene.Hatch(outline, 1.2), Stroke: palette.Water, Width: 0.18})
		}
		l.Add(scene.Shape{Paths: outline, Closed: true, Stroke: palette.Water, Width: 0.45})
		p.Pools = append(p.Pools, extent(slices.Concat(outline...)))
	}
}

// ways draws the longest ways of the water.
func (p *plan) ways() {
	l := p.layer("ways")
	for i := range p.s.Catchments.Longest {
		w := &p.s.Catchments.Longest[i]
		line := p.v.line(w.Line)
		if len(line) < 2 {
			continue
		}
		dash, width, name := []float64(nil), 0.45, "way"
		if !p.s.Catchments.Leading(i) {
			dash, width, name = directDash, 0.3, "direct way"
		}
		p.uses(name)
		l.Line(palette.Way, width, dash, line...)
		p.Avoid(line)
		if tip := head(line); tip != nil {
			l.Add(scene.Shape{Paths: [][]scene.Point{tip}, Closed: true, Fill: palette.Way})
		}
	}
}

// head returns an arrow head at the end of a line, nil where the line is shorter than one.
func head(line []scene.Point) []scene.Point {
	end := line[len(line)-1]
	for i := len(line) - 2; i >= 0; i-- {
		if d := scene.Distance(line[i], end); d > 2 {
			return arrowHead(end, (end.X-line[i].X)/d, (end.Y-line[i].Y)/d)
		}
	}
	return nil
}

// arrowHead returns a triangle with its tip at a place, pointing along a unit vector.
func arrowHead(tip scene.Point, dx, dy float64) []scene.Point {
	const long, half = 2.0, 0.75
	at := func(back, side float64) scene.Point {
		return scene.Point{
			X: scene.Hundredth(tip.X - float64(dx*back) - float64(dy*side)), Y: scene.Hundredth(tip.Y - float64(dy*back) + float64(dx*side)),
		}
	}
	return []scene.Point{tip, at(long, half), at(long, -half)}
}

// lip returns where a pond spills, and whether that is a place of the surface.
func (p *plan) lip(listed int) (orb.Point, bool) {
	v := p.s.Ponds.Ponds[p.s.Listed[listed].Pond].Lip
	if v < 0 {
		return orb.Point{}, false
	}
	return orb.Point{p.s.Surface.Cut.X[v], p.s.Surface.Cut.Y[v]}, true
}
