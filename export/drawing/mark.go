package drawing

import (
	"strconv"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/export/drawing/scene"
)

// mostTags is how many findings get a number on the plan.
const mostTags = 60

// tagFindings numbers the findings on the plan, each at its place or beside it.
func (p *plan) tagFindings() {
	p.missing += max(0, len(p.s.Findings)-mostTags)
	for i := range p.s.Findings[:min(mostTags, len(p.s.Findings))] {
		f := &p.s.Findings[i]
		t := tag{number: strconv.Itoa(i + 1), severity: f.Severity}
		at, ok := p.placeOf(f.Geometry)
		if !ok {
			continue
		}
		if r, ok := p.Over([]scene.Point{at}, 2*tagHalf, 2*tagHalf); ok {
			t.draw(p.layer("symbols"), p.layer("labels"), scene.Point{X: scene.Hundredth(r.X + r.W/2), Y: scene.Hundredth(r.Y + r.H/2)})
			continue
		}
		if s, ok := p.Beside(at, 0.5, 2*tagHalf, 2*tagHalf); ok {
			p.leader(s)
			t.draw(p.layer("symbols"), p.layer("labels"), scene.Point{X: scene.Hundredth(s.Box.X + tagHalf), Y: scene.Hundredth(s.Box.Y + tagHalf)})
			continue
		}
		p.missing++
	}
}

func (p *plan) usesSeverity(s finding.Severity) { p.uses(s.String()) }

// placeOf returns a place of a finding's geometry on the sheet.
func (p *plan) placeOf(g orb.Geometry) (scene.Point, bool) {
	var m orb.MultiPolygon
	switch g := g.(type) {
	case orb.Point:
		return p.v.point(g), true
	case orb.LineString:
		if line := p.v.line(g); len(line) > 1 {
			n := 0.0
			for i := 1; i < len(line); i++ {
				n += scene.Distance(line[i-1], line[i])
			}
			return pointAlong(line, n/2), true
		}
	case orb.Polygon:
		m = orb.MultiPolygon{g}
	case orb.MultiPolygon:
		m = g
	}
	if places := p.places(p.v.rings(m)); len(places) > 0 {
		return places[0], true
	}
	if rings := p.v.rings(m); len(rings) > 0 && len(rings[0]) > 0 {
		return rings[0][0], true
	}
	return scene.Point{}, false
}
