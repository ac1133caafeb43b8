package setout

import (
	"math"
	"slices"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
)

// Colours of the sketch.
const (
	black = "#000000"
	grey  = "#6E6E6E"
	water = "#CDDEEE"
	box   = "#EBEBEB"
)

// sketcher draws the roof, north up.
type sketcher struct {
	*scene.Layer
	s      *Sheet
	points []Point
	room   scene.Rect
	scale  float64 // mm on the sheet for one metre
	origin orb.Point
	taken  []scene.Rect
}

// dot is the radius of a point's mark [mm]; drawn is how many ponds, valleys and ridges the sketch shows.
const (
	dot   = 0.7
	drawn = 200
)

// sketch draws the roof with some of its points, that wide and high [mm].
func (s *Sheet) sketch(points []Point, w, h float64) *scene.Scene {
	out := &scene.Scene{Width: w, Height: h}
	k := &sketcher{Layer: out.Layer("sketch"), s: s, points: points, room: scene.Rect{W: w, H: h}}
	k.place()
	k.roof()
	k.walls()
	k.marks()
	return out
}

// place picks the scale with which the roof fills the room.
func (k *sketcher) place() {
	bound := k.s.outline().Bound()
	const air = 9 // for the names of the walls
	w, h := bound.Max[0]-bound.Min[0], bound.Max[1]-bound.Min[1]
	k.scale = min((k.room.W-2*air)/w, (k.room.H-2*air)/h)
	k.origin = orb.Point{(bound.Min[0] + bound.Max[0]) / 2, (bound.Min[1] + bound.Max[1]) / 2}
}

// at returns a place on the sheet.
func (k *sketcher) at(p orb.Point) scene.Point {
	return spot(k.room.W/2+float64((p[0]-k.origin[0])*k.scale), k.room.H/2-float64((p[1]-k.origin[1])*k.scale))
}

// spot is a place on the sheet to a hundredth of a millimetre.
func spot(x, y float64) scene.Point {
	return scene.Point{X: math.Round(x*100) / 100, Y: math.Round(y*100) / 100}
}

// line returns a line on the sheet.
func (k *sketcher) line(line []orb.Point) []scene.Point { return gather.Each(line, k.at) }

// ring draws a closed line.
func (k *sketcher) ring(ring []scene.Point, fill, stroke string, width float64) {
	k.Add(scene.Shape{Paths: [][]scene.Point{ring}, Closed: true, Fill: fill, Stroke: stroke, Width: width})
}

// outline returns the outer ring of the roof as read.
func (s *Sheet) outline() orb.Ring { return roof.PlanOf(s.book.Study.Roof.Outline.Rings[0]) }

// roof draws outline, openings, curbs and ponds.
func (k *sketcher) roof() {
	s := k.s.book.Study
	for i := range s.Listed[:min(drawn, len(s.Listed))] {
		for _, polygon := range s.Ponds.Outline(s.Listed[i].Pond) {
			k.ring(k.line(polygon[0]), water, palette.Water, 0.15)
		}
	}
	folds := func(lines []slope.Line, dash []float64) {
		for i := range lines[:min(drawn, len(lines))] {
			k.Line(grey, 0.25, dash, k.line(lines[i].Plan)...)
		}
	}
	folds(s.Slopes.Valleys, []float64{1.2, 0.8})
	folds(s.Slopes.Ridges, nil)
	for i := range s.Roof.Curbs {
		ring := gather.Each(s.Roof.Curbs[i].Ring, func(p roof.Position) scene.Point { return k.at(p.Plan) })
		k.ring(ring, box, grey, 0.25)
	}
	for _, positions := range s.Roof.Outline.Rings {
		ring := gather.Each(positions, func(p roof.Position) scene.Point { return k.at(p.Plan) })
		k.ring(ring, "", black, 0.3)
		k.keepClear(ring)
	}
}

// keepClear keeps numbers off a line.
func (k *sketcher) keepClear(ring []scene.Point) {
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		n := int(vector.Norm(b.X-a.X, b.Y-a.Y)) + 1
		for m := range n {
			t := (float64(m) + 0.5) / float64(n)
			k.taken = append(k.taken, scene.Rect{X: a.X + float64(t*(b.X-a.X)) - 0.5, Y: a.Y + float64(t*(b.Y-a.Y)) - 0.5, W: 1, H: 1})
		}
	}
}

