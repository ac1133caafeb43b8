package drawing

import (
	"fmt"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
	"runnel/export/record"
)

// keyRow is one symbol and what it means.
type keyRow struct {
	name, meaning string
	draw          func(l *scene.Layer, r scene.Rect)
}

// stroke returns a sample of a line.
func stroke(colour string, width float64, dash []float64) func(*scene.Layer, scene.Rect) {
	return func(l *scene.Layer, r scene.Rect) {
		l.Line(colour, width, dash, scene.Point{X: r.X, Y: r.Y + r.H/2}, scene.Point{X: r.X + r.W, Y: r.Y + r.H/2})
	}
}

func centre(r scene.Rect) scene.Point {
	return scene.Point{X: scene.Hundredth(r.X + r.W/2), Y: scene.Hundredth(r.Y + r.H/2)}
}

func sampleOutlet(t roof.OutletType, d roof.Duty) func(*scene.Layer, scene.Rect) {
	return func(l *scene.Layer, r scene.Rect) { outletSymbol(l, &surface.Outlet{Type: t, Duty: d}, centre(r)) }
}

func sampleTag(s finding.Severity) func(*scene.Layer, scene.Rect) {
	return func(l *scene.Layer, r scene.Rect) { tag{number: "1", severity: s}.draw(l, l, centre(r)) }
}

// keyRows returns every symbol that may stand on a sheet.
func (p *plan) keyRows() []keyRow {
	rows := []keyRow{
		{"urgent", "finding, urgent", sampleTag(finding.Urgent)},
		{"repair", "finding, repair", sampleTag(finding.Repair)},
		{"note", "finding, note", sampleTag(finding.Note)},
	}
	for _, c := range p.shades() {
		rows = append(rows, keyRow{c.name, "water " + c.name, func(l *scene.Layer, r scene.Rect) {
			l.Box(r.Inset(0.3), c.fill, palette.Water, 0.3)
		}})
	}
	rows = append(rows, p.floodRows()...)
	for _, r := range p.extra {
		rows = append(rows, keyRow{r.Meaning, r.Meaning, r.Draw})
	}
	return append(append(rows, p.waterRows()...), p.roofRows()...)
}

// waterRows returns the symbols of ponds, outlets, cores and the way of the water.
func (p *plan) waterRows() []keyRow {
	return []keyRow{
		{"lip", "lip: a full pond spills here", func(l *scene.Layer, r scene.Rect) { lipSymbol(l, centre(r)) }},
		{"unresolved", "pond in doubt", func(l *scene.Layer, r scene.Rect) {
			rings := [][]scene.Point{r.Inset(0.3).Corners()}
			l.Add(scene.Shape{Paths: scene.Hatch(rings, 1.2), Stroke: palette.Water, Width: 0.18})
			l.Add(scene.Shape{Paths: rings, Closed: true, Stroke: palette.Water, Width: 0.45})
		}},
		{"undrained", "no way out at any level", func(l *scene.Layer, r scene.Rect) {
			rings := [][]scene.Point{r.Inset(0.3).Corners()}
			l.Add(scene.Shape{Paths: scene.Hatch(rings, 2), Stroke: palette.Urgent, Width: 0.2})
			l.Add(scene.Shape{Paths: rings, Closed: true, Stroke: palette.Urgent, Width: 0.3})
		}},
		{"drain", "drain", sampleOutlet(roof.Drain, roof.Primary)},
		{"overflow drain", "overflow drain", sampleOutlet(roof.Drain, roof.Overflow)},
		{"scupper", "scupper", sampleOutlet(roof.Scupper, roof.Primary)},
		{"overflow scupper", "overflow scupper", sampleOutlet(roof.Scupper, roof.Overflow)},
		{"core", "core, and how thick", func(l *scene.Layer, r scene.Rect) { coreSymbol(l, centre(r), palette.Part) }},
		{"next core", "core to cut next", func(l *scene.Layer, r scene.Rect) { coreSymbol(l, centre(r), "#FFFFFF") }},
		{"next spot", "spot to shoot next", func(l *scene.Layer, r scene.Rect) { nextSpotSymbol(l, centre(r)) }},
		{"slope", "water runs this way, slope", func(l *scene.Layer, r scene.Rect) {
			c := centre(r)
			slopeArrow(l, scene.Point{X: r.X + 0.6, Y: c.Y}, scene.Point{X: r.X + r.W, Y: c.Y}, scene.Point{X: 1})
		}},
		{"way", "longest way to an outlet", func(l *scene.Layer, r scene.Rect) {
			stroke(palette.Way, 0.45, nil)(l, r)
			l.Add(scene.Shape{Paths: [][]scene.Point{arrowHead(scene.Point{X: r.X + r.W, Y: r.Y + r.H/2}, 1, 0)}, Closed: true, Fill: palette.Way})
		}},
		{"direct way", "longest way, low places empty", stroke(palette.Way, 0.3, directDash)},
	}
}

