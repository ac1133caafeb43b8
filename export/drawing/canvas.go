package drawing

import (
	"cmp"
	"fmt"

	"github.com/paulmach/orb"

	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/sheet"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
	"runnel/export/record"
)

// Canvas is a sheet with the roof's outline, curbs and furniture, on which others draw what their plan shows: labels find
// room as on the roof plan. Draw lines and areas first, then labels, the most important first, then the panel.
type Canvas struct {
	Rest string // where the texts stand for which the panel has no room; empty: on the sheets that follow

	p     *plan
	rows  []KeyRow
	found bool // it shows what stands, nothing that is to be built
}

// KeyRow is one symbol of a canvas and what it means.
type KeyRow struct {
	Meaning string
	Draw    func(l *scene.Layer, r scene.Rect)
}

// NewCanvas lays the sheet out and draws curbs, edges and furniture. layers are the names of those that come between the curbs and the
// edges, the lowest first.
func NewCanvas(b *record.Book, o Options, title string, layers ...string) (*Canvas, error) {
	c, err := newCanvas(b, o, title, newView(b.Study.Roof), layers)
	if err != nil {
		return nil, err
	}
	c.p.furniture()
	return c, nil
}

// NewPictureCanvas returns a canvas for a picture of the roof in w by h mm at most, without words about it.
func NewPictureCanvas(b *record.Book, w, h float64) *Canvas {
	return &Canvas{p: newPicture(b, w, h, roomSide, roomTop)}
}

func newCanvas(b *record.Book, o Options, title string, v *view, layers []string) (*Canvas, error) {
	p := &plan{b: b, s: b.Study, u: b.Units, o: o, em: labelSizes[0], v: v, keyed: map[string]bool{}}
	if p.o.Sheet.W == 0 {
		p.o.Sheet = sheet.UsualFor(p.u)
	}
	if err := p.layOut(); err != nil {
		return nil, err
	}
	p.scene.Title = typeface.Clean(title)
	for _, name := range append(append([]string{}, layers...), "curbs", "edges", "lines", "leaders", "symbols", "labels", "frame", "key", "texts") {
		p.scene.Layer(name)
	}
	p.curbs()
	p.edges()
	return &Canvas{p: p}, nil
}

// AsFound says that the sheet shows a roof as it stands and nothing that is to be built.
func (c *Canvas) AsFound() { c.found = true }

// InView reports whether a place lies in the part of the sheet that shows the roof.
func (c *Canvas) InView(at orb.Point) bool {
	q := c.p.v.point(at)
	f := c.p.field
	return q.X > f.X && q.X < f.X+f.W && q.Y > f.Y && q.Y < f.Y+f.H-northH
}

// Clip cuts what layers hold off at the border of the part of the sheet that shows the roof.
func (c *Canvas) Clip(layers ...string) {
	room := c.p.field
	room.H -= northH
	for _, name := range layers {
		l := c.p.layer(name)
		var kept []scene.Shape
		for _, s := range l.Shapes {
			kept = append(kept, scene.Clip(s, room)...)
		}
		l.Shapes = kept
	}
}

// Scene returns the sheet.
func (c *Canvas) Scene() *scene.Scene { return c.p.scene }

// Layer returns a layer by its name.
func (c *Canvas) Layer(name string) *scene.Layer { return c.p.layer(name) }

// Line returns a line of the roof on the sheet.
func (c *Canvas) Line(line []orb.Point) []scene.Point { return c.p.v.line(line) }

// Rings returns areas of the roof on the sheet.
func (c *Canvas) Rings(m orb.MultiPolygon) [][]scene.Point { return c.p.v.rings(m) }

// Size returns how long a length of the roof is on the sheet [mm].
func (c *Canvas) Size(metres float64) float64 { return metres * c.p.v.k }

// Avoid asks labels to keep off a line where they can.
func (c *Canvas) Avoid(line []scene.Point) { c.p.Avoid(line) }

// Outlet draws the symbol of an outlet.
func (c *Canvas) Outlet(o *surface.Outlet) {
	at := c.p.v.point(o.Plan)
	c.p.uses(outletName(o))
	outletSymbol(c.p.layer("symbols"), o, at)
	c.p.Take(square(at, outletHalf+0.2))
	c.p.Marks = append(c.p.Marks, at)
}

// Label puts lines beside a place, the first one bold; half is half the size of what stands there [mm]. What finds no room is listed in
// the panel.
func (c *Canvas) Label(at orb.Point, half float64, lines ...string) {
	clean := gather.Each(lines, typeface.Clean)
	c.p.put(c.p.v.point(at), half, clean...)
}

// Near puts a short text close to a place, with a dot at it; it reports whether there was room.
func (c *Canvas) Near(at orb.Point, s string) bool {
	p := c.p
	q := p.v.point(at)
	if p.hidden(q) {
		return false
	}
	s = typeface.Clean(s)
	found, ok := p.Beside(q, 0.5, scene.Hundredth(typeface.Width(s, p.em, false)+0.6), scene.Hundredth(p.em*1.1))
	if !ok {
		return false
	}
	p.leader(found)
	p.write(found.Box, s, palette.Ink, false)
	p.layer("symbols").Add(scene.Shape{Paths: [][]scene.Point{scene.Circle(q, 0.4)}, Closed: true, Fill: palette.Ink})
	return true
}

