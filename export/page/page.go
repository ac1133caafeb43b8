// Package page sets texts, tables and drawings on sheets of paper, one below the other and over as many pages as they need.
//
// A page is a scene, as the drawings are; package pdf writes them. All sizes are millimetres on the sheet. Texts go through
// typeface.Clean, so that whatever a name holds stays a text of the lines it needs; a number stays with its unit.
package page

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"runnel/analysis/gather"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
	"runnel/export/record"
	"runnel/export/text"
)

// Leading is the distance of lines in sizes of the typeface.
const Leading = 1.3

// Sizes on the sheet [mm].
const (
	Margin  = 14.0 // left and right
	top     = 15.0
	bottom  = 14.0
	footing = 4.58 // base line of the foot above the lower edge
	heading = 4.2  // typeface
	small   = 2.4  // typeface of head and foot
)

// Paper returns a sheet of office paper, standing [mm]: letter where results are in US units, else A4.
func Paper(u record.Units) (width, height float64) {
	if u == record.US {
		return 215.9, 279.4
	}
	return 210, 297
}

// Style is how a text is set.
type Style struct {
	Size   float64 // of the typeface
	Bold   bool
	Colour string // empty: ink
	Indent float64
}

// Flow is a document being set.
type Flow struct {
	Pages   []*scene.Scene
	Missing bool // a text held letters that the typeface does not have

	width, height float64
	title         string
	x, w          float64 // of the column
	y             float64 // where the next line begins
	set           []bool  // by page: it was set here, not drawn elsewhere
}

// New begins a document on sheets of that size, with its first page.
func New(title string, width, height float64) *Flow {
	f := &Flow{width: width, height: height, x: Margin, w: width - 2*Margin}
	f.title = record.Title(f.clean(title))
	f.Add()
	return f
}

// Add begins a page.
func (f *Flow) Add() {
	f.Pages = append(f.Pages, &scene.Scene{Width: f.width, Height: f.height, Title: f.title})
	f.set = append(f.set, true)
	f.y = top
}

// Insert adds a sheet that is drawn already, as a section. What follows begins a page.
func (f *Flow) Insert(s *scene.Scene, section string) {
	own := *s // what is added to the page is not added to the drawing, which others show
	own.Layers, own.Marks = slices.Clone(s.Layers), slices.Clone(s.Marks)
	f.Pages = append(f.Pages, &own)
	f.y = 0
	f.Mark(section)
	f.y = f.height
	f.set = append(f.set, false)
}

// Column sets the column that the next texts fill, and where in it they begin.
func (f *Flow) Column(x, y, width float64) { f.x, f.y, f.w = x, y, width }

// Whole goes back to the column of the whole width.
func (f *Flow) Whole() { f.x, f.w = Margin, f.width-2*Margin }

// X returns where the column begins.
func (f *Flow) X() float64 { return f.x }

// Y returns where the next line begins.
func (f *Flow) Y() float64 { return f.y }

// Width returns how wide the column is.
func (f *Flow) Width() float64 { return f.w }

// Left returns how much of the page is left.
func (f *Flow) Left() float64 { return f.height - bottom - f.y }

// Room returns how much an empty page has.
func (f *Flow) Room() float64 { return f.height - bottom - top }

// Top is where an empty page begins [mm].
func (f *Flow) Top() float64 { return top }

// Bottom is where what stands on a page ends [mm].
func (f *Flow) Bottom() float64 { return f.height - bottom }

// Need begins a page where less than that is left.
func (f *Flow) Need(height float64) {
	if f.Left() < height {
		f.Add()
	}
}

// Skip leaves a gap.
func (f *Flow) Skip(height float64) { f.y = hundredth(f.y + height) }

// layer returns the layer of texts and shapes of the last page.
func (f *Flow) layer() *scene.Layer { return f.Pages[len(f.Pages)-1].Layer("page") }

// longestWord is how much of one word is printed [characters].
const longestWord = 60

// clean returns a text that the typeface can show, very long words cut.
func (f *Flow) clean(s string) string {
	c := typeface.Clean(s)
	if strings.Count(c, string(typeface.Missing)) > strings.Count(s, string(typeface.Missing)) {
		f.Missing = true
	}
	return record.Cut(c, longestWord)
}

// fixed stands for a blank at which a line is not broken.
const fixed = "\u00a0"

// wrap breaks a text into lines of at most that width.
func (f *Flow) wrap(s string, st Style, width float64) []string {
	words := text.Words(f.clean(s))
	for i := range words {
		words[i] = strings.ReplaceAll(words[i], " ", fixed)
	}
	joined := strings.ReplaceAll(strings.Join(words, " "), " - ", fixed+"-"+fixed) // a line that ends so reads as a word divided
	lines := typeface.Wrap(joined, st.Size, width, st.Bold)
	for i := range lines {
		lines[i] = strings.ReplaceAll(lines[i], fixed, " ")
	}
	return lines
}