// walls draws walls A and B thick, with their letters and the corner's outside the roof.
func (k *sketcher) walls() {
	var out orb.Point
	for i := range k.s.Walls {
		w := &k.s.Walls[i]
		a, b := k.at(w.From), k.at(w.To)
		k.Line(black, 1.1, nil, a, b)
		length := max(vector.Norm(b.X-a.X, b.Y-a.Y), 1e-9)
		nx, ny := (a.Y-b.Y)/length, (b.X-a.X)/length // on the sheet y runs down: this points away from the roof
		out[0] += nx
		out[1] += ny
		k.letter((a.X+b.X)/2+float64(5*nx), (a.Y+b.Y)/2+float64(5*ny), string(rune('A'+i)))
	}
	length := max(vector.Norm(out[0], out[1]), 1e-9)
	c := k.at(k.s.Corner)
	k.letter(c.X+float64(5*out[0]/length), c.Y+float64(5*out[1]/length), "C")
}

func (k *sketcher) letter(x, y float64, text string) {
	const size = 4.6
	w := typeface.Width(text, size, true)
	k.write(x, y+1.7, text, size, black)
	k.taken = append(k.taken, scene.Rect{X: x - w/2, Y: y - 2.4, W: w, H: 4.8})
}

// write writes a bold text with the middle of its base line at a place.
func (k *sketcher) write(x, y float64, text string, size float64, colour string) {
	k.Texts = append(k.Texts, scene.Text{
		At: spot(x, y), String: text, Size: size, Width: typeface.Width(text, size, true), Bold: true, Anchor: scene.Middle, Colour: colour,
	})
}

// marks draws the bench mark and the points with their numbers, none on top of another.
func (k *sketcher) marks() {
	mark := k.at(k.s.Mark.Plan)
	top := spot(mark.X, mark.Y-2.6)
	triangle := []scene.Point{top, spot(mark.X-2.4, mark.Y+1.5), spot(mark.X+2.4, mark.Y+1.5)}
	k.ring(triangle, "", palette.Urgent, 0.5)
	k.keepClear(append(triangle, top))
	for i := range k.points {
		p := k.at(k.points[i].Plan)
		var ring []scene.Point
		for _, turn := range turns {
			ring = append(ring, spot(p.X+float64(dot*turn[0]), p.Y+float64(dot*turn[1])))
		}
		k.ring(ring, black, "", 0)
		k.taken = append(k.taken, scene.Rect{X: p.X - dot, Y: p.Y - dot, W: 2 * dot, H: 2 * dot})
	}
	k.label(mark, "BM", 2.8, 3)
	for i := range k.points {
		k.label(k.at(k.points[i].Plan), strconv.Itoa(k.points[i].Number), 2.5, 1)
	}
}

// turns are sixteen directions, from the east counter-clockwise: cosine and sine of each. They stand here as numbers so that they are
// the same on every processor.
var turns = [16]orb.Point{
	{1, 0},
	{c22, s22},
	{half, half},
	{s22, c22},
	{0, 1},
	{-s22, c22},
	{-half, half},
	{-c22, s22},
	{-1, 0},
	{-c22, -s22},
	{-half, -half},
	{-s22, -c22},
	{0, -1},
	{s22, -c22},
	{half, -half},
	{c22, -s22},
}

// c22 and s22 are cosine and sine of 22.5 degrees.
const (
	c22 = 0.92387953251128674
	s22 = 0.38268343236508977
)

// label writes a text beside a place where nothing stands yet, near it or farther away with a line to it.
func (k *sketcher) label(p scene.Point, text string, size, gap float64) {
	w, h := typeface.Width(text, size, true), 2.5
	for reach := gap; reach < 16; reach += 1.2 {
		for _, turn := range turns {
			cx := p.X + float64((reach+w/2)*turn[0])
			cy := p.Y - float64((reach+h/2)*turn[1])
			room := scene.Rect{X: cx - w/2 - 0.2, Y: cy - h/2, W: w + 0.4, H: h}
			if k.isTaken(room) {
				continue
			}
			if reach > gap+1.3 {
				k.Line(black, 0.1, nil, p, spot(cx-float64((w/2+0.3)*turn[0]), cy+float64(h/2*turn[1])))
			}
			k.write(cx, cy+h/2-0.3, text, size, palette.Urgent)
			k.taken = append(k.taken, room)
			return
		}
	}
}

func (k *sketcher) isTaken(room scene.Rect) bool {
	if !room.Within(k.room) {
		return true
	}
	return slices.ContainsFunc(k.taken, func(t scene.Rect) bool { return t.Overlaps(room) })
}

// key explains the signs of the sketch.
const key = "North is up, as in the survey. Thick: walls A and B. Triangle BM: bench mark. Dots: the points of the table. " +
	"Blue: water, each pond full. Whole lines ridges, broken lines valleys. Grey boxes: curbs."