// hidden reports whether a place lies under a label, which is no outlet.
func (p *plan) hidden(q scene.Point) bool {
	for _, m := range p.Marks {
		if scene.Distance(m, q) < outletHalf {
			return false
		}
	}
	for i := range p.Taken {
		if r := p.Taken[i]; q.X > r.X && q.X < r.X+r.W && q.Y > r.Y && q.Y < r.Y+r.H {
			return true
		}
	}
	return false
}

// Along puts a short text on a line that is at least that long on the sheet [mm].
func (c *Canvas) Along(line []orb.Point, s string, least float64) {
	c.p.along(c.p.v.line(line), typeface.Clean(s), palette.Ink, least)
}

// Within puts a short text over one of several places where it hides none of the roof's edge; it reports whether there was room.
func (c *Canvas) Within(places []orb.Point, s string) bool {
	p := c.p
	s = typeface.Clean(s)
	centres := gather.Each(places, p.v.point)
	r, ok := p.Over(centres, typeface.Width(s, p.em, false)+0.6, p.em*1.1, p.v.positions(p.s.Roof.Outline.Rings[0])...)
	if ok {
		p.write(r, s, palette.Ink, false)
	}
	return ok
}

// Arrow puts an arrow that points against the gradient, with a text under it, on an area; it reports whether there was room.
func (c *Canvas) Arrow(area orb.MultiPolygon, uphill orb.Point, s string) bool {
	p := c.p
	d := scene.Point{}
	if n := vector.Norm(uphill[0], uphill[1]); n > 0 {
		d = p.v.way(-uphill[0]/n, -uphill[1]/n)
	}
	return p.arrowOn(area, d, s, p.v.positions(p.s.Roof.Outline.Rings[0]))
}

// Hatch fills areas with lines, step apart [mm].
func Hatch(l *scene.Layer, rings [][]scene.Point, step float64, colour string) {
	l.Add(scene.Shape{Paths: scene.Hatch(rings, step), Stroke: colour, Width: 0.12})
}

// Tint mixes a colour with white; share is that of the colour.
func Tint(colour string, share float64) string { return palette.Tint(colour, share) }

// Key adds a row to the key.
func (c *Canvas) Key(meaning string, draw func(l *scene.Layer, r scene.Rect)) {
	c.rows = append(c.rows, KeyRow{meaning, draw})
}

// Uses adds the row of a symbol of the roof plan to the key, by its name there.
func (c *Canvas) Uses(symbol string) { c.p.uses(symbol) }

// Stroke returns a sample of a line for the key.
func Stroke(colour string, width float64, dash []float64) func(*scene.Layer, scene.Rect) {
	return stroke(colour, width, dash)
}

// ValleyDash returns the strokes of valleys.
func ValleyDash() []float64 { return valleyDash }

// RidgeDash returns the strokes of ridges and hips.
func RidgeDash() []float64 { return ridgeDash }

// Rate writes a slope as it stands beside an arrow.
func (c *Canvas) Rate(slope float64) string { return c.p.rate(slope) }

// Panel fills the panel: a title, a sentence, and sections of texts as far as there is room, then key, title block, status and
// cautions. state says what the sheet shows.
func (c *Canvas) Panel(title, sentence, state string, sections []Section) {
	upper, lower := c.p.fitted(func(l *column) { c.lower(l, state) }, func(u *column) bool { return c.upper(u, title, sentence, sections) })
	c.upper(&upper, title, sentence, sections)
	c.lower(&lower, state)
}

// Section is a heading with texts.
type Section struct {
	Title string
	Texts []string
}

// upper writes the texts and reports whether all had room.
func (c *Canvas) upper(u *column, title, sentence string, sections []Section) bool {
	p := c.p
	u.lines(typeface.Wrap(typeface.Clean(title), 4.2, u.room.W, true), 4.2, 0, true)
	u.y += 0.6
	u.paragraph(sentence, p.textEm+0.3, true)
	if first, ok := p.b.KeepOff(); ok {
		u.y += 0.6
		u.first(first.Say(), p.textEm)
	}
	if len(p.left) > 0 {
		s := Section{Title: listTitle}
		for i := range p.left {
			s.Texts = append(s.Texts, fmt.Sprintf("L%d  %s", i+1, p.left[i]))
		}
		sections = append([]Section{s}, sections...)
	}
	for _, s := range sections {
		if u.left() < 3*p.textEm*leading+2 {
			return false
		}
		u.heading(s.Title)
		for i, t := range s.Texts {
			lines := typeface.Wrap(typeface.Clean(t), p.textEm, u.room.W, false)
			if u.left() < float64(len(lines)+1)*p.textEm*leading && (i < len(s.Texts)-1 || u.left() < float64(len(lines))*p.textEm*leading) {
				u.lines([]string{fmt.Sprintf("and %d more ", len(s.Texts)-i) + cmp.Or(c.Rest, "on the sheets that follow")}, p.textEm, 0, true)
				return false
			}
			u.lines(lines, p.textEm, 0, false)
			u.y += 0.4
		}
	}
	return true
}

func (c *Canvas) lower(l *column, state string) {
	p := c.p
	for i := range c.rows {
		p.uses(c.rows[i].Meaning)
	}
	p.extra = c.rows
	p.key(l)
	p.block(l, "", state)
	p.cautions(l, !c.found, p.smallEm())
}
