package layout

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/page"
	"runnel/export/palette"
	"runnel/export/record"
)

const (
	detailGap  = 6.0  // between details [mm]
	detailHead = 5.0  // title over one [mm]
	detailRoom = 72.0 // that all details of a sheet may take in height [mm]
)

// scales are those of details, the largest first.
func (h *sheets) scales() []int {
	if h.u == record.US {
		return []int{24, 48, 96, 192, 384}
	}
	return []int{20, 25, 50, 100, 200, 500}
}

// detailScale returns the largest scale at which all windows fit, and where they stand on the sheet.
func (h *sheets) detailScale(windows []orb.Bound, width float64) (scale int, at []scene.Point, height float64) {
	for _, scale = range h.scales() {
		k := 1000 / float64(scale)
		x, y, row, wide := 0.0, 0.0, 0.0, true
		at = at[:0]
		for _, b := range windows {
			w, hi := k*(b.Max[0]-b.Min[0]), k*(b.Max[1]-b.Min[1])+detailHead
			wide = wide && w <= width
			if x > 0 && x+w > width {
				x, y, row = 0, y+row+detailGap, 0
			}
			at = append(at, scene.Point{X: x, Y: y})
			x, row = x+w+detailGap, math.Max(row, hi)
		}
		height = y + row
		if wide && height <= detailRoom {
			break
		}
	}
	return scale, at, height
}

// drawDetails sets the details of small places that are changed, all at one scale.
func (h *sheets) drawDetails(f *page.Flow) {
	windows := h.details()
	if len(windows) == 0 {
		return
	}
	scale, at, height := h.detailScale(windows, f.Width())
	f.Heading(fmt.Sprintf("Details, 1:%d", scale), height+detailGap)
	f.Paragraph("Corners by their number in the set-out, with the thickness that is laid or cut. Dashed: new work joins old flush.", page.Style{Size: tableEm})
	f.Skip(1)
	y := f.Y()
	for i, w := range windows {
		f.Place(h.window(w, 1000/float64(scale), i), scene.Point{X: page.Margin + at[i].X, Y: y + at[i].Y})
	}
	f.Skip(height + detailGap)
}

// window is one detail being drawn.
type window struct {
	b     orb.Bound
	k     float64 // millimetres of sheet a metre
	l     *scene.Layer
	taken []scene.Rect
}

func (w *window) point(p orb.Point) scene.Point {
	return scene.Point{X: round(w.k * (p[0] - w.b.Min[0])), Y: round(detailHead + w.k*(w.b.Max[1]-p[1]))}
}

func (w *window) line(points []orb.Point) []scene.Point {
	out := make([]scene.Point, len(points))
	for i := range points {
		q := orb.Point{math.Max(w.b.Min[0], math.Min(w.b.Max[0], points[i][0])), math.Max(w.b.Min[1], math.Min(w.b.Max[1], points[i][1]))}
		out[i] = w.point(q)
	}
	return out
}

// window draws one detail.
func (h *sheets) window(b orb.Bound, k float64, number int) *scene.Scene {
	width, height := round(k*(b.Max[0]-b.Min[0])), round(k*(b.Max[1]-b.Min[1]))
	out := &scene.Scene{Width: width, Height: height + detailHead}
	w := &window{b: b, k: k, l: out.Layer("detail")}
	put(w.l, shortened(fmt.Sprintf("%d: %s", number+1, h.within(b)), width), 0, detailHead-1.5, tableEm, true, scene.Start)
	w.l.Box(scene.Rect{Y: detailHead, W: width, H: height}, "", palette.Ink, 0.15)
	for i := range h.TakeOff.Fields {
		ring := h.design.Facets[h.TakeOff.Fields[i].Facet].Polygon[0]
		if b.Intersects(ring.Bound()) {
			w.l.Add(scene.Shape{Paths: [][]scene.Point{w.line(ring)}, Closed: true, Fill: measuredOf})
		}
	}
	for i := range h.design.Lines {
		l := &h.design.Lines[i]
		if kind := h.kindOfLine(l); kind != "" && b.Intersects(orb.LineString(h.plan2(l.A, l.B)).Bound()) {
			colour := palette.Part
			if kind == "valley" {
				colour = palette.Gather
			}
			w.l.Line(colour, 0.2, nil, w.line(h.plan2(l.A, l.B))...)
		}
	}
	for _, line := range h.design.CutLines() {
		if b.Intersects(line.Bound()) {
			w.l.Line(palette.Urgent, 0.5, cutDash, w.line(line)...)
		}
	}
	h.occupy(w)
	h.windowOutlets(w)
	for i := range h.corners[:min(h.listed(), len(h.corners))] {
		if b.Contains(h.corners[i].plan) {
			w.label(w.point(h.corners[i].plan), 0.4, h.cornerText(i))
		}
	}
	return out
}

