package layout

import (
	"cmp"
	"maps"
	"slices"

	"runnel/export/page"
)

// block is one list of the sheets: a heading with what stands under it. What it sets nothing for takes no room.
type block struct {
	wide  bool // it takes the whole width
	after bool // it is read after the block ahead of it
	set   func(f *page.Flow)
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
		x := piece{block: b, high: height(b.set, p.half)}
		if b.after {
			x.ahead = &blocks[i-1]
		}
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
	high  float64
	ahead *block // that is read before it, nil none
}

// waits reports whether what is read before it is still among pieces.
func (x *piece) waits(pieces []piece) bool {
	return x.ahead != nil && slices.ContainsFunc(pieces, func(y piece) bool { return y.block == x.ahead })
}

// packing is where the two columns of a page end.
type packing struct {
	f    *page.Flow
	half float64
	y    [2]float64
	in   map[*block]int // column of each block of the present page
}

// all sets pieces, over as many pages as they need: in their order and each where more room is, or the highest first, or each where it fits most tightly, whichever takes fewest.
func (p *packing) all(pieces []piece) {
	high := slices.Clone(pieces)
	slices.SortStableFunc(high, func(a, b piece) int { return cmp.Compare(b.high, a.high) })
	best, fewest, tight := pieces, p.pages(pieces, false), false
	for _, x := range []struct {
		list  []piece
		tight bool
	}{{high, false}, {pieces, true}, {high, true}} {
		if n := p.pages(x.list, x.tight); n < fewest {
			best, fewest, tight = x.list, n, x.tight
		}
	}
	p.each(best, tight, func() {
		p.f.Add()
		p.y, p.in = [2]float64{p.f.Y(), p.f.Y()}, nil
	}, p.beside)
}

// pages returns how many further pages pieces take.
func (p *packing) pages(pieces []piece, tight bool) (n int) {
	own := *p
	own.in = maps.Clone(p.in)
	own.each(pieces, tight, func() {
		n++
		own.y, own.in = [2]float64{p.f.Top(), p.f.Top()}, nil
	}, func(k int, x *piece) { own.y[k] += x.high })
	return n
}

// each calls set for every piece with its column, the first first that fits into one; where none does it turns the page.
func (p *packing) each(pieces []piece, tight bool, turn func(), set func(k int, x *piece)) {
	pieces = slices.Clone(pieces)
	for turned := false; len(pieces) > 0; {
		next := slices.IndexFunc(pieces, func(x piece) bool {
			return !x.waits(pieces) && p.column(&x, tight) >= 0
		})
		if next < 0 && !turned {
			turn()
			turned = true
			continue
		}
		k := 0
		if next >= 0 {
			k = p.column(&pieces[next], tight)
		} else { // higher than a page: it goes on over the next ones
			next = slices.IndexFunc(pieces, func(x piece) bool { return !x.waits(pieces) })
		}
		turned = false
		set(k, &pieces[next])
		if p.in == nil {
			p.in = map[*block]int{}
		}
		p.in[pieces[next].block] = k
		pieces = slices.Delete(pieces, next, next+1)
	}
}

// column returns the column with more room, or the one with less of those in which a piece fits, none before that of the block that is read before it; -1 where it fits in none.
func (p *packing) column(x *piece, tight bool) int {
	best := -1
	for k := range p.y {
		switch room := p.f.Bottom() - p.y[k]; {
		case room < x.high, k < p.in[x.ahead]:
		case best < 0, (p.y[k] > p.y[best]) == tight && p.y[k] != p.y[best]:
			best = k
		}
	}
	return best
}

// beside sets a piece into a column.
func (p *packing) beside(k int, x *piece) {
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
	const rounding = 0.01 // of places on the sheet [mm]
	for n > 1 && height(set(texts[:n-1]), half) >= all/2-rounding {
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
