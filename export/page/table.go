package page

import (
	"strings"

	"runnel/analysis/gather"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
)

// Table is rows of texts under heads.
type Table struct {
	Size    float64 // of the typeface [mm]
	Groups  []Group // heads over several columns; none: only the columns have heads
	Columns []Column
	Rows    [][]string
}

// Column is one column of a table.
type Column struct {
	Head  string
	Right bool // texts stand at its right edge
}

// Group is a head over so many columns.
type Group struct {
	Head string
	Over int
}

// Sizes of tables [mm].
const (
	pad      = 1.8   // left and right of a text
	between  = 0.7   // above and below a text
	spare    = 0.1   // that a text is given so that rounding breaks no word
	widest   = 110.0 // of a column, where others have need
	longest  = 40.0  // word that a column is made wide enough for
	mostCell = 6     // lines of one cell
)

// shading lies under heads.
const shading = "#E4E4EA"

// grid is a table whose columns have widths.
type grid struct {
	*Table
	f      *Flow
	widths []float64
	heads  [][]string
	high   float64 // of the heads

	headStyle, cellStyle Style
}

// Table sets a table as wide as the column, with its heads at the top of every page that it needs.
func (f *Flow) Table(t *Table) {
	g := &grid{Table: t, f: f, headStyle: Style{Size: t.Size, Bold: true}, cellStyle: Style{Size: t.Size}}
	g.measure()
	first := true
	for _, row := range t.Rows {
		cells, lines := make([][]string, len(row)), 1
		for i, s := range row {
			cells[i] = g.cell(s, g.cellStyle, i)
			lines = max(lines, len(cells[i]))
		}
		high := float64(lines)*g.Size*Leading + 2*between
		if first {
			f.Need(g.high + high)
			g.head()
		} else if f.Left() < high {
			f.Add()
			g.head()
		}
		first = false
		g.row(cells, g.cellStyle)
		f.Skip(high)
		f.layer().Line("#C8C8CE", 0.15, nil, scene.Point{X: f.x, Y: f.y}, scene.Point{X: hundredth(f.x + f.w), Y: f.y})
	}
}

// cell returns the lines of a text in column i.
func (g *grid) cell(s string, st Style, i int) []string {
	return shorten(g.f.wrap(s, st, g.widths[i]-2*pad), mostCell)
}

// measure gives the columns their widths: as much as their texts take, less where that is more than there is, but no less than their
// longest words take.
func (g *grid) measure() {
	least, most := make([]float64, len(g.Columns)), make([]float64, len(g.Columns))
	for i, c := range g.Columns {
		least[i], most[i] = g.extent(c.Head, g.headStyle)
		most[i] = min(most[i], least[i]*1.6) // heads may stand on two lines
		for _, row := range g.Rows {
			a, b := g.extent(row[i], g.cellStyle)
			least[i], most[i] = max(least[i], a), max(most[i], min(b, widest))
		}
		least[i], most[i] = min(least[i], longest)+2*pad, max(least[i], most[i])+2*pad
	}
	g.widths = fit(least, most, g.f.w)
	g.high = 2 * between
	lines := 1
	g.heads = make([][]string, len(g.Columns))
	for i, c := range g.Columns {
		g.heads[i] = g.cell(c.Head, g.headStyle, i)
		lines = max(lines, len(g.heads[i]))
	}
	g.high += float64(lines) * g.Size * Leading
	if len(g.Groups) > 0 {
		g.high += g.Size*Leading + 2*between
	}
}

// extent returns how wide the longest word of a text and the whole text are.
func (g *grid) extent(s string, st Style) (word, whole float64) {
	c := g.f.clean(s)
	if len(c) > 200 {
		return widest, widest
	}
	for _, w := range strings.Split(c, " ") {
		word = max(word, typeface.Width(w, st.Size, st.Bold))
	}
	return word + spare, typeface.Width(c, st.Size, st.Bold) + spare
}

// fit shares a width out between the columns. Where it is less than the texts take, the widest columns give way first.
func fit(least, most []float64, width float64) []float64 {
	out := make([]float64, len(least))
	sum := func(limit float64) (total float64) {
		for i := range out {
			out[i] = max(least[i], min(most[i], limit))
			total += out[i]
		}
		return total
	}
	total := sum(width)
	if total > width {
		low, high := 0.0, width
		for range 40 {
			if limit := (low + high) / 2; sum(limit) > width {
				high = limit
			} else {
				low = limit
			}
		}
		total = sum(low)
	}
	for i := range out {
		out[i] = hundredth(out[i] * (width / total))
	}
	return out
}

