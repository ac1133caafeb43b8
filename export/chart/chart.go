// Package chart draws one quantity against another as a scene: axes with their units, lines that differ by stroke as well as by
// colour, and what hangs from the top, as rain does over the flow that it makes.
//
// Values are in the reader's units. What the chart shows stands in words beside it, for who cannot see it.
package chart

import (
	"math"
	"strconv"

	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
)

// Chart is one chart.
type Chart struct {
	Name  string // of its layer, lower case without blanks; every chart of a page has its own
	Words string // what it shows
	X, Y  Axis   // both begin at zero
	Lines []Line
	Top   *Steps // hangs from the top; nil: nothing
}

// Axis is the scale of a quantity.
type Axis struct {
	Label string  // with its unit
	Most  float64 // end of the axis
	Step  float64 // from tick to tick
}

// Line is one line, in the order of the key. Lines of the same Stroke look alike on all charts: 0 whole, 1 dashed, 2 dotted.
type Line struct {
	Name   string
	Stroke int
	X, Y   []float64
}

// Steps is a rate that is constant between moments: Rate[i] from Time[i] to Time[i+1], in the unit of the axis.
type Steps struct {
	Name       string // with its greatest value and unit
	Time, Rate []float64
}

// Sizes [mm].
const (
	em     = 3.0
	left   = 17.0 // of the plot: ticks and the axis' label
	right  = 6.0
	keyH   = 6.0
	topH   = 10.0 // of what hangs from the top
	bottom = 12.0
	apart  = 0.12 // points nearer than this are drawn once
)

const grid = "#D5D3DC"

// strokes tell lines apart without colour.
var strokes = []struct {
	colour string
	width  float64
	dash   []float64
}{{palette.Water, 0.7, nil}, {palette.Urgent, 0.55, []float64{2.4, 1.3}}, {palette.Primary, 0.55, []float64{0.5, 1.2}}}

// Scale returns an axis that holds values up to most in about five steps of 1, 2 or 5 tens.
func Scale(label string, most float64) Axis {
	if !(most > 0) || math.IsInf(most, 1) {
		return Axis{label, 1, 1}
	}
	unit := 1.0
	for unit*10 <= most {
		unit *= 10
	}
	for unit > most {
		unit /= 10
	}
	step := unit / 5
	for _, k := range []float64{0.5, 1, 2} {
		if step*5 < most {
			step = unit * k
		}
	}
	return Axis{label, math.Ceil(most/step-1e-9) * step, step}
}

// plot is a chart being drawn.
type plot struct {
	*Chart
	l    *scene.Layer
	room scene.Rect // of the lines
}

// Draw draws the chart that wide and high [mm]; it is higher by each row of the key after the first, where one row does not hold it.
func (c *Chart) Draw(w, h float64) *scene.Scene {
	s := &scene.Scene{Width: w, Height: h, Title: typeface.Clean(c.Words)}
	p := &plot{Chart: c, l: s.Layer(c.Name)}
	p.room = scene.Rect{X: left, Y: keyH, W: w - left - right, H: h - keyH - bottom}
	more := keyH * float64(p.rows()-1)
	p.room.Y += more
	s.Height = hundredth(h + more)
	p.key()
	p.axes()
	p.hang()
	for i := range c.Lines {
		p.line(i)
	}
	p.l.Box(p.room, "", palette.Ink, 0.3)
	return s
}

func hundredth(v float64) float64 { return math.Round(v*100) / 100 }

func (p *plot) at(x, y float64) scene.Point {
	return scene.Point{
		X: hundredth(p.room.X + float64(p.room.W*min(1, x/p.X.Most))),
		Y: hundredth(p.room.Y + p.room.H - float64(p.lines()*min(1, y/p.Y.Most))),
	}
}

// lines is the height that the lines have: what hangs from the top has its own.
func (p *plot) lines() float64 {
	if p.Top != nil {
		return p.room.H - topH
	}
	return p.room.H
}

func (p *plot) text(x, y float64, s string, anchor scene.Anchor, turned bool) {
	p.l.Texts = append(p.l.Texts, scene.Text{
		At: scene.Point{X: hundredth(x), Y: hundredth(y)}, String: s, Size: em, Width: hundredth(typeface.Width(s, em, false)), Anchor: anchor, Colour: palette.Ink, Turned: turned,
	})
}

// Room of the key [mm]: a piece of a line with the gap behind it, the box of what hangs from the top, and between two names.
const (
	pieceW  = 10.5
	boxW    = 6.5
	between = 6.0
)

// keyed is where one name of the key stands.
type keyed struct {
	x, y float64
	name string
}

