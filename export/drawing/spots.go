package drawing

import (
	"slices"

	"runnel/export/drawing/label"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
)

// spotCount says how many spots there are, and what of them stands on the sheet.
type spotCount struct{ all, marks, elevations int }

const (
	spotHalf = 0.55 // of a spot's cross [mm]
	spotGrid = 1.5  // two crosses stand at least about so far apart [mm]
	mostHide = 2    // millimetres of lines that an elevation may cover
)

// spotWays are the directions in which an elevation may stand from its spot.
var spotWays = []scene.Point{{X: 1}, {X: -1}, {Y: -1}, {Y: 1}}

// markSpots marks the spots with crosses and writes their elevations, last of all and only where nothing else stands.
func (p *plan) markSpots() {
	if !p.o.Spots {
		return
	}
	ring := [][]scene.Point{p.v.positions(p.s.Roof.Outline.Rings[0])}
	crowd := map[[2]int]bool{}
	var places []scene.Point
	var labels []string
	for i := range p.s.Roof.Spots {
		s := &p.s.Roof.Spots[i]
		at := p.v.point(s.Plan)
		if !s.HasZ || !inside(ring, at) && clearance(ring, at) > spotHalf {
			continue
		}
		p.marked.all++
		key := [2]int{int(at.X / spotGrid), int(at.Y / spotGrid)}
		if crowd[key] || p.covers(at) {
			continue
		}
		crowd[key] = true
		places, labels = append(places, at), append(labels, bare(p.u.SayElevation(s.Z)))
	}
	l := p.layer("spots")
	for _, at := range places {
		p.uses("spot")
		spotSymbol(l, at)
		p.Open = append(p.Open, square(at, spotHalf))
	}
	p.marked.marks = len(places)
	for i, at := range places {
		p.spotLabel(at, labels[i])
	}
}

// covers reports whether a label or a symbol stands over a place.
func (p *plan) covers(at scene.Point) bool {
	return slices.ContainsFunc(p.Taken, func(x scene.Rect) bool { return square(at, spotHalf).Overlaps(x) })
}

func spotSymbol(l *scene.Layer, at scene.Point) {
	l.Line(palette.Ink, 0.15, nil, scene.Point{X: at.X - spotHalf, Y: at.Y}, scene.Point{X: at.X + spotHalf, Y: at.Y})
	l.Line(palette.Ink, 0.15, nil, scene.Point{X: at.X, Y: at.Y - spotHalf}, scene.Point{X: at.X, Y: at.Y + spotHalf})
}

// spotLabel writes the elevation of a spot beside it, if there is room.
func (p *plan) spotLabel(at scene.Point, s string) {
	em := 0.8 * p.em
	w, h := scene.Hundredth(typeface.Width(s, em, false)+0.4), em
	for _, d := range spotWays {
		box := label.BoxToward(at, d, spotHalf+0.55, w, h)
		if !p.Free(box) || p.Covered(box) > mostHide {
			continue
		}
		p.Take(box)
		p.backing(box)
		p.marked.elevations++
		t := text(scene.Point{X: scene.Hundredth(box.X + w/2), Y: scene.Hundredth(box.Y + h/2 + 0.35*em)}, s, em, false, scene.Middle)
		p.layer("labels").Texts = append(p.layer("labels").Texts, t)
		return
	}
}
