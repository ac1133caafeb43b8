package layout

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/board"
	"runnel/analysis/correction"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/takeoff"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/palette"
)

// Line types and fills of the layout.
var (
	cutDash     = []float64{4, 0.8, 0.8, 0.8, 0.8, 0.8}
	sectionDash = []float64{6, 1.2, 1, 1.2}
	measuredOf  = drawing.Tint(palette.Repair, 0.22)
	stripOf     = drawing.Tint(palette.Note, 0.45)
	laidOf      = drawing.Tint(palette.Gather, 0.07)
)

// most is how many of each kind of label the layout gets.
const most = 60

// layers are those of the layout under curbs and edges.
var layers = []string{"areas", "boards", "sections"}

// plan draws the layout sheet, the first of so many.
func (h *sheets) plan(of int) (*scene.Scene, error) {
	c, err := drawing.NewCanvas(h.Book, h.Plan, h.title(), layers...)
	if err != nil {
		return nil, err
	}
	h.draw(c)
	c.Panel(h.title(), h.sentence(), fmt.Sprintf("layout of the correction, 1 of %d", of), h.panel())
	return c.Scene(), nil
}

// draw draws lines and areas, then symbols, then labels, the most important first.
func (h *sheets) draw(c *drawing.Canvas) {
	h.areas(c)
	h.lines(c)
	h.sectionLines(c)
	c.Clip(append([]string{"curbs", "edges", "lines"}, layers...)...)
	for i := range h.outlets() {
		if o := &h.outlets()[i]; o.Type != roof.EdgeOutlet && c.InView(o.Plan) {
			c.Outlet(o)
		}
	}
	h.outletLabels(c)
	h.arrows(c)
	h.curbLabels(c)
	h.cornerLabels(c)
	h.lineLabels(c)
	h.courseLabels(c)
}

func (h *sheets) title() string { return h.Book.Study.Roof.Name + ": " + h.Name }

// areas draws boards, strips and what is cut to measure.
func (h *sheets) areas(c *drawing.Canvas) {
	if h.design == nil {
		return
	}
	l, rest := c.Layer("areas"), false
	for i := range h.TakeOff.Fields {
		f := &h.TakeOff.Fields[i]
		rings := c.Rings(orb.MultiPolygon{h.design.Facets[f.Facet].Polygon})
		if f.Laid {
			l.Add(scene.Shape{Paths: rings, Closed: true, Fill: stripOf}) // what boards leave free of it is strip
			continue
		}
		rest = true
		l.Add(scene.Shape{Paths: rings, Closed: true, Fill: measuredOf})
		drawing.Hatch(l, rings, 2.4, palette.Repair)
	}
	if rest {
		c.Key("cut to measure", func(l *scene.Layer, r scene.Rect) {
			l.Box(r, measuredOf, "", 0)
			drawing.Hatch(l, [][]scene.Point{r.Corners()}, 2.4, palette.Repair)
		})
	}
	if len(h.TakeOff.Strips) > 0 {
		c.Key("tapered edge strip", func(l *scene.Layer, r scene.Rect) { l.Box(r, stripOf, palette.Level, 0.1) })
	}
	h.boards(c)
}

// boards draws the grid of boards.
func (h *sheets) boards(c *drawing.Canvas) {
	b := h.TakeOff.Boards
	if b == nil {
		return
	}
	l := c.Layer("boards")
	for i := range b.Pieces {
		l.Add(scene.Shape{Paths: c.Rings(b.Pieces[i].Plan), Closed: true, Fill: laidOf, Stroke: palette.Level, Width: 0.1})
	}
	c.Key(fmt.Sprintf("boards, %s by %s", h.u.SayLength(float64(b.Stock.Length)), h.u.SayLength(float64(b.Stock.Width))), func(l *scene.Layer, r scene.Rect) {
		l.Box(r, laidOf, palette.Level, 0.1)
		l.Line(palette.Level, 0.1, nil, scene.Point{X: r.X + r.W/2, Y: r.Y}, scene.Point{X: r.X + r.W/2, Y: r.Y + r.H})
	})
}

