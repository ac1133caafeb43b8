package drawing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/gather"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
	"runnel/export/record"
)

// mostClasses is how many classes of depth the greatest water is hatched in.
const mostClasses = 4

// flooded is a class of depth of the greatest water.
type flooded struct {
	name     string
	from, to float64 // [m]
	areas    []orb.MultiPolygon
	step     float64 // between hatching lines [mm]: the deeper, the closer
}

// classes gathers the bands of the greatest water.
func (p *plan) classes() []flooded {
	w := p.b.DesignWater()
	if w == nil || len(w.Bands) == 0 {
		return nil
	}
	each := (len(w.Bands) + mostClasses - 1) / mostClasses
	var out []flooded
	for i := range w.Bands {
		b := &w.Bands[i]
		if i%each == 0 {
			k := len(out) + 1
			out = append(out, flooded{name: fmt.Sprintf("flood-%d", k), from: b.From, step: scene.Hundredth(6 / float64(k))})
		}
		c := &out[len(out)-1]
		c.to, c.areas = b.To, append(c.areas, b.Outline)
	}
	return out
}

// flood hatches the greatest water by depth, marks where it is deepest, and the sills.
func (p *plan) flood() {
	l := p.layer("flood")
	for _, c := range p.classes() {
		p.uses(c.name)
		var rings [][]scene.Point
		for _, a := range c.areas {
			rings = append(rings, p.area(a)...)
		}
		drawFlood(l, rings, c.step)
	}
}

func drawFlood(l *scene.Layer, rings [][]scene.Point, step float64) {
	l.Add(scene.Shape{Paths: falling(rings, step), Stroke: palette.Water, Width: 0.1})
	l.Add(scene.Shape{Paths: rings, Closed: true, Stroke: palette.Water, Width: 0.18})
}

// falling returns hatching that falls to the right: that of curbs rises.
func falling(rings [][]scene.Point, step float64) [][]scene.Point {
	out := scene.Hatch(mirrored(rings), step)
	return mirrored(out)
}

func mirrored(paths [][]scene.Point) [][]scene.Point {
	out := make([][]scene.Point, len(paths))
	for i, path := range paths {
		out[i] = gather.Each(path, func(q scene.Point) scene.Point { return scene.Point{X: q.X, Y: -q.Y} })
	}
	return out
}

// deepest marks where the greatest water is deepest; where an outlet stands there, its label says it.
func (p *plan) deepest() {
	w := p.b.DesignWater()
	if w == nil || w.Deepest < 0 || p.deepestOutlet() >= 0 {
		return
	}
	at := p.vertex(w.Deepest)
	p.uses("deepest")
	deepSymbol(p.layer("symbols"), at)
	p.put(at, deepHalf, p.deep(w))
}

// deep says how deep the greatest water is.
func (p *plan) deep(w *record.Water) string {
	return p.u.SayDepth(w.Depth) + " of rain water, " + p.u.SayPressure(w.Load)
}

func (p *plan) vertex(v int32) scene.Point {
	t := p.s.Surface.Cut
	return p.v.point(orb.Point{t.X[v], t.Y[v]})
}

// deepestOutlet returns the outlet at which the greatest water is deepest, -1 where none stands so near that their marks would meet.
func (p *plan) deepestOutlet() int {
	w := p.b.DesignWater()
	if w == nil || w.Deepest < 0 {
		return -1
	}
	best, near := -1, 2*outletHalf
	for i := range p.s.Surface.Outlets {
		o := &p.s.Surface.Outlets[i]
		if d := scene.Distance(p.v.point(o.Plan), p.vertex(w.Deepest)); o.Type != roof.EdgeOutlet && d < near {
			best, near = i, d
		}
	}
	return best
}

// Half sizes of the marks [mm].
const (
	deepHalf = 1.1
	sillHalf = 1.3
)

// deepSymbol is a triangle that points down.
func deepSymbol(l *scene.Layer, at scene.Point) {
	l.Add(scene.Shape{Paths: [][]scene.Point{{
		{X: at.X - deepHalf, Y: at.Y - deepHalf}, {X: at.X + deepHalf, Y: at.Y - deepHalf}, {X: at.X, Y: at.Y + deepHalf},
	}}, Closed: true, Fill: palette.Water, Stroke: "#FFFFFF", Width: 0.3})
}

// sills marks the sills where water is drawn, each with what is left below it in the last case in which water comes to it.
func (p *plan) sills() {
	if p.b.DesignWater() == nil {
		return
	}
	for i := range p.s.Roof.Sills {
		s := &p.s.Roof.Sills[i]
		at := p.v.point(s.Plan)
		p.uses("sill")
		sillSymbol(p.layer("symbols"), at)
		p.Take(square(at, sillHalf))
		name := cmp.Or(s.Label, s.ID)
		lines := []string{typeface.Clean(name) + "  sill " + p.u.SayElevation(s.Z)}
		for k := len(p.s.Sills) - 1; k >= 0; k-- {
			w := &p.s.Sills[k]
			if w.Sill != i {
				continue
			}
			left := choose.If(w.Margin <= 0, "water gets in", p.u.SayDepth(w.Margin)+" over the water")
			rain, blocked, both := strings.Cut("with "+p.s.Cases[w.Case].Name, " and ")
			if lines = append(lines, left, rain); both { // in one line it would be cut
				lines = append(lines, "and "+blocked)
			}
			break
		}
		p.put(at, sillHalf, lines...)
	}
}

// sillSymbol is an open door: a square with its lower side strong.
func sillSymbol(l *scene.Layer, at scene.Point) {
	box := square(at, sillHalf-0.2)
	l.Box(box, "#FFFFFF", palette.Ink, 0.25)
	l.Line(palette.Urgent, 0.7, nil, scene.Point{X: box.X, Y: box.Y + box.H}, scene.Point{X: box.X + box.W, Y: box.Y + box.H})
}

// floodRows are the rows of the key for the greatest water.
func (p *plan) floodRows() []keyRow {
	var rows []keyRow
	classes := p.classes()
	for i, c := range classes {
		depth := p.u.SayDepth(c.from) + " to " + p.u.SayDepth(c.to)
		if i == len(classes)-1 && i > 0 {
			depth = "over " + p.u.SayDepth(c.from)
		}
		rows = append(rows, keyRow{c.name, "in the rain " + depth + " deep", func(l *scene.Layer, r scene.Rect) {
			drawFlood(l, [][]scene.Point{r.Inset(0.3).Corners()}, c.step/2)
		}})
	}
	return append(rows,
		keyRow{"deepest", "deepest water in the rain", func(l *scene.Layer, r scene.Rect) { deepSymbol(l, centre(r)) }},
		keyRow{"sill", "sill: over it water gets in", func(l *scene.Layer, r scene.Rect) { sillSymbol(l, centre(r)) }},
	)
}

// floodNote says under the key what is hatched.
func (p *plan) floodNote() string {
	w := p.b.DesignWater()
	if w == nil || len(w.Bands) == 0 || !slices.ContainsFunc(p.classes(), func(c flooded) bool { return p.keyed[c.name] }) {
		return ""
	}
	rain := "the rain stated for overflows"
	if s := p.s.Storm; s != nil {
		rain = p.u.SayDepth(s.Rain.Depth()) + " of rain"
	}
	return "Hatched: greatest depth under " + rain + " with " + w.Case + ". " + standard.AtLeast
}