// keys places the names of the lines, and last of what hangs from the top, in as many rows as they need.
func (p *plot) keys() []keyed {
	var out []keyed
	x, y := p.room.X, keyH-2.6
	add := func(before float64, name string) {
		name = typeface.Clean(name)
		w := before + hundredth(typeface.Width(name, em, false))
		if x > p.room.X && x+w > p.room.X+p.room.W {
			x, y = p.room.X, y+keyH
		}
		out = append(out, keyed{x, y, name})
		x += w + between
	}
	for i := range p.Lines {
		add(pieceW, p.Lines[i].Name)
	}
	if p.Top != nil {
		add(boxW, p.Top.Name)
	}
	return out
}

func (p *plot) rows() int {
	keys := p.keys()
	if len(keys) == 0 {
		return 1
	}
	return 1 + int(math.Round((keys[len(keys)-1].y-keys[0].y)/keyH))
}

// key names the lines over the plot, each behind a piece of itself.
func (p *plot) key() {
	for i, k := range p.keys() {
		if i == len(p.Lines) {
			p.l.Box(scene.Rect{X: hundredth(k.x), Y: hundredth(k.y - 1.3), W: 5, H: 2.6}, grey, palette.Ink, 0.15)
			p.text(k.x+boxW, k.y+1, k.name, scene.Start, false)
			continue
		}
		s := strokes[p.Lines[i].Stroke%len(strokes)]
		p.l.Line(s.colour, s.width, s.dash, scene.Point{X: hundredth(k.x), Y: hundredth(k.y)}, scene.Point{X: hundredth(k.x + 9), Y: hundredth(k.y)})
		p.text(k.x+pieceW, k.y+1, k.name, scene.Start, false)
	}
}

// grey fills what hangs from the top.
const grey = "#A9B3D0"

// axes draws the ticks with their lines over the plot, and the labels.
func (p *plot) axes() {
	foot := p.room.Y + p.room.H
	for i := 0; float64(i)*p.X.Step <= p.X.Most*1.0001; i++ {
		v := float64(i) * p.X.Step
		at := p.at(v, 0)
		p.l.Line(grid, 0.2, nil, at, scene.Point{X: at.X, Y: p.room.Y})
		p.text(at.X, foot+4, number(v), scene.Middle, false)
	}
	for i := 0; float64(i)*p.Y.Step <= p.Y.Most*1.0001; i++ {
		v := float64(i) * p.Y.Step
		at := p.at(0, v)
		p.l.Line(grid, 0.2, nil, at, scene.Point{X: p.room.X + p.room.W, Y: at.Y})
		p.text(at.X-1.5, at.Y+1, number(v), scene.End, false)
	}
	p.text(p.room.X+p.room.W/2, foot+9, p.X.Label, scene.Middle, false)
	p.text(4, foot-p.lines()/2, p.Y.Label, scene.Middle, true)
}

// number writes a tick: steps of tens leave no more than six digits.
func number(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

// hang draws the steps downward from the top, as deep as their rate is of the greatest.
func (p *plot) hang() {
	if p.Top == nil {
		return
	}
	most := 0.0
	for _, r := range p.Top.Rate {
		most = max(most, r)
	}
	if most <= 0 {
		return
	}
	top := p.room.Y
	path := []scene.Point{{X: p.at(p.Top.Time[0], 0).X, Y: top}}
	for i, r := range p.Top.Rate {
		y := hundredth(top + float64((topH-2)*(r/most)))
		path = append(path, scene.Point{X: p.at(p.Top.Time[i], 0).X, Y: y}, scene.Point{X: p.at(p.Top.Time[i+1], 0).X, Y: y})
	}
	path = append(path, scene.Point{X: path[len(path)-1].X, Y: top})
	p.l.Add(scene.Shape{Paths: [][]scene.Point{path}, Closed: true, Fill: grey, Stroke: palette.Ink, Width: 0.15})
}

// line draws line i without points that cannot be told apart.
func (p *plot) line(i int) {
	var path []scene.Point
	of := &p.Lines[i]
	for k := range of.X {
		if of.X[k] > p.X.Most {
			break
		}
		at := p.at(of.X[k], of.Y[k])
		if n := len(path); n > 0 && k < len(of.X)-1 && math.Abs(at.X-path[n-1].X) < apart && math.Abs(at.Y-path[n-1].Y) < apart {
			continue
		}
		path = append(path, at)
	}
	if len(path) < 2 {
		return
	}
	k := strokes[of.Stroke%len(strokes)]
	p.l.Line(k.colour, k.width, k.dash, path...)
}
