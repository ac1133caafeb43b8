package drawing

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/choose"
	"runnel/analysis/gather"
	"runnel/analysis/inspection"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/export/drawing/label"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
	"runnel/export/record"
)

// widest is how wide a label gets before it is cut [mm].
const widest = 46.0

// labels places all labels, the most important first.
func (p *plan) labels() {
	for i := range p.s.Listed {
		p.pondLabel(i, p.pondWords(i)...)
	}
	for i := range p.s.Surface.Outlets {
		p.outletLabel(i)
	}
	p.coreLabels()
	p.nextSpotLabels()
	p.slopeArrows()
	for i := range p.s.Catchments.Longest {
		if w := &p.s.Catchments.Longest[i]; p.s.Catchments.Leading(i) {
			p.along(p.v.line(w.Line), p.u.SayLength(w.Travel), palette.Way, 12)
		}
	}
	p.foldLabels(p.s.Slopes.Valleys)
	for i := range p.s.Roof.Curbs {
		p.curbLabel(&p.s.Roof.Curbs[i])
	}
	p.contourLabels()
}

// pondWords are the two lines at listed pond i.
func (p *plan) pondWords(i int) []string {
	return []string{p.s.Listed[i].ID + "  " + p.b.SayPondDepth(i) + " deep", p.b.SayPondArea(i)}
}

func (p *plan) pondLabel(i int, lines ...string) {
	l := &p.s.Listed[i]
	pond := &p.s.Ponds.Ponds[l.Pond]
	at, ok := p.placeOf(p.s.Ponds.Outline(l.Pond))
	if !ok {
		at = p.v.point(orb.Point{p.s.Surface.Cut.X[pond.Pits[0]], p.s.Surface.Cut.Y[pond.Pits[0]]})
	}
	p.put(at, tagHalf, lines...)
}

func (p *plan) outletLabel(i int) {
	o := &p.s.Surface.Outlets[i]
	half := choose.If(o.Type == roof.EdgeOutlet, 1, outletHalf)
	name := typeface.Clean(o.Label)
	if kind := outletName(o); !strings.Contains(strings.ToLower(name), kind) {
		name += "  " + kind
	}
	invert := "invert " + p.u.SayElevation(o.Invert)
	switch {
	case o.Type == roof.EdgeOutlet:
		invert = "lowest " + p.u.SayElevation(o.Invert)
	case o.InvertAssumed:
		invert += " assumed"
	}
	lines := []string{name, invert}
	if p.deepestOutlet() == i {
		lines = append(lines, p.deep(p.b.DesignWater()))
	}
	p.put(p.v.point(o.Plan), half, lines...)
}

func (p *plan) curbLabel(c *roof.Curb) {
	name := typeface.Clean(c.Label)
	if c.Height > 0 {
		name = strings.TrimSpace(name + " " + p.u.SayDepth(float64(c.Height)) + " high")
	}
	if name == "" {
		return
	}
	ring := p.v.positions(c.Ring)
	name = typeface.Cut(name, p.em, widest, false)
	w := typeface.Width(name, p.em, false) + 1
	if r, ok := p.Over([]scene.Point{middle(ring)}, w, p.em*leading); ok && r.W < extent(ring).W && r.H < extent(ring).H {
		p.write(r, name, palette.Ink, false)
		return
	} else if ok {
		p.Taken = p.Taken[:len(p.Taken)-1]
	}
	e := extent(ring)
	p.put(scene.Point{X: e.X + e.W/2, Y: e.Y + e.H/2}, min(e.W, e.H)/2, name)
}

// put places a label of one or several lines beside a symbol, the first line bold; what finds no room is listed.
func (p *plan) put(at scene.Point, half float64, lines ...string) {
	w := 0.0
	for i := range lines {
		lines[i] = typeface.Cut(lines[i], p.em, widest, i == 0)
		w = max(w, typeface.Width(lines[i], p.em, i == 0))
	}
	h := float64(len(lines)) * p.em * leading
	s, ok := p.Beside(at, half, scene.Hundredth(w+1), scene.Hundredth(h))
	if !ok {
		p.list(at, half, strings.Join(lines, ", "))
		return
	}
	p.leader(s)
	p.backing(s.Box)
	for i, line := range lines {
		anchor, x := scene.Start, s.Box.X+0.5
		if s.Box.X+s.Box.W <= at.X {
			anchor, x = scene.End, s.Box.X+s.Box.W-0.5
		}
		y := scene.Hundredth(s.Box.Y + p.em*(0.9+leading*float64(i)))
		p.layer("labels").Texts = append(p.layer("labels").Texts, text(scene.Point{X: scene.Hundredth(x), Y: y}, line, p.em, i == 0, anchor))
	}
}