// lines draws ridges, valleys and hips, and the lines in which new meets old.
func (h *sheets) lines(c *drawing.Canvas) {
	if h.design == nil {
		return
	}
	used := map[string]bool{}
	for i := range h.design.Lines {
		line := &h.design.Lines[i]
		kind := h.kindOfLine(line)
		if kind == "" || c.Size(line.Length) < 2 {
			continue
		}
		q := c.Line(h.plan2(line.A, line.B))
		colour, width, dash := palette.Part, 0.5, drawing.RidgeDash()
		if kind == "valley" {
			colour, width, dash = palette.Gather, 0.7, drawing.ValleyDash()
		}
		c.Layer("lines").Line(colour, width, dash, q...)
		c.Avoid(q)
		used[kind] = true
	}
	if used["valley"] {
		c.Uses("valley")
	}
	if used["ridge"] || used["hip"] {
		c.Key("ridge, hip", drawing.Stroke(palette.Part, 0.5, drawing.RidgeDash()))
	}
	for _, line := range h.design.CutLines() {
		q := c.Line(line)
		c.Layer("lines").Line(palette.Urgent, 0.6, cutDash, q...)
		c.Avoid(q)
		used["cut"] = true
	}
	if used["cut"] {
		c.Key("new meets old flush", drawing.Stroke(palette.Urgent, 0.6, cutDash))
	}
}

func (h *sheets) plan2(a, b int) []orb.Point {
	return []orb.Point{h.design.Vertices[a].Plan, h.design.Vertices[b].Plan}
}

// sectionLines draws where the sections lie.
func (h *sheets) sectionLines(c *drawing.Canvas) {
	if len(h.sections) == 0 {
		return
	}
	for i := range h.sections {
		s := &h.sections[i]
		q := c.Line([]orb.Point{s.from, s.to})
		c.Layer("sections").Line(palette.Ink, 0.18, sectionDash, q...)
		for _, end := range []orb.Point{s.from, s.to} {
			if c.InView(end) {
				c.Near(end, s.name)
			}
		}
	}
	c.Key("section", drawing.Stroke(palette.Ink, 0.18, sectionDash))
}

// outletLabels writes each outlet with its finished invert, and what it was.
func (h *sheets) outletLabels(c *drawing.Canvas) {
	for i := range h.outlets() {
		o := &h.outlets()[i]
		if !c.InView(o.Plan) {
			continue
		}
		half := 1.7
		if o.Type == roof.EdgeOutlet {
			half = 1
		}
		c.Label(o.Plan, half, h.outletLines(o)...)
	}
}

func (h *sheets) outletLines(o *surface.Outlet) []string {
	name := o.Label
	if o.Duty == roof.Overflow {
		name += "  overflow"
	}
	was := h.before(o)
	word := "invert "
	if o.Type == roof.EdgeOutlet {
		word = "lowest "
	}
	switch {
	case was == nil && o.Source >= 0:
		return []string{name, "new, " + word + h.level(o.Invert)}
	case was != nil && math.Abs(was.Invert-o.Invert) > 0.001:
		return []string{name, "finished " + word + h.level(o.Invert), "was " + h.level(was.Invert)}
	}
	return []string{name, word + h.level(o.Invert) + ", stays"}
}

// level writes an elevation; in US units with as many decimals as tell eighths of an inch apart.
func (h *sheets) level(z float64) string { return h.u.SayElevation(z) }

