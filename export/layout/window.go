package layout

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/choose"
	"runnel/analysis/correction/mend"
	"runnel/analysis/gather"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/page"
	"runnel/export/palette"
	"runnel/export/record"
)

const (
	detailGap  = 6.0 // between details [mm]
	detailHead = 5.0 // title over one [mm]

	roomForDetails  = 78.0 // that all details of a sheet may take in height [mm]
	leastForDetails = 50.0 // where it is short of room
)

// scales are those of details, the largest first.
func (h *sheets) scales() []int {
	if h.u == record.US {
		return []int{12, 24, 48, 96}
	}
	return []int{10, 20, 25, 50, 100}
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
		if wide && height <= h.detailRoom {
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
	f.Heading("Details, "+h.scaleText(scale), least)
	f.Paragraph("Corners by their number in the set-out, with what is laid or cut there. Dashed: new work joins old flush."+h.boardsTold(), page.Style{Size: tableEm})
	f.Skip(1)
	y := f.Y()
	for i, w := range windows {
		f.Place(h.window(w, 1000/float64(scale), i), scene.Point{X: f.X() + at[i].X, Y: y + at[i].Y})
	}
	f.Skip(height + detailGap)
}

// boardsTold explains the thin line of details, empty where there is none.
func (h *sheets) boardsTold() string {
	return choose.If(len(h.option.Boards) == 0, "", " Thin: the boards and edge strips that are taken up for it.")
}

// scaleText says a scale as people say it: 1:50, or 1/2" = 1' (1:24).
func (h *sheets) scaleText(scale int) string {
	if h.u == record.US {
		return fmt.Sprintf("%s = 1' (1:%d)", quantity.InchesEighths(quantity.Length(float64(quantity.Foot)/float64(scale))), scale)
	}
	return fmt.Sprintf("1:%d", scale)
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
		on := h.design.Facets[h.TakeOff.Fields[i].Facet].Polygon
		if len(on) == 0 { // thinner than can be drawn
			continue
		}
		if ring := on[0]; b.Intersects(ring.Bound()) {
			w.l.Add(scene.Shape{Paths: [][]scene.Point{w.line(ring)}, Closed: true, Fill: fillOf(&h.TakeOff.Fields[i])})
		}
	}
	for _, line := range h.option.Boards {
		w.clipped(line, palette.Level, 0.12, nil)
	}
	h.surroundings(w)
	for i := range h.design.Lines {
		l := &h.design.Lines[i]
		if kind := h.kindOfLine(l); kind != "" && b.Intersects(orb.LineString(h.plan2(l.A, l.B)).Bound()) {
			colour := choose.If(kind == "valley", palette.Gather, palette.Part)
			w.l.Line(colour, 0.2, nil, w.line(h.plan2(l.A, l.B))...)
		}
	}
	for _, line := range h.design.CutLines() {
		if b.Intersects(line.Bound()) {
			w.clipped(line, palette.Urgent, 0.5, cutDash)
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

// surroundings draws the roof's edge and the curbs in a detail.
func (h *sheets) surroundings(w *window) {
	w.clipped(orb.LineString(closedRing(h.ring())), palette.Ink, 0.7, nil)
	for i := range h.Book.Study.Roof.Curbs {
		c := &h.Book.Study.Roof.Curbs[i]
		ring := make(orb.Ring, len(c.Ring))
		for k := range ring {
			ring[k] = c.Ring[k].Plan
		}
		if len(ring) < 3 {
			continue
		}
		w.clipped(orb.LineString(closedRing(ring)), palette.Ink, 0.35, nil)
		if at, _ := planar.CentroidArea(orb.Polygon{closedRing(ring)}); c.Label != "" && w.b.Contains(at) {
			q := w.point(at)
			long := typeface.Width(c.Label, labelEm, false)
			put(w.l, c.Label, q.X, q.Y, labelEm, false, scene.Middle)
			w.taken = append(w.taken, scene.Rect{X: q.X - long/2, Y: q.Y - labelEm, W: long, H: labelEm})
		}
	}
}

// closedRing returns a ring whose last point is its first.
func closedRing(r orb.Ring) orb.Ring {
	if len(r) > 0 && r[0] != r[len(r)-1] {
		return append(r[:len(r):len(r)], r[0])
	}
	return r
}

// clipped draws what lies within the frame of a line, and keeps labels off it.
func (w *window) clipped(line orb.LineString, colour string, width float64, dash []float64) {
	for _, part := range clip.LineString(w.b, line.Clone()) {
		q := gather.Each(part, w.point)
		w.l.Line(colour, width, dash, q...)
		w.avoid(q)
	}
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
		mark(h.outlets()[i].Plan, 1)
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
		if !w.label(w.point(o.Plan), 1, text) {
			w.label(w.point(o.Plan), 1, o.Label)
		}
	}
}

// avoid keeps labels off a line.
func (w *window) avoid(line []scene.Point) {
	const step, r = 1.0, 0.3 // [mm]
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		long := math.Sqrt(float64((b.X-a.X)*(b.X-a.X)) + float64((b.Y-a.Y)*(b.Y-a.Y)))
		for n := range int(long/step) + 1 {
			t := float64(n) * step / math.Max(long, step)
			x, y := a.X+float64(t*(b.X-a.X)), a.Y+float64(t*(b.Y-a.Y))
			w.taken = append(w.taken, scene.Rect{X: x - r, Y: y - r, W: 2 * r, H: 2 * r})
		}
	}
}

// reaches are how far from its mark a label may stand [mm]; beyond the first it has a leader.
var reaches = []float64{0.6, 3, 6, 10}

// label marks a place and writes beside it where there is room, farther off with a leader; without room only the mark stands, and it returns false.
func (w *window) label(at scene.Point, r float64, text string) bool {
	w.l.Add(scene.Shape{Paths: [][]scene.Point{disc(at, r)}, Closed: true, Fill: palette.Ink})
	const high = labelEm * 0.8
	text = typeface.Clean(text)
	long := typeface.Width(text, labelEm, false)
	for _, reach := range reaches {
		off := r + reach
		for _, d := range []scene.Point{
			{X: off, Y: -high / 2},
			{X: -off - long, Y: -high / 2},
			{X: -long / 2, Y: -off - high},
			{X: -long / 2, Y: off},
			{X: off, Y: -off - high},
			{X: off, Y: off},
			{X: -off - long, Y: -off - high},
			{X: -off - long, Y: off},
		} {
			box := scene.Rect{X: at.X + d.X, Y: at.Y + d.Y, W: long, H: high}
			if !w.inside(box) || w.covered(box) {
				continue
			}
			if reach > reaches[0] {
				end := scene.Point{X: math.Max(box.X, math.Min(box.X+box.W, at.X)), Y: math.Max(box.Y, math.Min(box.Y+box.H, at.Y))}
				w.l.Line(palette.Ink, 0.1, nil, at, end)
			}
			w.taken = append(w.taken, scene.Rect{X: box.X - 0.4, Y: box.Y - 0.5, W: box.W + 0.8, H: box.H + 1})
			put(w.l, text, box.X, box.Y+high, labelEm, false, scene.Start)
			return true
		}
	}
	return false
}

// inside reports whether a box lies within the frame of a detail.
func (w *window) inside(box scene.Rect) bool {
	const free = 0.5 // [mm]
	return box.X >= free && box.X+box.W <= w.k*(w.b.Max[0]-w.b.Min[0])-free && box.Y >= detailHead+free && box.Y+box.H <= detailHead+w.k*(w.b.Max[1]-w.b.Min[1])-free
}

func (w *window) covered(r scene.Rect) bool {
	return slices.ContainsFunc(w.taken, func(t scene.Rect) bool { return r.X < t.X+t.W && t.X < r.X+r.W && r.Y < t.Y+t.H && t.Y < r.Y+r.H })
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
		if c := &h.option.Changes[i]; c.Opened > 0 && touches(b, c) {
			names = append(names, h.changeName(i))
		}
	}
	return choose.If(len(names) == 0, "new surface", strings.Join(names, ", "))
}

// touches reports whether a change is made in a window: its place, or a point of one of its lines, lies there.
func touches(b orb.Bound, c *mend.Change) bool {
	if b.Contains(c.At) {
		return true
	}
	return slices.ContainsFunc(append([]orb.LineString{c.Line}, c.More...), func(line orb.LineString) bool { return slices.ContainsFunc(line, b.Contains) })
}