// occupy keeps labels off the marks of corners and outlets.
func (h *sheets) occupy(w *window) {
	mark := func(p orb.Point, r float64) {
		if at := w.point(p); w.b.Contains(p) {
			w.taken = append(w.taken, scene.Rect{X: at.X - r, Y: at.Y - r, W: 2 * r, H: 2 * r})
		}
	}
	for i := range h.corners[:min(h.listed(), len(h.corners))] {
		mark(h.corners[i].plan, 0.4)
	}
	for i := range h.outlets() {
		mark(h.outlets()[i].Plan, 1.5)
	}
}

// windowOutlets draws the outlets of a detail with their levels.
func (h *sheets) windowOutlets(w *window) {
	for i := range h.outlets() {
		o := &h.outlets()[i]
		if o.Type == roof.EdgeOutlet || !w.b.Contains(o.Plan) {
			continue
		}
		text := o.Label + " " + h.relative(o.Invert)
		if was := h.before(o); was != nil && math.Abs(was.Invert-o.Invert) > 0.001 {
			text += ", was " + h.relative(was.Invert)
		}
		if !w.label(w.point(o.Plan), 1.5, text) {
			w.label(w.point(o.Plan), 1.5, o.Label)
		}
	}
}

// label marks a place and writes beside it where there is room; without room only the mark stands, and it returns false.
func (w *window) label(at scene.Point, r float64, text string) bool {
	w.l.Add(scene.Shape{Paths: [][]scene.Point{disc(at, r)}, Closed: true, Fill: palette.Ink})
	const high = labelEm * 0.8
	text = typeface.Clean(text)
	long := typeface.Width(text, labelEm, false)
	for _, d := range []scene.Point{{X: r + 0.6, Y: -high / 2}, {X: -r - 0.6 - long, Y: -high / 2}, {X: -long / 2, Y: -r - 0.6 - high}, {X: -long / 2, Y: r + 0.6}} {
		box := scene.Rect{X: at.X + d.X, Y: at.Y + d.Y, W: long, H: high}
		if box.X < 0.5 || box.X+box.W > w.k*(w.b.Max[0]-w.b.Min[0])-0.5 || box.Y < detailHead+0.5 || box.Y+box.H > detailHead+w.k*(w.b.Max[1]-w.b.Min[1])-0.5 || w.covered(box) {
			continue
		}
		w.taken = append(w.taken, box)
		put(w.l, text, box.X, box.Y+high, labelEm, false, scene.Start)
		return true
	}
	return false
}

func (w *window) covered(r scene.Rect) bool {
	for _, t := range w.taken {
		if r.X < t.X+t.W && t.X < r.X+r.W && r.Y < t.Y+t.H && t.Y < r.Y+r.H {
			return true
		}
	}
	return false
}

// shortened cuts a text to a width.
func shortened(text string, width float64) string {
	text = typeface.Clean(text)
	for typeface.Width(text, tableEm, true) > width && strings.Contains(text, " ") {
		text = text[:strings.LastIndex(text, " ")]
	}
	return text
}

// within names the changes in a window by number and place.
func (h *sheets) within(b orb.Bound) string {
	var names []string
	for i := range h.option.Changes {
		if c := &h.option.Changes[i]; c.Opened > 0 && b.Contains(c.At) {
			names = append(names, h.changeName(i))
		}
	}
	if len(names) == 0 {
		return "new surface"
	}
	return strings.Join(names, ", ")
}
