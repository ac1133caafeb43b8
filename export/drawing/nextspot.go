package drawing

import (
	"runnel/export/drawing/scene"
	"runnel/export/palette"
)

// nextSpots marks the places where another spot would tell most, and keeps labels off the marks.
func (p *plan) nextSpots() {
	l := p.layer("symbols")
	for i := range p.b.NextSpots {
		p.uses("next spot")
		at := p.v.point(p.b.NextSpots[i].Plan)
		nextSpotSymbol(l, at)
		p.Take(square(at, coreHalf))
	}
}

// nextSpotLabels writes the ids of the places to shoot next.
func (p *plan) nextSpotLabels() {
	for i := range p.b.NextSpots {
		p.put(p.v.point(p.b.NextSpots[i].Plan), coreHalf, p.b.Names.Local(p.b.Names.NextSpot(i)))
	}
}

// nextSpotSymbol draws an open diamond.
func nextSpotSymbol(l *scene.Layer, at scene.Point) {
	const half = 0.9 * coreHalf
	l.Add(scene.Shape{Paths: [][]scene.Point{{
		{X: at.X, Y: scene.Hundredth(at.Y - half)}, {X: scene.Hundredth(at.X + half), Y: at.Y}, {X: at.X, Y: scene.Hundredth(at.Y + half)}, {X: scene.Hundredth(at.X - half), Y: at.Y},
	}}, Closed: true, Fill: "#FFFFFF", Stroke: palette.Ink, Width: 0.35})
}
