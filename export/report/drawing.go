package report

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/export/palette"
	"runnel/export/record"
)

// canvas turns places of the roof into whole units of an SVG that is size wide or high.
type canvas struct {
	bound orb.Bound
	scale float64
	w, h  int
}

// margin is left free round the roof [SVG units].
const margin = 24

func newCanvas(b *record.Book, size float64) *canvas {
	bound := orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	for _, p := range b.Study.Roof.Outline.Rings[0] {
		bound = bound.Extend(p.Plan)
	}
	c := &canvas{bound: bound}
	c.scale = size / max(bound.Max[0]-bound.Min[0], bound.Max[1]-bound.Min[1], 1e-3)
	c.w = int(math.Round(float64((bound.Max[0]-bound.Min[0])*c.scale))) + 2*margin
	c.h = int(math.Round(float64((bound.Max[1]-bound.Min[1])*c.scale))) + 2*margin
	return c
}

// at returns the place on the canvas, y downward.
func (c *canvas) at(p orb.Point) (x, y int) {
	return margin + int(math.Round(float64((p[0]-c.bound.Min[0])*c.scale))),
		margin + int(math.Round(float64((c.bound.Max[1]-p[1])*c.scale)))
}

// path returns the data of a closed or open path; places that are one on the canvas are written once.
func (c *canvas) path(line []orb.Point, closed bool) string {
	var b strings.Builder
	lastX, lastY := math.MinInt, math.MinInt
	for i, p := range line {
		x, y := c.at(p)
		if x == lastX && y == lastY {
			continue
		}
		lastX, lastY = x, y
		if i == 0 {
			b.WriteByte('M')
		} else {
			b.WriteByte('L')
		}
		b.WriteString(strconv.Itoa(x) + " " + strconv.Itoa(y))
	}
	if closed && b.Len() > 0 {
		b.WriteByte('Z')
	}
	return b.String()
}

func (c *canvas) polygons(m orb.MultiPolygon) string {
	var b strings.Builder
	for _, p := range m {
		for _, r := range p {
			b.WriteString(c.path(r, true))
		}
	}
	return b.String()
}

// base draws what every drawing shares: outline, curbs, ponds and outlets.
func (c *canvas) base(b *record.Book) string {
	var d strings.Builder
	rings := ""
	for _, r := range b.Study.Roof.Outline.Rings {
		rings += c.path(roof.PlanOf(r), true)
	}
	fmt.Fprintf(&d, `<path d="%s" fill="#fff" fill-rule="evenodd" stroke="%s" stroke-width="4"/>`, rings, palette.Ink)
	for i := range b.Study.Roof.Curbs {
		fmt.Fprintf(&d, `<path d="%s" fill="#bbb" stroke="%s" stroke-width="2"/>`, c.path(roof.PlanOf(b.Study.Roof.Curbs[i].Ring), true), palette.Ink)
	}
	for _, l := range b.Study.Listed {
		fmt.Fprintf(&d, `<path d="%s" fill="%s" fill-opacity=".45" fill-rule="evenodd" stroke="%s" stroke-width="2"/>`,
			c.polygons(b.Study.Ponds.Outline(l.Pond)), palette.Water, palette.Water)
	}
	for i := range b.Study.Surface.Outlets {
		o := &b.Study.Surface.Outlets[i]
		colour := choose.If(o.Duty == roof.Overflow, palette.Overflow, palette.Primary)
		if len(o.Line) > 1 {
			fmt.Fprintf(&d, `<path d="%s" fill="none" stroke="%s" stroke-width="9"/>`, c.path(o.Line, false), colour)
			continue
		}
		x, y := c.at(o.Plan)
		fmt.Fprintf(&d, `<circle cx="%d" cy="%d" r="9" fill="%s" stroke="%s" stroke-width="2"/>`, x, y, colour, palette.Ink)
	}
	return d.String()
}

// mark draws where finding i is: its area edged, or a ring about its point.
func (c *canvas) mark(f *finding.Finding) string {
	colour := palette.OfSeverity(f.Severity)
	path := ""
	switch g := f.Geometry.(type) {
	case orb.Point:
		x, y := c.at(g)
		return fmt.Sprintf(`<circle cx="%d" cy="%d" r="30" fill="%s" fill-opacity=".35" stroke="%s" stroke-width="7"/>`, x, y, colour, palette.Ink)
	case orb.LineString:
		path = c.path(g, false)
	case orb.Polygon:
		path = c.polygons(orb.MultiPolygon{g})
	case orb.MultiPolygon:
		path = c.polygons(g)
	default:
		return ""
	}
	return fmt.Sprintf(`<path d="%s" fill="%s" fill-opacity=".35" fill-rule="evenodd" stroke="%s" stroke-width="7"/>`, path, colour, palette.Ink)
}

// thumb draws finding i over the shared drawing.
func (c *canvas) thumb(f *finding.Finding, id, what string) template.HTML {
	return template.HTML(fmt.Sprintf(`<svg class="thumb" viewBox="0 0 %d %d" role="img" aria-label="Where %s is on the roof"><use href="#roof"/>%s</svg>`,
		c.w, c.h, html.EscapeString(id+", "+what+","), c.mark(f)))
}

// definition is the shared drawing, for the others to use.
func (c *canvas) definition(b *record.Book) template.HTML {
	return template.HTML(`<svg class="defs" width="0" height="0" aria-hidden="true"><defs><g id="roof">` + c.base(b) + `</g></defs></svg>`)
}