// arrows puts an arrow with the rate of the finished surface on each new plane.
func (h *sheets) arrows(c *drawing.Canvas) {
	if h.design == nil {
		return
	}
	order := make([]int, 0, len(h.TakeOff.Fields))
	for i := range h.TakeOff.Fields {
		if h.TakeOff.Fields[i].Use != takeoff.Fill {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return int(math.Copysign(1, h.TakeOff.Fields[b].Area-h.TakeOff.Fields[a].Area))
	})
	for _, i := range order[:min(most, len(order))] {
		f := &h.design.Facets[h.TakeOff.Fields[i].Facet]
		if c.Size(1)*c.Size(1)*f.Area < 60 {
			break
		}
		g := math.Sqrt(float64(f.DX*f.DX) + float64(f.DY*f.DY))
		c.Arrow(orb.MultiPolygon{f.Polygon}, orb.Point{f.DX, f.DY}, fmt.Sprintf("P%d  %s", i+1, c.Rate(g)))
	}
}

// cornerLabels writes number and thickness at the corners of planes.
func (h *sheets) cornerLabels(c *drawing.Canvas) {
	drawn := false
	n := 0
	for i := range h.corners {
		if !c.InView(h.corners[i].plan) || n == most {
			continue
		}
		n++
		drawn = c.Near(h.corners[i].plan, h.cornerText(i)) || drawn
	}
	if drawn {
		c.Key("corner: number, thickness", func(l *scene.Layer, r scene.Rect) {
			l.Add(scene.Shape{Paths: [][]scene.Point{disc(scene.Point{X: r.X + r.W/2, Y: r.Y + r.H/2}, 0.4)}, Closed: true, Fill: palette.Ink})
		})
	}
}

// disc returns a small regular polygon.
func disc(c scene.Point, r float64) []scene.Point {
	const k = 0.7071
	return []scene.Point{
		{X: c.X + r, Y: c.Y},
		{X: c.X + k*r, Y: c.Y + k*r},
		{X: c.X, Y: c.Y + r},
		{X: c.X - k*r, Y: c.Y + k*r},
		{X: c.X - r, Y: c.Y},
		{X: c.X - k*r, Y: c.Y - k*r},
		{X: c.X, Y: c.Y - r},
		{X: c.X + k*r, Y: c.Y - k*r},
	}
}

func (h *sheets) cornerText(i int) string {
	return fmt.Sprintf("%d: %s", i+1, strings.Replace(h.thickness(h.corners[i].thickness), "less than ", "<", 1))
}

// thickness writes a thickness; a cut says so.
func (h *sheets) thickness(t float64) string {
	switch {
	case math.Abs(t) < 0.0005:
		return "0"
	case t < 0:
		return h.u.SayDepth(-t) + " cut"
	}
	return h.u.SayDepth(t)
}

// lineLabels writes the slope of valleys, ridges and hips on the longest of them.
func (h *sheets) lineLabels(c *drawing.Canvas) {
	if h.design == nil {
		return
	}
	for i := range h.design.Lines {
		l := &h.design.Lines[i]
		kind := h.kindOfLine(l)
		if ends := h.plan2(l.A, l.B); kind == "" || !c.InView(ends[0]) && !c.InView(ends[1]) {
			continue
		}
		text := kind + " " + c.Rate(l.Slope)
		if l.Slope < 1e-6 {
			text = kind + ", level"
		}
		c.Along(h.plan2(l.A, l.B), text, 26)
	}
}

func (h *sheets) curbLabels(c *drawing.Canvas) {
	for i := range h.Book.Study.Roof.Curbs {
		b := &h.Book.Study.Roof.Curbs[i]
		if b.Label == "" || len(b.Ring) < 3 {
			continue
		}
		ring := make(orb.Ring, len(b.Ring))
		for k := range ring {
			ring[k] = b.Ring[k].Plan
		}
		at, _ := planar.CentroidArea(orb.Polygon{ring})
		if !c.InView(at) {
			continue
		}
		if !c.Within([]orb.Point{at}, b.Label) {
			c.Label(at, 1, b.Label)
		}
	}
}

