package drawing

import (
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
)

// coreHalf is half the size of a core's symbol [mm].
const coreHalf = 1.4

// cores marks where the roof was cut open and where it should be next, and keeps labels off the marks.
func (p *plan) cores() {
	l := p.layer("symbols")
	mark := func(at scene.Point, name, fill string) {
		p.uses(name)
		coreSymbol(l, at, fill)
		p.Take(square(at, coreHalf))
	}
	for i := range p.s.Assembly.Cores {
		mark(p.v.point(p.s.Assembly.Cores[i].Plan), "core", palette.Part)
	}
	for i := range p.b.NextCores {
		mark(p.v.point(p.b.NextCores[i].Plan), "next core", "#FFFFFF")
	}
}

// coreLabels writes how thick the roof is at each core, and the ids of the places where to cut next.
func (p *plan) coreLabels() {
	for i := range p.b.NextCores {
		p.put(p.v.point(p.b.NextCores[i].Plan), coreHalf, p.b.Names.Local(p.b.Names.NextCore(i)))
	}
	for i := range p.s.Assembly.Cores {
		c := &p.s.Assembly.Cores[i]
		name := typeface.Clean(c.ID)
		if c.HasThickness {
			name += "  " + p.u.SayDepth(c.Thickness) + " thick"
		}
		p.put(p.v.point(c.Plan), coreHalf, name)
	}
}

// coreSymbol draws a triangle: filled where a core was cut, open where one is proposed.
func coreSymbol(l *scene.Layer, at scene.Point, fill string) {
	l.Add(scene.Shape{Paths: [][]scene.Point{{
		{X: at.X, Y: scene.Hundredth(at.Y - coreHalf)}, {X: scene.Hundredth(at.X + 0.95*coreHalf), Y: scene.Hundredth(at.Y + 0.8*coreHalf)}, {X: scene.Hundredth(at.X - 0.95*coreHalf), Y: scene.Hundredth(at.Y + 0.8*coreHalf)},
	}}, Closed: true, Fill: fill, Stroke: palette.Ink, Width: 0.35})
}
