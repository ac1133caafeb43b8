package layout

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/takeoff"
	proposal "runnel/export/correction"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/palette"
	"runnel/export/record"
)

// Line types and fills of the layout.
var (
	cutDash     = []float64{4, 0.8, 0.8, 0.8, 0.8, 0.8}
	sectionDash = []float64{6, 1.2, 1, 1.2}
	measuredOf  = drawing.Tint(palette.Repair, 0.22)
	cutOf       = drawing.Tint(palette.Urgent, 0.14)
	stripOf     = drawing.Tint(palette.Note, 0.45)
	laidOf      = drawing.Tint(palette.Gather, 0.07)
	pondOf      = drawing.Tint(palette.Water, 0.15)
)

// most is how many of each kind of label the layout gets.
const most = 60

// layers are those of the layout under curbs and edges.
var layers = []string{"areas", "boards", "sections"}

// plan draws the layout sheet, the second of so many.
func (h *sheets) plan(of int) (*scene.Scene, error) {
	c, err := drawing.NewCanvas(h.Book, h.Plan, h.title(), layers...)
	if err != nil {
		return nil, err
	}
	h.draw(c)
	c.Panel(h.title(), h.sentence(), fmt.Sprintf("layout of the correction, 2 of %d", of), h.panel())
	return c.Scene(), nil
}

// draw draws lines and areas, then symbols, then labels, the most important first.
func (h *sheets) draw(c *drawing.Canvas) {
	h.ponds(c)
	h.areas(c)
	h.lines(c)
	h.lowPlaces(c)
	h.overflowPlaces(c)
	h.sectionLines(c)
	c.Clip(append([]string{"curbs", "edges", "lines"}, layers...)...)
	for i := range h.outlets() {
		if o := &h.outlets()[i]; o.Type != roof.EdgeOutlet && c.InView(o.Plan) {
			c.Outlet(o)
		}
	}
	h.changeLabels(c)
	h.outletLabels(c)
	h.pondLabels(c)
	h.lowLabels(c)
	h.arrows(c)
	h.curbLabels(c)
	h.cornerLabels(c)
	h.lineLabels(c)
	h.courseLabels(c)
}

// title names the roof and the answer that is drawn.
func (h *sheets) title() string {
	if a := h.answer(); a != nil {
		title := proposal.Title(h.Book, a.Name)
		return h.Book.Study.Roof.Name + ": " + record.Small(title)
	}
	return h.Book.Study.Roof.Name + ": " + h.Name
}

// areas draws boards, strips and what is cut to measure.
func (h *sheets) areas(c *drawing.Canvas) {
	if h.design == nil {
		return
	}
	l, built, cut := c.Layer("areas"), false, false
	for i := range h.TakeOff.Fields {
		f := &h.TakeOff.Fields[i]
		rings := c.Rings(orb.MultiPolygon{h.design.Facets[f.Facet].Polygon})
		if f.Laid {
			l.Add(scene.Shape{Paths: rings, Closed: true, Fill: stripOf}) // what boards leave free of it is strip
			continue
		}
		if f.Volume < nought && f.Cut < nought {
			continue
		}
		fill := fillOf(f)
		l.Add(scene.Shape{Paths: rings, Closed: true, Fill: fill})
		if fill == measuredOf {
			built = true
			drawing.Hatch(l, rings, 2.4, palette.Repair)
		} else {
			cut = true
		}
	}
	if built {
		c.Key("built up or cut to measure", func(l *scene.Layer, r scene.Rect) {
			l.Box(r, measuredOf, "", 0)
			drawing.Hatch(l, [][]scene.Point{r.Corners()}, 2.4, palette.Repair)
		})
	}
	if cut {
		c.Key("taken off or cut down", func(l *scene.Layer, r scene.Rect) { l.Box(r, cutOf, palette.Level, 0.1) })
	}
	if len(h.TakeOff.Strips) > 0 {
		c.Key("tapered edge strip", func(l *scene.Layer, r scene.Rect) { l.Box(r, stripOf, palette.Level, 0.1) })
	}
	h.boards(c)
}