// courseLabels writes the two thicknesses of the boards, and the fill under them, on a piece of each course where there is room.
func (h *sheets) courseLabels(c *drawing.Canvas) {
	b := h.TakeOff.Boards
	if b == nil {
		return
	}
	type key struct{ field, course int }
	done, drawn := map[key]bool{}, false
	for i := range b.Pieces {
		k := key{b.Pieces[i].Field, b.Pieces[i].Course}
		if done[k] {
			continue
		}
		done[k] = true
		var places []orb.Point
		for n := i; n < len(b.Pieces) && b.Pieces[n].Field == k.field && b.Pieces[n].Course == k.course; n++ {
			if b.Pieces[n].Area > 0.5*float64(b.Stock.Length)*float64(b.Stock.Width) {
				at, _ := planar.CentroidArea(b.Pieces[n].Plan)
				places = append(places, at)
			}
		}
		drawn = c.Within(middleFirst(places), h.pieceText(&b.Pieces[i])) || drawn
	}
	if drawn {
		c.Key("board by its edges + fill", func(l *scene.Layer, r scene.Rect) { l.Box(r, laidOf, palette.Level, 0.1) })
	}
}

// middleFirst orders places from the middle one outward.
func middleFirst(p []orb.Point) []orb.Point {
	out := make([]orb.Point, 0, len(p))
	for k := range p {
		i := len(p)/2 + (k+1)/2
		if k%2 == 1 {
			i = len(p)/2 - (k+1)/2
		}
		if i >= 0 && i < len(p) {
			out = append(out, p[i])
		}
	}
	if len(p)%2 == 0 && len(p) > 0 && len(out) < len(p) {
		out = append(out, p[0])
	}
	return out
}

// kindText names a board by its two thicknesses.
func (h *sheets) kindText(k board.Kind) string {
	if k.Flat() {
		return h.u.SayDepth(k.Thin) + " flat"
	}
	return h.u.SayDepth(k.Thin) + " to " + h.u.SayDepth(k.Thick)
}

func (h *sheets) pieceText(p *board.Piece) string {
	text := strings.NewReplacer(" to ", "–", " flat", "").Replace(h.kindText(p.Kind))
	for _, f := range p.Fill {
		text += " + " + h.u.SayDepth(f)
	}
	return text
}

// sentence says what the option takes, in one.
func (h *sheets) sentence() string {
	t := h.TakeOff
	if h.design == nil || t.Area == 0 {
		return "The surface of the roof stays as it is."
	}
	text := h.u.SaySolid(t.Volume) + " of insulation over " + h.u.SayArea(t.Area) + ", " + h.u.SayDepth(t.Average) + " thick on average and " + h.u.SayDepth(t.Greatest) + " at most."
	if t.Volume < 1e-6 {
		text = "No insulation is added."
	}
	if t.Cut > 1e-6 {
		text += " " + h.u.SaySolid(t.Cut) + " are taken out."
	}
	return text
}

// panel returns the texts beside the plan.
func (h *sheets) panel() []drawing.Section {
	do := drawing.Section{Title: "What is done"}
	for i := range h.option.Changes {
		do.Texts = append(do.Texts, h.u.SayText(h.option.Changes[i].What)+".")
	}
	var limits drawing.Section
	limits.Title = "Limits broken or not known"
	for _, l := range h.option.Limits {
		limits.Texts = append(limits.Texts, "Broken: "+h.limitText(&l)+".")
	}
	for _, l := range h.option.Unknown {
		limits.Texts = append(limits.Texts, "Not known: "+h.limitText(&l)+".")
	}
	var out []drawing.Section
	for _, s := range []drawing.Section{do, limits} {
		if len(s.Texts) > 0 {
			out = append(out, s)
		}
	}
	return out
}

func (h *sheets) limitText(l *correction.Limit) string {
	text := l.Name
	if l.Where != "" {
		text += " at " + l.Where
	}
	if l.Required.Name != "" {
		text += ", " + l.Required.Name + " " + h.u.Say(l.Required)
	}
	if l.Available.Name != "" {
		text += ", " + l.Available.Name + " " + h.u.Say(l.Available)
	}
	return text
}