// head sets the heads.
func (g *grid) head() {
	f := g.f
	f.layer().Box(scene.Rect{X: f.x, Y: f.y, W: f.w, H: hundredth(g.high)}, shading, "", 0)
	high := g.high
	if len(g.Groups) > 0 {
		g.groups()
		high -= g.Size*Leading + 2*between
	}
	lines := int((high-2*between)/(g.Size*Leading) + 0.5)
	bottom := gather.Each(g.heads, func(h []string) []string { return append(make([]string, lines-len(h)), h...) })
	g.row(bottom, g.headStyle)
	f.Skip(high)
}

// groups sets the heads over several columns, and lines between them.
func (g *grid) groups() {
	f, k, x := g.f, 0, g.f.x
	high := g.Size*Leading + 2*between
	for n, group := range g.Groups {
		w := 0.0
		for range group.Over {
			w += g.widths[k]
			k++
		}
		if n > 0 {
			f.layer().Line("#FFFFFF", 0.4, nil, scene.Point{X: hundredth(x), Y: f.y}, scene.Point{X: hundredth(x), Y: hundredth(f.y + g.high)})
		}
		f.line(typeface.Cut(f.clean(group.Head), g.Size, w-pad, true), g.headStyle, x+w/2, f.y+between, scene.Middle)
		x += w
	}
	f.Skip(high)
}

// row sets lines of texts beside each other.
func (g *grid) row(cells [][]string, st Style) {
	x := g.f.x
	for i, lines := range cells {
		y := g.f.y + between
		at, anchor := x+pad, scene.Start
		if g.Columns[i].Right {
			at, anchor = x+g.widths[i]-pad, scene.End
		}
		for _, l := range lines {
			if l != "" {
				g.f.line(l, st, at, y, anchor)
			}
			y += st.Size * Leading
		}
		x += g.widths[i]
	}
}

// Facts are words, each with its text to the right of it.
type Facts struct {
	Rows  [][2]string
	Style Style
	Words float64 // width of the words' column [mm]
	Gap   float64 // between facts [mm]
}

type factLine struct{ word, text string }

func (f *Flow) factLines(t *Facts) [][]factLine {
	all := make([][]factLine, len(t.Rows))
	bold := t.Style
	bold.Bold = true
	for i, r := range t.Rows {
		words := shorten(f.wrap(r[0], bold, t.Words-2), mostCell)
		texts := shorten(f.wrap(r[1], t.Style, f.w-t.Words), mostLines)
		all[i] = make([]factLine, max(len(words), len(texts)))
		for k, w := range words {
			all[i][k].word = w
		}
		for k, s := range texts {
			all[i][k].text = s
		}
	}
	return all
}

// Height returns how much room facts take in the column.
func (f *Flow) Height(t *Facts) float64 {
	return gather.Sum(f.factLines(t), func(lines []factLine) float64 { return float64(len(lines))*t.Style.Size*Leading + t.Gap })
}

// Facts sets facts in the column, over pages where it must.
func (f *Flow) Facts(t *Facts) {
	bold := t.Style
	bold.Bold = true
	for _, lines := range f.factLines(t) {
		for _, l := range lines {
			f.Need(t.Style.Size * Leading)
			if l.word != "" {
				f.line(l.word, bold, f.x, f.y, scene.Start)
			}
			if l.text != "" {
				f.line(l.text, t.Style, f.x+t.Words, f.y, scene.Start)
			}
			f.Skip(t.Style.Size * Leading)
		}
		f.Skip(t.Gap)
	}
}

// Tint puts a coloured box behind a word and sets it in the column's line without going on to the next; it returns how wide it is.
func (f *Flow) Tint(word, fill, colour string, size float64) float64 {
	w := hundredth(typeface.Width(word, size, true) + 3)
	f.layer().Box(scene.Rect{X: f.x, Y: f.y, W: w, H: hundredth(size * 1.45)}, fill, palette.Ink, 0.2)
	f.line(word, Style{Size: size, Bold: true, Colour: colour}, f.x+1.5, f.y+size*0.12, scene.Start)
	return w
}
