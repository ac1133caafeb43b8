package setout

import (
	"strconv"

	"github.com/go-pdf/fpdf"
	"github.com/paulmach/orb"
)

// frame is a rectangle on the sheet [mm].
type frame struct{ x, y, w, h float64 }

// overlaps reports whether two frames share some of their area.
func (f frame) overlaps(g frame) bool {
	return f.x < g.x+g.w && g.x < f.x+f.w && f.y < g.y+g.h && g.y < f.y+f.h
}

// sketcher draws the roof into a frame, north up.
type sketcher struct {
	*pdf
	into   frame
	scale  float64 // mm on the sheet for one metre
	origin orb.Point
	taken  []frame
}

// dot is the radius of a point's mark [mm]; drawn is how many ponds, valleys and ridges the sketch shows.
const (
	dot   = 0.7
	drawn = 200
)

func (p *pdf) sketch(into frame) {
	k := &sketcher{pdf: p, into: into}
	k.place()
	k.roof()
	k.walls()
	k.marks()
}

// place picks the scale with which the roof fills the frame.
func (k *sketcher) place() {
	box := k.s.outline().Bound()
	const air = 9 // for the names of the walls
	w, h := box.Max[0]-box.Min[0], box.Max[1]-box.Min[1]
	k.scale = min((k.into.w-2*air)/w, (k.into.h-2*air)/h)
	k.origin = orb.Point{(box.Min[0] + box.Max[0]) / 2, (box.Min[1] + box.Max[1]) / 2}
}

// at returns a place on the sheet.
func (k *sketcher) at(p orb.Point) (x, y float64) {
	return k.into.x + k.into.w/2 + float64((p[0]-k.origin[0])*k.scale), k.into.y + k.into.h/2 - float64((p[1]-k.origin[1])*k.scale)
}

// outline returns the outer ring of the roof as read.
func (s *Sheet) outline() orb.Ring {
	positions := s.book.Study.Roof.Outline.Rings[0]
	ring := make(orb.Ring, len(positions))
	for i := range positions {
		ring[i] = positions[i].Plan
	}
	return ring
}

// ring draws a closed line.
func (k *sketcher) ring(ring orb.Ring, style string) {
	points := make([]fpdf.PointType, len(ring))
	for i, q := range ring {
		points[i].X, points[i].Y = k.at(q)
	}
	k.Polygon(points, style)
}

// roof draws outline, openings, curbs and ponds.
func (k *sketcher) roof() {
	s := k.s.book.Study
	k.SetFillColor(205, 222, 238)
	k.SetDrawColor(43, 57, 130)
	k.SetLineWidth(0.15)
	for i := range s.Listed[:min(drawn, len(s.Listed))] {
		for _, polygon := range s.Ponds.Outline(s.Listed[i].Pond) {
			k.ring(polygon[0], "FD")
		}
	}
	k.SetDrawColor(110, 110, 110)
	k.SetFillColor(235, 235, 235)
	k.SetLineWidth(0.25)
	for _, l := range s.Slopes.Valleys[:min(drawn, len(s.Slopes.Valleys))] {
		k.line(l.Plan, true)
	}
	for _, l := range s.Slopes.Ridges[:min(drawn, len(s.Slopes.Ridges))] {
		k.line(l.Plan, false)
	}
	for i := range s.Roof.Curbs {
		ring := make(orb.Ring, len(s.Roof.Curbs[i].Ring))
		for n := range ring {
			ring[n] = s.Roof.Curbs[i].Ring[n].Plan
		}
		k.ring(ring, "FD")
	}
	k.SetDrawColor(0, 0, 0)
	k.SetLineWidth(0.3)
	for r := range s.Roof.Outline.Rings {
		ring := make(orb.Ring, len(s.Roof.Outline.Rings[r]))
		for n := range ring {
			ring[n] = s.Roof.Outline.Rings[r][n].Plan
		}
		k.ring(ring, "D")
		k.keepClear(ring)
	}
}

// keepClear keeps numbers off a line.
func (k *sketcher) keepClear(ring orb.Ring) {
	for i := 1; i < len(ring); i++ {
		x0, y0 := k.at(ring[i-1])
		x1, y1 := k.at(ring[i])
		n := int(norm(x1-x0, y1-y0)) + 1
		for m := range n {
			t := (float64(m) + 0.5) / float64(n)
			k.taken = append(k.taken, frame{x0 + float64(t*(x1-x0)) - 0.5, y0 + float64(t*(y1-y0)) - 0.5, 1, 1})
		}
	}
}

