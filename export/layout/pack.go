package layout

import (
	"runnel/export/page"
)

// block is one list of the sheets: a heading with what stands under it. What it sets nothing for takes no room.
type block struct {
	wide bool // it takes the whole width
	set  func(f *page.Flow)
}

// least is the room that a heading needs under it: heads and one row [mm].
const least = 11.0

// gutter lies between two columns [mm].
const gutter = 7.0

// pack sets blocks in two columns, each into the one with more room, and wide ones below both. What does not fit waits, while what follows it fills the page.
func pack(f *page.Flow, blocks []block) {
	f.Whole()
	p := &packing{f: f, half: (f.Width() - gutter) / 2, y: [2]float64{f.Y(), f.Y()}}
	var waiting []piece
	for i := range blocks {
		b := &blocks[i]
		x := piece{b, height(b.set, p.half)}
		switch {
		case x.high == 0:
		case b.wide || x.high > f.Room():
			p.all(waiting)
			waiting = nil
			p.below(b)
		default:
			waiting = append(waiting, x)
		}
	}
	p.all(waiting)
	f.Column(page.Margin, max(p.y[0], p.y[1]), p.half)
	f.Whole()
}

// piece is a block with the room that it takes in a column.
type piece struct {
	*block
	high float64
}

// packing is where the two columns of a page end.
type packing struct {
	f    *page.Flow
	half float64
	y    [2]float64
}

// all sets pieces, over as many pages as they need.
func (p *packing) all(pieces []piece) {
	for len(pieces) > 0 {
		next := -1
		for i := range pieces {
			if p.room() >= pieces[i].high {
				next = i
				break
			}
		}
		if next < 0 {
			p.f.Add()
			p.y = [2]float64{p.f.Y(), p.f.Y()}
			next = 0
		}
		p.beside(&pieces[next])
		pieces = append(pieces[:next:next], pieces[next+1:]...)
	}
}

// shorter is the column with more room.
func (p *packing) shorter() int {
	if p.y[1] < p.y[0] {
		return 1
	}
	return 0
}

// room returns how much that column has.
func (p *packing) room() float64 {
	p.f.Column(page.Margin, p.y[p.shorter()], p.half)
	return p.f.Left()
}

// beside sets a piece into that column.
func (p *packing) beside(x *piece) {
	k := p.shorter()
	p.f.Column(page.Margin+float64(k)*(p.half+gutter), p.y[k], p.half)
	x.set(p.f)
	p.y[k] = p.f.Y()
}

// below sets a block over the whole width, under both columns.
func (p *packing) below(b *block) {
	p.f.Column(page.Margin, max(p.y[0], p.y[1]), p.half)
	p.f.Whole()
	b.set(p.f)
	p.y = [2]float64{p.f.Y(), p.f.Y()}
}

// endless is the height of a sheet on which every block fits [mm].
const endless = 1e5

// height returns how much room a block takes in a width, with the gap over its heading; 0 where it sets nothing.
func height(set func(f *page.Flow), width float64) float64 {
	f := page.New("", width+2*page.Margin, endless)
	f.Skip(1)
	y := f.Y()
	set(f)
	return f.Y() - y
}

// twoColumns sets texts with a dot before each in two columns of about one height.
func twoColumns(f *page.Flow, texts []string, st page.Style) {
	half := (f.Width() - gutter) / 2
	set := func(list []string) func(*page.Flow) {
		return func(f *page.Flow) { f.Bullets(list, st) }
	}
	all := height(set(texts), half)
	n := len(texts)
	for n > 1 && height(set(texts[:n-1]), half) >= all/2 {
		n--
	}
	high := height(set(texts[:n]), half)
	f.Need(max(high, all-high))
	y := f.Y()
	f.Column(page.Margin, y, half)
	f.Bullets(texts[:n], st)
	f.Column(page.Margin+half+gutter, y, half)
	f.Bullets(texts[n:], st)
	f.Column(page.Margin, y+max(high, all-high), half)
	f.Whole()
}
