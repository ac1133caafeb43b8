package drawing

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"runnel/analysis/choose"
	"runnel/export/drawing/scene"
	"runnel/export/palette"
	"runnel/export/record"
)

// furniture draws frame, dimensions, scale bar and north arrow, and keeps labels off them.
func (p *plan) furniture() {
	p.layer("frame").Box(p.field, "", palette.Ink, 0.3)
	p.dimensions()
	p.strip()
}

// strip draws what stands below the plan: scale bar, scale and north arrow.
func (p *plan) strip() {
	strip := scene.Rect{X: p.field.X, Y: p.field.Y + p.field.H - northH, W: p.field.W, H: northH}
	p.Take(strip)
	p.scaleBar(strip.X+6, strip.Y+6.5)
	p.layer("frame").Texts = append(p.layer("frame").Texts, text(scene.Point{X: strip.X + 6, Y: strip.Y + 11.5}, "Scale "+p.scale.Say(p.u)+" on "+p.o.Sheet.Say()+", printed at 100 %, not fitted to the page", p.em, false, scene.Start))
	p.north(scene.Point{X: strip.X + strip.W - 10, Y: strip.Y + northH/2})
}

// dimensions measures the roof from end to end, below it and to its left.
func (p *plan) dimensions() {
	const off, tick = 5.5, 1.2
	l := p.layer("frame")
	w, h := p.v.w*p.v.k, p.v.h*p.v.k
	left, right := scene.Hundredth(p.v.at.X-w/2), scene.Hundredth(p.v.at.X+w/2)
	top, bottom := scene.Hundredth(p.v.at.Y-h/2), scene.Hundredth(p.v.at.Y+h/2)
	y, x := bottom+off, left-off
	measure := func(a, b scene.Point, dx, dy float64) {
		l.Line(palette.Ink, 0.2, nil, a, b)
		for _, q := range [2]scene.Point{a, b} {
			l.Line(palette.Ink, 0.2, nil, scene.Point{X: q.X - dx, Y: q.Y - dy}, scene.Point{X: q.X + dx, Y: q.Y + dy})
		}
	}
	measure(scene.Point{X: left, Y: y}, scene.Point{X: right, Y: y}, 0, tick)
	measure(scene.Point{X: x, Y: top}, scene.Point{X: x, Y: bottom}, tick, 0)
	across := text(scene.Point{X: scene.Hundredth((left + right) / 2), Y: y - 0.7}, p.u.SayTape(p.v.w), p.em, false, scene.Middle)
	up := text(scene.Point{X: x - 0.7, Y: scene.Hundredth((top + bottom) / 2)}, p.u.SayTape(p.v.h), p.em, false, scene.Middle)
	up.Turned = true
	l.Texts = append(l.Texts, across, up)
	p.Take(across.Bounds())
	p.Take(up.Bounds())
	p.Open = append(p.Open,
		scene.Rect{X: left, Y: y - tick, W: right - left, H: 2 * tick},
		scene.Rect{X: x - tick, Y: top, W: 2 * tick, H: bottom - top})
}

// barStep returns the length of one of four parts of the scale bar: 1, 2 or 5 times a power of ten units, its unit [m] and
// the unit's name.
func (p *plan) barStep() (step, unit float64, name string) {
	unit, name = 1, "m"
	if p.u == record.US {
		unit, name = 0.3048, "ft"
	}
	room := min(p.field.W-60, 80) / 4 / (unit * p.v.k)
	power := 1e-3
	for power*10 <= room {
		power *= 10
	}
	step = power
	for _, n := range []float64{2, 5} {
		if n*power <= room {
			step = n * power
		}
	}
	return step, unit, name
}

// scaleBar draws four parts, dark and white in turn, with its upper left corner at x, y, and says as many lengths as have room.
func (p *plan) scaleBar(x, y float64) {
	const high = 1.6
	l := p.layer("frame")
	step, unit, name := p.barStep()
	part := step * unit * p.v.k
	for i := range 4 {
		fill := choose.If(i%2 == 1, "#FFFFFF", palette.Ink)
		a, b := scene.Hundredth(x+float64(part*float64(i))), scene.Hundredth(x+float64(part*float64(i+1)))
		l.Box(scene.Rect{X: a, Y: y, W: b - a, H: high}, fill, palette.Ink, 0.2)
	}
	var said []scene.Text
	for _, i := range []float64{0, 4, 2, 1} { // what comes later yields where there is no room
		s := strconv.FormatFloat(math.Round(step*i*1000)/1000, 'f', -1, 64)
		if i == 4 {
			s += " " + name
		}
		t := text(scene.Point{X: scene.Hundredth(x + float64(part*i)), Y: y - 0.9}, s, p.em, false, scene.Middle)
		if !slices.ContainsFunc(said, func(o scene.Text) bool { return math.Abs(o.At.X-t.At.X) < (o.Width+t.Width+p.em)/2 }) {
			said = append(said, t)
		}
	}
	slices.SortFunc(said, func(a, b scene.Text) int { return cmp.Compare(a.At.X, b.At.X) })
	l.Texts = append(l.Texts, said...)
}

// north draws the north arrow about a place.
func (p *plan) north(c scene.Point) {
	l := p.layer("frame")
	d := p.v.way(0, 1)
	at := func(along, side float64) scene.Point {
		return scene.Point{
			X: scene.Hundredth(c.X + float64(d.X*along) - float64(d.Y*side)), Y: scene.Hundredth(c.Y + float64(d.Y*along) + float64(d.X*side)),
		}
	}
	l.Add(scene.Shape{Paths: [][]scene.Point{scene.Circle(c, 3.2)}, Closed: true, Stroke: palette.Ink, Width: 0.25})
	l.Add(scene.Shape{Paths: [][]scene.Point{{at(4.6, 0), at(-2.6, 1.5), at(-1.4, 0), at(-2.6, -1.5)}}, Closed: true, Fill: "#FFFFFF", Stroke: palette.Ink, Width: 0.3})
	l.Add(scene.Shape{Paths: [][]scene.Point{{at(4.6, 0), at(-2.6, 1.5), at(-1.4, 0)}}, Closed: true, Fill: palette.Ink})
	l.Texts = append(l.Texts, text(scene.Point{X: c.X - 6.5, Y: c.Y + 1}, "north", p.em, true, scene.End))
}