// fillOf is the colour of a field that is not laid in boards: of what is built up, or of what is only cut.
func fillOf(f *takeoff.Field) string { return choose.If(f.Volume < nought, cutOf, measuredOf) }

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
		c.Key("new work joins old flush", drawing.Stroke(palette.Urgent, 0.6, cutDash))
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
		half := choose.If(o.Type == roof.EdgeOutlet, 1, 1.7)
		c.Label(o.Plan, half, h.outletLines(o)...)
	}
}

func (h *sheets) outletLines(o *surface.Outlet) []string {
	name := o.Label
	if o.Duty == roof.Overflow && !strings.Contains(name, "overflow") {
		name += "  overflow"
	}
	was := h.before(o)
	word := choose.If(o.Type == roof.EdgeOutlet, "lowest ", "invert ")
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
		if !h.TakeOff.Fields[i].Mesh {
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
		g := vector.Norm(f.DX, f.DY)
		c.Arrow(orb.MultiPolygon{f.Polygon}, orb.Point{f.DX, f.DY}, fieldName(i)+"  "+c.Rate(g))
	}
}

// sentence says what the option takes, in one.
func (h *sheets) sentence() string {
	t := h.TakeOff
	if h.design == nil || t.Area == 0 {
		return "The surface of the roof stays as it is."
	}
	text := h.u.SaySolid(t.Volume) + " of insulation over " + h.u.SayArea(t.Covered) + ", " + h.u.SayDepth(t.Average) + " thick on average and " + h.u.SayDepth(t.Greatest) + " at the thickest place."
	if t.Volume < 1e-6 {
		text = "No insulation is added."
	}
	if t.Cut > 1e-6 {
		text += " " + sentence(h.u.SaySolid(t.Cut)+" of what is there comes out")
	}
	return text
}

// panel returns the texts beside the plan: which number stands for what, as on the first sheet.
func (h *sheets) panel() []drawing.Section {
	do := drawing.Section{Title: "Numbers of the first sheet"}
	for i := range h.option.Changes {
		do.Texts = append(do.Texts, fmt.Sprintf("%s: %s", h.changeName(i), h.option.Changes[i].Phrase()))
	}
	if len(do.Texts) == 0 {
		return nil
	}
	return []drawing.Section{do}
}

// changeName names a change by its number on the first sheet, and its pond.
func (h *sheets) changeName(i int) string {
	text := fmt.Sprintf("no. %d", i+1)
	if p := h.option.Changes[i].Pond; p != "" {
		text += " at " + p
	}
	return text
}

// changeLabels writes the numbers of the first sheet where the changes are made.
func (h *sheets) changeLabels(c *drawing.Canvas) {
	const one = 0.5 // [m]
	done := make([]bool, len(h.option.Changes))
	for i := range h.option.Changes {
		x := &h.option.Changes[i]
		if done[i] || x.At == (orb.Point{}) || x.Kind == mend.Clear || !c.InView(x.At) {
			continue
		}
		text := fmt.Sprintf("no. %d", i+1)
		for k := i + 1; k < len(done); k++ { // those of one place stand in one label
			if y := &h.option.Changes[k]; y.At != (orb.Point{}) && vector.Distance(x.At, y.At) < one {
				done[k] = true
				text += fmt.Sprintf(", %d", k+1)
			}
		}
		c.Label(x.At, 1, text)
	}
}

// ponds draws the outlines of the ponds as found, and names them where boards do not cover the whole roof.
func (h *sheets) ponds(c *drawing.Canvas) {
	s := h.Book.Study
	if len(s.Listed) == 0 || h.option.Gauge != "" {
		return
	}
	l := c.Layer("areas")
	for i := range s.Listed {
		l.Add(scene.Shape{Paths: c.Rings(s.Ponds.Outline(s.Listed[i].Pond)), Closed: true, Fill: pondOf, Stroke: palette.Water, Width: 0.25})
	}
	c.Key("pond as found", func(l *scene.Layer, r scene.Rect) { l.Box(r, pondOf, palette.Water, 0.25) })
}

// pondLabels names the ponds as found.
func (h *sheets) pondLabels(c *drawing.Canvas) {
	s := h.Book.Study
	if h.option.Gauge != "" {
		return
	}
	for i := range s.Listed {
		v := s.Ponds.Ponds[s.Listed[i].Pond].Pits[0]
		if at := (orb.Point{s.Surface.Cut.X[v], s.Surface.Cut.Y[v]}); c.InView(at) {
			c.Label(at, 1, s.Listed[i].ID)
		}
	}
}
