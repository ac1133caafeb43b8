package taped

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/offset"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/analysis/tape"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
	"runnel/export/record"
)

// Plan draws the plan: walls by number, outlets, ponds as chalked, what was read, and the spots to read next. The error is a
// *sheet.FitError where the scale asked for is too large for the sheet.
func Plan(b *Book, o drawing.Options) ([]*scene.Scene, error) {
	c, err := drawing.NewCanvas(b.sheetBook(), o, b.Survey.Roof.Name+", roof plan by tape", "ponds")
	if err != nil {
		return nil, err
	}
	c.AsFound()
	b.drawPonds(c)
	for i := range b.Survey.Exits {
		if e := &b.Survey.Exits[i]; e.Outlet >= 0 {
			c.Outlet(b.outletOf(e))
			c.Label(e.Line[0], 1.7, append([]string{e.Name}, strings.Split(b.Units.SayText(b.Survey.Where(e.Line[0])), ", ")...)...)
		}
	}
	b.drawWalls(c)
	b.drawReadings(c)
	c.Rest = "in the other files" // there is no second sheet
	c.Panel(b.title(), b.Lead().Text, "1 of 1, as taped (tier "+b.Survey.Tier.String()+")", b.sections())
	return []*scene.Scene{c.Scene()}, nil
}

// Picture draws walls, outlets and ponds in w by h mm at most, to be set among texts.
func Picture(b *Book, w, h float64) *scene.Scene {
	c := drawing.NewPictureCanvas(b.sheetBook(), w, h)
	b.drawPonds(c)
	for i := range b.Survey.Exits {
		if e := &b.Survey.Exits[i]; e.Outlet >= 0 {
			c.Outlet(b.outletOf(e))
			c.Label(e.Line[0], 1.7, e.Name)
		}
	}
	b.drawWalls(c)
	return c.Scene()
}

func (b *Book) title() string { return b.Survey.Roof.Name + ": what the tape tells" }

// sheetBook is what the drawing asks of a book: the roof, its outlets and whether to keep off.
func (b *Book) sheetBook() *record.Book {
	s := &study.Study{Roof: b.Survey.Roof, KeepOff: b.Survey.KeepOff, Surface: &surface.Surface{Area: b.Survey.Area}}
	for i := range b.Survey.Exits {
		s.Surface.Outlets = append(s.Surface.Outlets, *b.outletOf(&b.Survey.Exits[i]))
	}
	return &record.Book{Study: s, Names: &record.Names{Roof: record.RoofID(b.Survey.Roof.Name)}, Units: b.Units}
}

func (b *Book) outletOf(e *tape.Exit) *surface.Outlet {
	if e.Outlet < 0 {
		return &surface.Outlet{Type: roof.EdgeOutlet, Edge: e.Edge, Duty: e.Duty, Label: e.Name, Line: e.Line}
	}
	o := &b.Survey.Roof.Outlets[e.Outlet]
	return &surface.Outlet{Type: o.Type, Duty: o.Duty, Label: e.Name, Plan: o.Plan}
}

// mostApart is how far from the middle of a pond its label stands at most [mm].
const mostApart = 12

func (b *Book) drawPonds(c *drawing.Canvas) {
	l := c.Layer("ponds")
	chalk := false
	for i := range b.Survey.Ponds {
		p := &b.Survey.Ponds[i]
		if p.Water == nil {
			continue
		}
		rings := c.Rings(orb.MultiPolygon{{p.Bowl.Ring}})
		l.Add(scene.Shape{Paths: rings, Closed: true, Fill: drawing.Tint(palette.Water, 0.35), Stroke: palette.Water, Width: 0.4})
		chalk = true
		lines := []string{p.ID + "  " + b.Units.SayArea(p.Bowl.Area)}
		if p.Depth > 0 {
			lines = append(lines, b.Units.SayDepth(p.Depth)+" deep where read", b.Units.SayMass(p.WeightLeast)+" to "+b.Units.SayMass(p.WeightMost))
		}
		c.Label(p.At, min(c.Size(math.Sqrt(p.Bowl.Area/math.Pi)), mostApart), lines...)
	}
	if chalk {
		c.Key("water as chalked", func(l *scene.Layer, r scene.Rect) {
			l.Box(r.Inset(0.3), drawing.Tint(palette.Water, 0.35), palette.Water, 0.4)
		})
	}
}

// drawWalls writes the number of each wall beside its middle.
func (b *Book) drawWalls(c *drawing.Canvas) {
	const (
		in     = 4.0 // mm on the sheet
		wallEm = 2.4 // size of labels on a canvas [mm]
	)
	for i := range b.Survey.Walls {
		w := &b.Survey.Walls[i]
		if c.Size(w.Length) < 10 {
			continue
		}
		words := fmt.Sprintf("wall %d, %s, %s", w.Number, offset.Names[w.Faces], b.Units.SayTape(w.Length))
		off := (in + float64(math.Abs(w.In[0])*typeface.Width(words, wallEm, false)/2)) / c.Size(1)
		var places []orb.Point
		for _, t := range []float64{0.5, 0.4, 0.6, 0.3, 0.7} {
			places = append(places, orb.Point{
				w.From[0] + float64((w.To[0]-w.From[0])*t) + float64(w.In[0]*off), w.From[1] + float64((w.To[1]-w.From[1])*t) + float64(w.In[1]*off),
			})
		}
		c.Within(places, words)
	}
}

// drawReadings marks what was read and the spots to read next.
func (b *Book) drawReadings(c *drawing.Canvas) {
	t := b.Survey.Roof.Tape
	for i := range t.Probes {
		q := &t.Probes[i]
		if q.Kind != roof.InletProbe { // the outlet's symbol stands there
			c.Near(q.Plan, map[roof.ProbeKind]string{roof.LowProbe: "low", roof.LipProbe: "lip", roof.BeforeProbe: "before"}[q.Kind])
		}
	}
	for i := range b.Survey.Roof.Cores {
		c.Near(b.Survey.Roof.Cores[i].Plan, "core "+b.Survey.Roof.Cores[i].ID)
	}
	if b.Survey.Grid() {
		return
	}
	for i := range b.Survey.Next {
		c.Near(b.Survey.Next[i].Plan, "X"+strconv.Itoa(i+1))
	}
}

// sections are what the panel says besides the headline.
func (b *Book) sections() []drawing.Section {
	var out []drawing.Section
	if held := b.Held(); held != "" {
		out = append(out, drawing.Section{Title: "Held by", Texts: []string{held}})
	}
	steps := b.Steps()
	if b.Survey.KeepOff.Is() {
		steps = steps[1:] // the panel begins with it
	}
	for i := range steps {
		steps[i] = strconv.Itoa(i+1) + ". " + steps[i]
	}
	out = append(out, drawing.Section{Title: "What to do next", Texts: steps})
	var spots []string
	if !b.Survey.Grid() {
		for i := range b.Survey.Next {
			n := &b.Survey.Next[i]
			spots = append(spots, fmt.Sprintf("X%d  %s: %s", i+1, b.Place(n), b.Units.SayText(n.For)))
		}
	}
	if len(spots) > 0 {
		out = append(out, drawing.Section{Title: "Spots to read next", Texts: spots})
	}
	return append(out, drawing.Section{Title: "Survey", Texts: []string{b.Measured(), "It cannot tell: " + record.Small(b.CannotSay())}})
}