// roofRows returns the symbols of lines, spots, areas, edges and curbs.
func (p *plan) roofRows() []keyRow {
	unit := choose.If(p.u == record.US, "ft", "m")
	return []keyRow{
		{"valley", "valley", stroke(palette.Gather, 0.6, valleyDash)},
		{"ridge", "ridge", stroke(palette.Part, 0.5, ridgeDash)},
		{"breakline", "other breakline", stroke(palette.Ink, 0.3, breakDash)},
		{"spot", "spot, elevation in " + unit, func(l *scene.Layer, r scene.Rect) { spotSymbol(l, centre(r)) }},
		{"contour", "contour, elevation in " + unit, stroke(palette.Level, 0.18, nil)},
		{"catchment", "drains to one outlet", func(l *scene.Layer, r scene.Rect) {
			l.Add(scene.Shape{Paths: [][]scene.Point{r.Inset(0.3).Corners()}, Closed: true, Fill: palette.Tint(palette.Areas[0], 0.22), Stroke: palette.Ink, Width: 0.4, Dash: catchmentDash})
		}},
		{"wall", "wall: water cannot leave", stroke(palette.Ink, 0.9, nil)},
		{"gutter", "gutter", func(l *scene.Layer, r scene.Rect) {
			stroke(palette.Ink, 1.5, nil)(l, r)
			stroke(palette.Tint(palette.Primary, 0.35), 0.8, nil)(l, r)
		}},
		{"free", "free edge: water falls off", stroke(palette.Ink, 0.6, freeDash)},
		{"curb", "curb: water cannot cross", func(l *scene.Layer, r scene.Rect) {
			rings := [][]scene.Point{r.Inset(0.3).Corners()}
			l.Add(scene.Shape{Paths: scene.Hatch(rings, 1.2), Stroke: palette.Ink, Width: 0.12})
			l.Add(scene.Shape{Paths: rings, Closed: true, Stroke: palette.Ink, Width: 0.4})
		}},
	}
}

// key explains the symbols that stand on this sheet, in two columns, and says what found no room.
func (p *plan) key(c *column) {
	c.heading("Key")
	var used []keyRow
	widest := 0.0
	for _, row := range p.keyRows() {
		if p.keyed[row.name] {
			used = append(used, row)
			widest = max(widest, typeface.Width(row.meaning, 1, false))
		}
	}
	const wide = 7.0 // of a symbol
	size := min(p.smallEm(), (c.room.W/2-wide-2.7)/max(1, widest))
	high := max(4.5, 1.7*size)
	l := p.layer("key")
	half := (len(used) + 1) / 2
	for i, row := range used {
		x, y := c.room.X, c.y+float64(i%half)*high
		if i >= half {
			x += c.room.W / 2
		}
		row.draw(l, scene.Rect{X: scene.Hundredth(x), Y: scene.Hundredth(y + (high-3.5)/2), W: wide, H: 3.5})
		l.Texts = append(l.Texts, text(scene.Point{X: scene.Hundredth(x + wide + 1.2), Y: scene.Hundredth(y + high/2 + 0.35*size)}, row.meaning, size, false, scene.Start))
	}
	c.y += float64(half) * high
	if s := p.floodNote(); s != "" {
		c.paragraph(s, p.smallEm(), false)
	}
	if s := p.leftOut(); s != "" {
		c.paragraph(s, p.smallEm(), false)
	}
}

// leftOut says how many labels found no room and are nowhere on the sheet.
func (p *plan) leftOut() string {
	var parts []string
	if p.missing > 0 {
		parts = append(parts, record.Plural(p.missing, "label"))
	}
	s := &p.marked
	if n := s.all - s.elevations; n > 0 {
		parts = append(parts, fmt.Sprintf("the elevations of %d of %d spots", n, s.all))
	}
	if n := s.all - s.marks; n > 0 {
		parts = append(parts, fmt.Sprintf("the marks of %d", n))
	}
	if parts == nil {
		return ""
	}
	return "Left out for want of room: " + strings.Join(parts, ", ") + "."
}