// line draws a valley dashed, a ridge whole.
func (k *sketcher) line(line orb.LineString, dashed bool) {
	if dashed {
		k.SetDashPattern([]float64{1.2, 0.8}, 0)
	}
	for i := 1; i < len(line); i++ {
		x0, y0 := k.at(line[i-1])
		x1, y1 := k.at(line[i])
		k.Line(x0, y0, x1, y1)
	}
	k.SetDashPattern([]float64{}, 0)
}

// walls draws walls A and B thick, with their letters and the corner's outside the roof.
func (k *sketcher) walls() {
	k.SetLineWidth(1.1)
	var out orb.Point
	for i := range k.s.Walls {
		w := &k.s.Walls[i]
		x0, y0 := k.at(w.From)
		x1, y1 := k.at(w.To)
		k.Line(x0, y0, x1, y1)
		length := norm(x1-x0, y1-y0)
		nx, ny := (y0-y1)/length, (x1-x0)/length // on the sheet y runs down: this points away from the roof
		out[0] += nx
		out[1] += ny
		k.letter((x0+x1)/2+5*nx, (y0+y1)/2+5*ny, string(rune('A'+i)))
	}
	length := max(norm(out[0], out[1]), 1e-9)
	x, y := k.at(k.s.Corner)
	k.letter(x+5*out[0]/length, y+5*out[1]/length, "C")
	k.SetLineWidth(0.2)
}

func (k *sketcher) letter(x, y float64, text string) {
	k.set("B", 13)
	w := k.GetStringWidth(text)
	k.Text(x-w/2, y+1.7, text)
	k.taken = append(k.taken, frame{x - w/2, y - 2.4, w, 4.8})
}

// marks draws the bench mark and the points with their numbers, none on top of another.
func (k *sketcher) marks() {
	x, y := k.at(k.s.Mark.Plan)
	k.SetFillColor(255, 255, 255)
	k.SetDrawColor(109, 0, 28)
	k.SetLineWidth(0.5)
	k.Polygon([]fpdf.PointType{{X: x, Y: y - 2.6}, {X: x - 2.4, Y: y + 1.5}, {X: x + 2.4, Y: y + 1.5}}, "D")
	k.SetDrawColor(0, 0, 0)
	k.SetFillColor(0, 0, 0)
	for i := range k.points {
		px, py := k.at(k.points[i].Plan)
		k.Circle(px, py, dot, "F")
		k.taken = append(k.taken, frame{px - dot, py - dot, 2 * dot, 2 * dot})
	}
	k.set("B", 8)
	k.SetTextColor(109, 0, 28)
	k.label(x, y, "BM", 3)
	k.set("B", 7)
	for i := range k.points {
		px, py := k.at(k.points[i].Plan)
		k.label(px, py, strconv.Itoa(k.points[i].Number), 1)
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
func (k *sketcher) label(x, y float64, text string, gap float64) {
	w, h := k.GetStringWidth(text), 2.5
	for reach := gap; reach < 16; reach += 1.2 {
		for _, turn := range turns {
			cx := x + float64((reach+w/2)*turn[0])
			cy := y - float64((reach+h/2)*turn[1])
			box := frame{cx - w/2 - 0.2, cy - h/2, w + 0.4, h}
			if k.isTaken(box) {
				continue
			}
			if reach > gap+1.3 {
				k.SetLineWidth(0.1)
				k.Line(x, y, cx-float64((w/2+0.3)*turn[0]), cy+float64(h/2*turn[1]))
			}
			k.Text(cx-w/2, cy+h/2-0.3, text)
			k.taken = append(k.taken, box)
			return
		}
	}
}

func (k *sketcher) isTaken(box frame) bool {
	if box.x < k.into.x || box.y < k.into.y || box.x+box.w > k.into.x+k.into.w || box.y+box.h > k.into.y+k.into.h {
		return true
	}
	for _, t := range k.taken {
		if t.overlaps(box) {
			return true
		}
	}
	return false
}

// key explains the signs of the sketch.
func (p *pdf) key() {
	p.paragraphs("On the sketch", []string{
		"North is up, as in the survey. Thick: walls A and B. Triangle BM: bench mark. Dots: the points of the table. " +
			"Blue: water, each pond full. Whole lines ridges, broken lines valleys. Grey boxes: curbs.",
	})
}
