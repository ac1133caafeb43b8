package layout

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/vector"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
)

// Sizes of a section on the sheet [mm].
const (
	profileHigh = 26.0
	labelHigh   = 10.0
	labelEm     = 2.5
	sectionHigh = profileHigh + labelHigh + 8
)

// times are the factors by which heights are drawn larger than lengths.
var times = []float64{100, 50, 40, 30, 25, 20, 15, 10, 8, 6, 5, 4, 3, 2, 1}

// frame takes a section to the sheet.
type frame struct {
	k, ex float64 // millimetres of sheet a metre along, and how many times more upward
	low   float64 // elevation at the foot [m]
	foot  float64 // of the profile [mm]
}

func (f *frame) point(x, z float64) scene.Point {
	return scene.Point{X: round(x * f.k), Y: round(f.foot - float64((z-f.low)*f.k*f.ex))}
}

func round(v float64) float64 { return math.Round(v*100) / 100 }

// fit chooses the frame of a section.
func fit(s *section, width float64) frame {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range s.at {
		q := &s.at[i]
		if !q.on {
			continue
		}
		low, high = math.Min(low, math.Min(q.old, q.now)), math.Max(high, math.Max(q.old, q.now))
		if q.deckKnown {
			low, high = math.Min(low, q.deck), math.Max(high, q.deck)
		}
	}
	f := frame{k: width / vector.Distance(s.from, s.to), ex: 1, low: low, foot: labelHigh + profileHigh}
	for _, e := range times {
		if (high-low)*f.k*e <= profileHigh {
			f.ex = e
			break
		}
	}
	return f
}

// profile draws a section of a width.
func (h *sheets) profile(s *section, width float64) (*scene.Scene, frame) {
	f := fit(s, width)
	out := &scene.Scene{Width: width, Height: sectionHigh}
	l := out.Layer("section")
	for a := 0; a < len(s.at); {
		b := a
		for b < len(s.at) && s.at[b].on {
			b++
		}
		if b > a+1 {
			h.run(l, s.at[a:b], &f)
		}
		a = max(b, a+1)
	}
	l.Line(palette.Ink, 0.15, nil, scene.Point{Y: f.foot + 2}, scene.Point{X: width, Y: f.foot + 2})
	for _, x := range []float64{0, width} {
		l.Line(palette.Ink, 0.15, nil, scene.Point{X: x, Y: f.foot + 1}, scene.Point{X: x, Y: f.foot + 3})
	}
	put(l, s.name, 0, f.foot+5.5, labelEm+0.4, true, scene.Start)
	put(l, s.name, width, f.foot+5.5, labelEm+0.4, true, scene.End)
	put(l, h.u.SayLength(vector.Distance(s.from, s.to)), width/2, f.foot+5.2, labelEm, false, scene.Middle)
	h.labels(l, s, &f, width)
	return out, f
}

// run draws one stretch on which the roof is not interrupted.
func (h *sheets) run(l *scene.Layer, at []sample, f *frame) {
	var old, now, deck []scene.Point
	for i := range at {
		old = append(old, f.point(at[i].x, at[i].old))
		now = append(now, f.point(at[i].x, at[i].now))
		if at[i].deckKnown {
			deck = append(deck, f.point(at[i].x, at[i].deck))
		}
	}
	whole := len(deck) == len(now)
	if whole {
		under := now
		if h.option.Kind != mend.Replace {
			under = lower(old, now)
		}
		fill := choose.If(h.option.Kind != mend.Replace, existingOf, insulationOf)
		l.Add(scene.Shape{Paths: [][]scene.Point{between(deck, under)}, Closed: true, Fill: fill})
	}
	if h.option.Kind != mend.Replace {
		l.Add(scene.Shape{Paths: [][]scene.Point{between(lower(old, now), now)}, Closed: true, Fill: insulationOf})
	}
	l.Add(scene.Shape{Paths: [][]scene.Point{between(now, higher(old, now))}, Closed: true, Fill: takenOf})
	if whole {
		l.Line(palette.Level, 0.7, nil, thin(deck)...)
	}
	l.Line(palette.Ink, 0.25, []float64{1.5, 1}, thin(old)...)
	l.Line(palette.Ink, 0.6, nil, thin(now)...)
}