// list puts a label that found no room into the list, with its number at its place where that finds room. A picture has no list.
func (p *plan) list(at scene.Point, half float64, words string) {
	if p.picture {
		return
	}
	p.left = append(p.left, words)
	number := fmt.Sprintf("L%d", len(p.left))
	w := scene.Hundredth(typeface.Width(number, p.em, true) + 0.6)
	if s, ok := p.Beside(at, half, w, p.em*leading); ok {
		p.leader(s)
		p.write(s.Box, number, palette.Ink, true)
	}
}

func (p *plan) leader(s label.Spot) {
	if s.Leader {
		p.layer("leaders").Line(palette.Ink, 0.15, nil, s.From, s.To)
	}
}

// backing puts white under a label.
func (p *plan) backing(r scene.Rect) { p.layer("leaders").Box(r, "#FFFFFF", "", 0) }

// write writes one line into a box, in its middle.
func (p *plan) write(r scene.Rect, s, colour string, bold bool) {
	p.backing(r)
	t := text(scene.Point{X: scene.Hundredth(r.X + r.W/2), Y: scene.Hundredth(r.Y + r.H/2 + 0.35*p.em)}, s, p.em, bold, scene.Middle)
	t.Colour = colour
	p.layer("labels").Texts = append(p.layer("labels").Texts, t)
}

// alongParts are where along a line a label may stand, best first.
var alongParts = []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9}

// along places a short label somewhere on a line of at least a length, off the edge of the roof; where it finds no room it
// is left out and counted.
func (p *plan) along(line []scene.Point, s, colour string, least float64) {
	total := 0.0
	for i := 1; i < len(line); i++ {
		total += scene.Distance(line[i-1], line[i])
	}
	if total < least {
		return
	}
	centres := gather.Each(alongParts, func(part float64) scene.Point { return pointAlong(line, part*total) })
	r, ok := p.Over(centres, typeface.Width(s, p.em, false)+0.8, p.em*leading*0.9, p.v.positions(p.s.Roof.Outline.Rings[0])...)
	if !ok {
		p.missing++
		return
	}
	p.write(r, s, colour, false)
}

// pointAlong returns the place that lies so far along a line.
func pointAlong(line []scene.Point, far float64) scene.Point {
	for i := 1; i < len(line); i++ {
		d := scene.Distance(line[i-1], line[i])
		if far <= d && d > 0 {
			t := far / d
			return scene.Point{X: line[i-1].X + float64((line[i].X-line[i-1].X)*t), Y: line[i-1].Y + float64((line[i].Y-line[i-1].Y)*t)}
		}
		far -= d
	}
	return line[len(line)-1]
}

const (
	mostFolds = 12   // valleys that get a label
	longFold  = 30.0 // length on the sheet from which a valley gets one [mm]
)

func (p *plan) foldLabels(lines []slope.Line) {
	for i := range lines[:min(mostFolds, len(lines))] {
		p.along(p.v.line(lines[i].Plan), "valley "+choose.If(lines[i].Slope < inspection.Level, "level", p.rate(lines[i].Slope)), palette.Ink, longFold)
	}
	for i := mostFolds; i < len(lines); i++ {
		if lines[i].Length*p.v.k >= longFold {
			p.missing++
		}
	}
}

// rate writes a slope as it stands beside an arrow: in hundredths of an inch per foot, or in per cent.
func (p *plan) rate(s float64) string {
	if p.u == record.US {
		decimals := 2
		if inches := 12 * s; inches < 0.02 {
			decimals = 3
		}
		return strconv.FormatFloat(12*s, 'f', decimals, 64) + "\"/ft"
	}
	return p.u.SaySlope(s)
}

// contourLabels writes the elevation of each level on its longest line, from the lowest up.
func (p *plan) contourLabels() {
	every := p.thinning()
	level := -1
	for i := 0; i < len(p.s.Contours); {
		k, longest := i, i
		for ; k < len(p.s.Contours) && p.s.Contours[k].Elevation == p.s.Contours[i].Elevation; k++ {
			if planar.Length(p.s.Contours[k].Plan) > planar.Length(p.s.Contours[longest].Plan) {
				longest = k
			}
		}
		if level++; level%every == 0 {
			c := &p.s.Contours[longest]
			p.along(p.v.line(c.Plan), bare(p.u.SayElevation(c.Elevation)), "#5B5780", 14)
		}
		i = k
	}
}

// bare returns a number without its unit.
func bare(s string) string {
	number, _, _ := strings.Cut(s, " ")
	return number
}

// extent returns the rectangle round points.
func extent(points []scene.Point) scene.Rect {
	a, b := points[0], points[0]
	for _, q := range points {
		a, b = scene.Point{X: min(a.X, q.X), Y: min(a.Y, q.Y)}, scene.Point{X: max(b.X, q.X), Y: max(b.Y, q.Y)}
	}
	return scene.Rect{X: a.X, Y: a.Y, W: b.X - a.X, H: b.Y - a.Y}
}

func middle(points []scene.Point) scene.Point {
	e := extent(points)
	return scene.Point{X: e.X + e.W/2, Y: e.Y + e.H/2}
}
