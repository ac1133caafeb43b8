package surveysheet

import (
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/page"
	"runnel/export/palette"
)

// field is a word and the line behind it.
type field struct {
	word, text string
	share      float64
}

// lines draws fields beside each other, each with a line to write on.
func lines(f *page.Flow, fields []field) {
	f.Need(tall)
	sum := 0.0
	for _, d := range fields {
		sum += d.share
	}
	d := &scene.Scene{Width: f.Width(), Height: tall}
	l := d.Layer("page")
	x := 0.0
	for _, e := range fields {
		w := f.Width() * e.share / sum
		l.Texts = append(l.Texts, words(x, tall-5.2, e.word, 2.3, false))
		l.Line(palette.Ink, 0.2, nil, scene.Point{X: x, Y: tall - 0.4}, scene.Point{X: x + w - lineEnd, Y: tall - 0.4})
		if e.text != "" {
			l.Texts = append(l.Texts, words(x+1, tall-1.2, e.text, em, true))
		}
		x += w
	}
	place(f, d)
}

// place sets a drawing of the column's width.
func place(f *page.Flow, d *scene.Scene) {
	f.Place(d, scene.Point{X: page.Margin, Y: f.Y()})
	f.Skip(d.Height)
}

func words(x, y float64, text string, size float64, bold bool) scene.Text {
	text = typeface.Clean(text)
	return scene.Text{At: scene.Point{X: x, Y: y}, String: text, Size: size, Width: typeface.Width(text, size, bold), Bold: bold, Colour: palette.Ink}
}

// column is a column of a table to fill in.
type column struct {
	head  string
	share float64
}

// ruled draws a table to fill in: rows begins with those that are known.
func ruled(f *page.Flow, columns []column, known [][]string, rows int, high float64) {
	sum := 0.0
	for _, c := range columns {
		sum += c.share
	}
	const head = 8.0
	rows = min(rows, int((f.Left()-head-1)/high))
	d := &scene.Scene{Width: f.Width(), Height: head + float64(rows)*high}
	l := d.Layer("page")
	at := make([]float64, len(columns)+1)
	for i, c := range columns {
		at[i+1] = at[i] + f.Width()*c.share/sum
		first, second := halves(c.head)
		l.Texts = append(l.Texts, words(at[i]+0.6, 3.2, first, 2.3, true))
		if second != "" {
			l.Texts = append(l.Texts, words(at[i]+0.6, 6.2, second, 2.3, true))
		}
	}
	for i := range rows + 1 {
		y := head + float64(i)*high
		l.Line(palette.Ink, 0.15, nil, scene.Point{Y: y}, scene.Point{X: d.Width, Y: y})
		if i < len(known) {
			for k, text := range known[i] {
				cell(l, text, scene.Rect{X: at[k], Y: y, W: at[k+1] - at[k], H: high})
			}
		}
	}
	for _, x := range at {
		l.Line(palette.Ink, 0.15, nil, scene.Point{X: x, Y: head}, scene.Point{X: x, Y: d.Height})
	}
	place(f, d)
}

// cell sets a text into a cell, on two lines where one does not hold it.
func cell(l *scene.Layer, text string, r scene.Rect) {
	const size = 2.4
	lines := typeface.Wrap(typeface.Clean(text), size, r.W-1.2, false)
	for i, line := range lines[:min(2, len(lines))] {
		if i == 1 && len(lines) > 2 {
			line = typeface.Cut(line+" "+lines[2], size, r.W-1.2, false)
		}
		l.Texts = append(l.Texts, words(r.X+0.6, r.Y+2.9+float64(i)*3.1, line, size, false))
	}
}

// halves cuts a head at its bar.
func halves(head string) (first, second string) {
	for i, r := range head {
		if r == '|' {
			return head[:i], head[i+1:]
		}
	}
	return head, ""
}