// line sets one line with its upper edge at y.
func (f *Flow) line(s string, st Style, x, y float64, anchor scene.Anchor) {
	if st.Colour == "" {
		st.Colour = palette.Ink
	}
	l := f.layer()
	l.Texts = append(l.Texts, scene.Text{
		At: scene.Point{X: hundredth(x), Y: hundredth(y + st.Size)}, String: s, Size: st.Size, Bold: st.Bold, Anchor: anchor,
		Colour: st.Colour, Width: hundredth(typeface.Width(s, st.Size, st.Bold)),
	})
}

// mostLines is how many lines one paragraph gets.
const mostLines = 24

// shorten keeps that many lines, and marks that there were more.
func shorten(lines []string, most int) []string {
	if len(lines) <= most {
		return lines
	}
	lines = slices.Clone(lines[:most])
	r := []rune(lines[most-1])
	if len(r) > 2 { // room for the sign
		r = r[:len(r)-2]
	}
	lines[most-1] = strings.TrimRight(string(r), " ") + " …"
	return lines
}

// Paragraph sets a text in the column, over pages where it must.
func (f *Flow) Paragraph(s string, st Style) {
	for _, l := range shorten(f.wrap(s, st, f.w-st.Indent), mostLines) {
		f.Need(st.Size * Leading)
		f.line(l, st, f.x+st.Indent, f.y, scene.Start)
		f.Skip(st.Size * Leading)
	}
}

// Line sets a text on one line, cut where it is longer than the column.
func (f *Flow) Line(s string, st Style) {
	f.Need(st.Size * Leading)
	f.line(typeface.Cut(f.clean(s), st.Size, f.w-st.Indent, st.Bold), st, f.x+st.Indent, f.y, scene.Start)
	f.Skip(st.Size * Leading)
}

// Bullets sets texts with a dot before each.
func (f *Flow) Bullets(texts []string, st Style) {
	const indent = 3.5
	st.Indent += indent
	for _, s := range texts {
		f.Need(st.Size * Leading)
		f.line("•", st, f.x+st.Indent-indent, f.y, scene.Start)
		f.Paragraph(s, st)
		f.Skip(st.Size * 0.35)
	}
}

// Heading begins a section that needs at least so much room below its heading to begin on this page.
func (f *Flow) Heading(s string, room float64) {
	if f.y > top {
		f.Skip(4)
	}
	f.Need(heading*Leading + 2 + room)
	f.Mark(s)
	f.Line(s, Style{Size: heading, Bold: true})
	f.Rule(0.4)
	f.Skip(1.5)
}

// Mark notes that a section begins here, for those who leaf through the document.
func (f *Flow) Mark(s string) {
	p := f.Pages[len(f.Pages)-1]
	p.Marks = append(p.Marks, scene.Mark{Text: f.clean(s), Y: f.y})
}

// Rule draws a line over the column.
func (f *Flow) Rule(width float64) {
	f.layer().Line(palette.Ink, width, nil, scene.Point{X: f.x, Y: hundredth(f.y)}, scene.Point{X: hundredth(f.x + f.w), Y: hundredth(f.y)})
}

// Place puts a drawing on the page, its upper left corner at a place.
func (f *Flow) Place(s *scene.Scene, at scene.Point) {
	to := f.Pages[len(f.Pages)-1]
	move := func(p scene.Point) scene.Point {
		return scene.Point{X: hundredth(p.X + at.X), Y: hundredth(p.Y + at.Y)}
	}
	for _, from := range s.Layers {
		// One layer a drawing: what lies over what stays as it is.
		l := &scene.Layer{Name: fmt.Sprintf("drawing-%d", len(to.Layers))}
		to.Layers = append(to.Layers, l)
		for _, shape := range from.Shapes {
			paths := make([][]scene.Point, len(shape.Paths))
			for i, path := range shape.Paths {
				paths[i] = gather.Each(path, move)
			}
			shape.Paths = paths
			l.Add(shape)
		}
		for _, t := range from.Texts {
			t.At = move(t.At)
			l.Texts = append(l.Texts, t)
		}
	}
}

// Number ends the document: every page gets its number and foot, every page that was set here but the first gets head.
func (f *Flow) Number(head, foot string) {
	st := Style{Size: small}
	for i, p := range f.Pages {
		l := p.Layer("foot")
		put := func(s string, x, y float64, anchor scene.Anchor) {
			l.Texts = append(l.Texts, scene.Text{
				At: scene.Point{X: hundredth(x), Y: hundredth(y)}, String: s, Size: small, Anchor: anchor, Colour: palette.Ink,
				Width: hundredth(typeface.Width(s, small, false)),
			})
		}
		number := fmt.Sprintf("page %d of %d", i+1, len(f.Pages))
		room := p.Width - 2*Margin - typeface.Width(number, small, false) - 4
		put(typeface.Cut(f.clean(foot), small, room, st.Bold), Margin, p.Height-footing, scene.Start)
		put(number, p.Width-Margin, p.Height-footing, scene.End)
		if i > 0 && f.set[i] {
			put(typeface.Cut(f.clean(head), small, p.Width-2*Margin, false), Margin, 9, scene.Start)
		}
	}
}

func hundredth(x float64) float64 { return math.Round(x*100) / 100 }