// lower and higher return, place by place, the lower and the higher of two lines; y runs down.
func lower(a, b []scene.Point) []scene.Point { return oneOf(a, b, math.Max) }

func higher(a, b []scene.Point) []scene.Point { return oneOf(a, b, math.Min) }

func oneOf(a, b []scene.Point, of func(y, other float64) float64) []scene.Point {
	out := slices.Clone(a)
	for i := range out {
		out[i].Y = of(a[i].Y, b[i].Y)
	}
	return out
}

// between returns the ring round what lies between two lines.
func between(a, b []scene.Point) []scene.Point {
	back := slices.Clone(b)
	slices.Reverse(back)
	return append(thin(a), thin(back)...)
}

// thin leaves out points on the straight line through their neighbours, to a fiftieth of a millimetre.
func thin(line []scene.Point) []scene.Point {
	out := []scene.Point{line[0]}
	from := 0
	for i := 2; i < len(line); i++ {
		a, b := line[from], line[i]
		for k := from + 1; k < i; k++ {
			if y := a.Y + (line[k].X-a.X)/(b.X-a.X)*(b.Y-a.Y); b.X == a.X || math.Abs(y-line[k].Y) > 0.02 {
				out = append(out, line[i-1])
				from = i - 1
				break
			}
		}
	}
	return append(out, line[len(line)-1])
}

// labels writes the names above the profile, none over another or over a leader; what finds no room in two rows is left out.
func (h *sheets) labels(l *scene.Layer, s *section, f *frame, width float64) {
	var taken [2][][2]float64
	clear := func(row int, from, to float64) bool {
		return !slices.ContainsFunc(taken[row], func(t [2]float64) bool { return from < t[1]+1 && t[0] < to+1 })
	}
	for _, m := range joined(s.marks, 1.5/f.k) {
		text := typeface.Clean(m.text)
		w := typeface.Width(text, labelEm, false)
		x := m.x * f.k
		left := math.Max(0, math.Min(width-w, x-w/2))
		for row := range taken {
			if !clear(row, left, left+w) || row > 0 && !clear(0, x, x) {
				continue
			}
			taken[row] = append(taken[row], [2]float64{left, left + w})
			for below := range row {
				taken[below] = append(taken[below], [2]float64{x, x})
			}
			y := labelHigh - 1.5 - float64(row)*(labelEm+1.3)
			put(l, text, left, y, labelEm, false, scene.Start)
			top := f.point(m.x, s.top(m.x))
			l.Line(palette.Ink, 0.12, nil, scene.Point{X: round(x), Y: round(y + 0.7)}, scene.Point{X: round(x), Y: top.Y})
			break
		}
	}
}

// joined puts marks that stand within a reach of each other into one, without saying a thing twice.
func joined(marks []mark, reach float64) []mark {
	var out []mark
next:
	for _, m := range marks {
		for i := range out {
			if math.Abs(out[i].x-m.x) < reach {
				if !slices.Contains(strings.Split(out[i].text, "; "), m.text) {
					out[i].text += "; " + m.text
				}
				continue next
			}
		}
		out = append(out, m)
	}
	return out
}

// top returns the elevation of the higher surface at a place of the section.
func (s *section) top(x float64) float64 {
	best, far := 0.0, math.Inf(1)
	for i := range s.at {
		if q := &s.at[i]; q.on && math.Abs(q.x-x) < far {
			best, far = math.Max(q.old, q.now), math.Abs(q.x-x)
		}
	}
	return best
}

// put writes one line of text.
func put(l *scene.Layer, s string, x, y, size float64, bold bool, anchor scene.Anchor) {
	l.Texts = append(l.Texts, scene.Text{
		At: scene.Point{X: round(x), Y: round(y)}, String: s, Size: size, Bold: bold, Anchor: anchor, Colour: palette.Ink, Width: round(typeface.Width(s, size, bold)),
	})
}

// caption says what a section shows.
func (s *section) caption(f *frame) string {
	if s.short {
		return fmt.Sprintf("%s–%s, %s; heights × %s", s.name, s.name, s.why, strconv.FormatFloat(f.ex, 'f', -1, 64))
	}
	return fmt.Sprintf("Section %s–%s, %s; heights %s times larger than lengths", s.name, s.name, s.why, strconv.FormatFloat(f.ex, 'f', -1, 64))
}
