package surveysheet

import (
	"runnel/analysis/gather"
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
	sum := gather.Sum(fields, func(d field) float64 { return d.share })
	d := &scene.Scene{Width: f.Width(), Height: tall}
	l := d.Layer("page")
	x := 0.0
	for _, e := range fields {
		w := f.Width() * e.share / sum
		l.Texts = append(l.Texts, words(x, tall-5.2, e.word, 2.3, false))
		l.Line(palette.Ink, 0.2, nil, scene.Point{X: x, Y: tall - 0.4}, scene.Point{X: x + w - lineEnd, Y: tall - 0.4})
		if e.text != "" {
			known := typeface.Cut(typeface.Clean(e.text), em, w-lineEnd-1, true)
			l.Texts = append(l.Texts, words(x+1, tall-1.2, known, em, true))
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

// Sizes of tables to fill in [mm].
const (
	headHigh = 8.0 // heads on two lines
	inside   = 0.6 // from a line to a text
)

// ruled draws a table to fill in, of so many rows or as many as are known. Known rows come first and go on over pages; empty ones end with the page.
func ruled(f *page.Flow, columns []column, known [][]string, rows int, high float64) {
	for {
		n := min(max(rows, len(known)), int((f.Left()-headHigh-1)/high))
		set := min(n, len(known))
		ruledPart(f, columns, known[:set], n, high)
		if known, rows = known[set:], rows-n; len(known) == 0 {
			return
		}
		f.Add()
	}
}

// ruledPart draws the rows of one page.
func ruledPart(f *page.Flow, columns []column, known [][]string, rows int, high float64) {
	sum := gather.Sum(columns, func(c column) float64 { return c.share })
	d := &scene.Scene{Width: f.Width(), Height: headHigh + float64(rows)*high}
	l := d.Layer("page")
	at := make([]float64, len(columns)+1)
	for i, c := range columns {
		at[i+1] = at[i] + f.Width()*c.share/sum
		first, second := halves(c.head)
		l.Texts = append(l.Texts, words(at[i]+inside, 3.2, first, 2.3, true))
		if second != "" {
			l.Texts = append(l.Texts, words(at[i]+inside, 6.2, second, 2.3, true))
		}
	}
	for i := range rows + 1 {
		y := headHigh + float64(i)*high
		l.Line(palette.Ink, 0.15, nil, scene.Point{Y: y}, scene.Point{X: d.Width, Y: y})
	}
	for i, row := range known {
		for k, text := range row {
			cell(l, text, scene.Rect{X: at[k], Y: headHigh + float64(i)*high, W: at[k+1] - at[k], H: high})
		}
	}
	for _, x := range at {
		l.Line(palette.Ink, 0.15, nil, scene.Point{X: x, Y: headHigh}, scene.Point{X: x, Y: d.Height})
	}
	place(f, d)
}

// cell sets a text into a cell, on two lines where one does not hold it.
func cell(l *scene.Layer, text string, r scene.Rect) {
	const size = 2.4
	lines := typeface.Wrap(typeface.Clean(text), size, r.W-2*inside, false)
	for i, line := range lines[:min(2, len(lines))] {
		if i == 1 && len(lines) > 2 {
			line = typeface.Cut(line+" "+lines[2], size, r.W-2*inside, false)
		}
		l.Texts = append(l.Texts, words(r.X+inside, r.Y+2.9+float64(i)*3.1, line, size, false))
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
