package drawing

import (
	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/export/drawing/scene"
	"runnel/export/palette"
)

// Line types. Each differs from the others in its strokes as well as in its colour.
var (
	ridgeDash     = []float64{3.4, 1, 1, 1}
	valleyDash    = []float64{3, 1.2}
	breakDash     = []float64{1.2, 1.2}
	catchmentDash = []float64{0.1, 1.3}
	freeDash      = []float64{2, 1.6}
	directDash    = []float64{1.6, 1}
)

// mostLevels is how many contour levels are drawn before every second, fifth or tenth is.
const mostLevels = 40

// leastFold is how long a ridge or a valley is on the sheet to be drawn [mm]: shorter ones are noise there.
const leastFold = 2.0

// contours draws lines of equal elevation.
func (p *plan) contours() {
	l := p.layer("contours")
	every := p.thinning()
	level, last := -1, 0.0
	for i := range p.s.Contours {
		c := &p.s.Contours[i]
		if i == 0 || c.Elevation != last {
			level, last = level+1, c.Elevation
		}
		if level%every != 0 {
			continue
		}
		p.uses("contour")
		line := p.v.line(c.Plan)
		l.Line(palette.Level, 0.18, nil, line...)
		p.Avoid(line)
	}
}

// thinning returns how many levels one drawn contour stands for.
func (p *plan) thinning() int {
	levels, last := 0, 0.0
	for i := range p.s.Contours {
		if e := p.s.Contours[i].Elevation; i == 0 || e != last {
			levels, last = levels+1, e
		}
	}
	for _, n := range []int{1, 2, 5, 10, 20, 50, 100, 200, 500} {
		if levels <= n*mostLevels {
			return n
		}
	}
	return levels
}

// curbs draws what water cannot cross.
func (p *plan) curbs() {
	r := p.s.Roof
	for _, hole := range r.Outline.Rings[1:] {
		p.curb(p.v.positions(hole))
	}
	for i := range r.Curbs {
		p.curb(p.v.positions(r.Curbs[i].Ring))
	}
}

func (p *plan) curb(ring []scene.Point) {
	l := p.layer("curbs")
	p.uses("curb")
	rings := [][]scene.Point{ring}
	l.Add(scene.Shape{Paths: rings, Closed: true, Fill: "#FFFFFF"})
	l.Add(scene.Shape{Paths: scene.Hatch(rings, 1.2), Stroke: palette.Ink, Width: 0.12})
	l.Add(scene.Shape{Paths: rings, Closed: true, Stroke: palette.Ink, Width: 0.4})
	p.Avoid(append(ring[:len(ring):len(ring)], ring[0]))
	for _, line := range scene.Hatch(rings, 1.2) {
		p.Avoid(line)
	}
}

// folds draws ridges, valleys and the breaklines that are neither.
func (p *plan) folds() {
	drawn := make([]bool, len(p.s.Roof.Breaklines))
	draw := func(lines []slope.Line, name, colour string, width float64, dash []float64) {
		for i := range lines {
			f := &lines[i]
			if f.Breakline >= 0 && f.Breakline < len(drawn) {
				drawn[f.Breakline] = true
			}
			if f.Length*p.v.k < leastFold {
				continue
			}
			p.uses(name)
			line := p.v.line(f.Plan)
			p.layer("lines").Line(colour, width, dash, line...)
			p.Avoid(line)
		}
	}
	draw(p.s.Slopes.Valleys, "valley", palette.Gather, 0.6, valleyDash)
	draw(p.s.Slopes.Ridges, "ridge", palette.Part, 0.5, ridgeDash)
	for i := range p.s.Roof.Breaklines {
		if !drawn[i] {
			p.uses("breakline")
			p.layer("lines").Line(palette.Ink, 0.3, breakDash, p.v.positions(p.s.Roof.Breaklines[i].Line)...)
		}
	}
}

// edges draws the outline by what water does at it.
func (p *plan) edges() {
	l := p.layer("edges")
	outer := p.v.positions(p.s.Roof.Outline.Rings[0])
	l.Add(scene.Shape{Paths: [][]scene.Point{outer}, Closed: true, Stroke: palette.Ink, Width: 0.9})
	for range 4 { // worse to hide than other lines
		p.Avoid(outer)
	}
	open := 0.0
	for i := range p.s.Surface.Outlets {
		o := &p.s.Surface.Outlets[i]
		if o.Type != roof.EdgeOutlet {
			continue
		}
		line := p.v.line(o.Line)
		for k := 1; k < len(line); k++ {
			open += scene.Distance(line[k-1], line[k])
		}
		if o.Edge == roof.Gutter {
			p.uses("gutter")
			l.Add(scene.Shape{Paths: [][]scene.Point{line}, Stroke: palette.Ink, Width: 1.5, Butt: true})
			l.Add(scene.Shape{Paths: [][]scene.Point{line}, Stroke: palette.Tint(palette.Primary, 0.35), Width: 0.8, Butt: true})
			continue
		}
		p.uses("free")
		l.Add(scene.Shape{Paths: [][]scene.Point{line}, Stroke: "#FFFFFF", Width: 1.1, Butt: true})
		l.Line(palette.Ink, 0.6, freeDash, line...)
	}
	round := 0.0
	for k := 1; k < len(outer); k++ {
		round += scene.Distance(outer[k-1], outer[k])
	}
	if open < round-0.5 {
		p.uses("wall")
	}
}

// inside reports whether a place lies within rings (even-odd).
func inside(rings [][]scene.Point, q scene.Point) bool {
	in := false
	for _, ring := range rings {
		for i := range ring {
			a, b := ring[i], ring[(i+1)%len(ring)]
			if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
				in = !in
			}
		}
	}
	return in
}

// area returns the rings of an area on the sheet.
func (p *plan) area(m orb.MultiPolygon) [][]scene.Point { return p.v.rings(m) }
