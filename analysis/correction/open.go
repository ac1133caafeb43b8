package correction

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
)

// sheet is what one mend opens: squares of a side along the main edge, counted from the corner of what it changes, so that it opens as much wherever
// the roof stands on its site.
type sheet struct {
	side   float64
	origin orb.Point    // of the squares, along and across the main edge [m]
	parts  []taper.Part // what is changed
	cells  map[[2]int]bool
}

// cell returns the square in which a place lies, given along and across the main edge.
func (s *sheet) cell(u orb.Point) [2]int {
	return [2]int{int(math.Floor((u[0] - s.origin[0]) / s.side)), int(math.Floor((u[1] - s.origin[1]) / s.side))}
}

// within returns a place in a square, by shares of its side.
func (s *sheet) within(c [2]int, x, y float64) orb.Point {
	return orb.Point{s.origin[0] + float64((float64(c[0])+x)*s.side), s.origin[1] + float64((float64(c[1])+y)*s.side)}
}

// low returns the lowest coordinates of what is changed, along and across the main edge.
func (d *designer) low(s *sheet) orb.Point {
	lo := orb.Point{math.Inf(1), math.Inf(1)}
	for i := range s.parts {
		p := &s.parts[i]
		for k, q := range p.On {
			if u := d.Turned(q); math.Abs(p.Thickness[k]) >= mend.Seen {
				lo = orb.Point{math.Min(lo[0], u[0]), math.Min(lo[1], u[1])}
			}
		}
	}
	return lo
}

// open counts the membrane that an option opens or covers, and books it to the changes: in half boards where boards are laid or cut, in
// squares as wide as edge strips round a sump of whole boards, as wide as a strip-in where only what lies on the boards comes off.
func (d *designer) open(o *Option, mends []*mend.Mend) {
	sheets := d.sheets(o, mends)
	for i, m := range mends {
		s := &sheets[i]
		if m.Sump > 0 {
			d.square(s, m.Change.At, m.Sump)
		}
		for k := range s.parts {
			d.mark(s, &s.parts[k])
		}
	}
	o.Opened, o.Boards = 0, nil
	for i, m := range mends {
		area := math.Min(sheets[i].area(), d.Surface.Area) // squares and strip-ins reach over the border
		o.Opened = math.Min(o.Opened+area, d.Surface.Area)
		if !m.Shallow() {
			for _, line := range sheets[i].edges() {
				o.Boards = append(o.Boards, orb.LineString{d.Back(line[0]), d.Back(line[1])})
			}
		}
		k := slices.IndexFunc(o.Changes, func(c mend.Change) bool { return c.Pond == m.Change.Pond && c.Kind == m.Kind })
		if k < 0 {
			continue
		}
		c := &o.Changes[k]
		if c.Opened = area; m.Fill && area > 4*standard.LocalShare*d.Surface.Area {
			c.Kind = mend.Retaper // no small taper any more
		}
	}
}

// sheets returns the sheet of each mend, of which no square is open yet: with the parts that it changes, and its squares laid from the sump, else from the corner of all that the mend changes, and notes which mend makes which facet.
func (d *designer) sheets(o *Option, mends []*mend.Mend) []sheet {
	out := make([]sheet, len(mends))
	for i, m := range mends {
		out[i] = sheet{side: mend.HalfBoard, cells: map[[2]int]bool{}}
		switch {
		case m.Shallow():
			out[i].side = standard.StripIn
		case m.Sump > 0 && m.Change.Line == nil:
			out[i].side = standard.SumpEdge // beyond the whole boards of a sump lie edge strips
		}
	}
	if o.Design == nil || len(mends) == 0 {
		return out
	}
	o.Made = make([]mend.Kind, len(o.Design.Facets))
	o.Design.Parts(func(p *taper.Part) {
		i := d.owner(mends, centre(p.On))
		seen := thick(p) >= mend.Seen
		if o.Made[p.Facet] == "" || seen {
			o.Made[p.Facet] = mends[i].Kind
		}
		if seen {
			out[i].parts = append(out[i].parts, taper.Part{Facet: p.Facet, On: slices.Clone(p.On), Thickness: slices.Clone(p.Thickness)})
		}
	})
	for i, m := range mends {
		switch s := &out[i]; {
		case m.Sump > 0:
			u := d.Turned(m.Change.At)
			s.origin = orb.Point{u[0] - m.Sump/2, u[1] - m.Sump/2}
		case len(s.parts) > 0:
			s.origin = d.low(s)
		}
	}
	return out
}

// owner returns the mend that changes the surface at a place: the one whose box it is nearest to.
func (d *designer) owner(mends []*mend.Mend, q orb.Point) int {
	best, far := 0, math.Inf(1)
	for i, m := range mends {
		if n := d.From(m, q); n < far {
			best, far = i, n
		}
	}
	return best
}

func thick(p *taper.Part) float64 {
	most := 0.0
	for _, t := range p.Thickness {
		most = math.Max(most, math.Abs(t))
	}
	return most
}

func centre(on []orb.Point) orb.Point {
	c := orb.Point{}
	for _, q := range on {
		c[0] += q[0] / float64(len(on))
		c[1] += q[1] / float64(len(on))
	}
	return c
}

// area returns the area of the squares and of the strip-in along their free sides [m2].
func (s *sheet) area() float64 {
	sides := 0
	for c := range s.cells {
		for _, n := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			if !s.cells[[2]int{c[0] + n[0], c[1] + n[1]}] {
				sides++
			}
		}
	}
	return float64(float64(len(s.cells))*s.side*s.side) + float64(float64(sides)*s.side*standard.StripIn)
}

// mark marks the squares that a part of new surface touches where it differs from the old.
func (d *designer) mark(s *sheet, p *taper.Part) {
	lo, hi := orb.Point{math.Inf(1), math.Inf(1)}, orb.Point{math.Inf(-1), math.Inf(-1)}
	for _, q := range p.On {
		u := d.Turned(q)
		lo = orb.Point{math.Min(lo[0], u[0]), math.Min(lo[1], u[1])}
		hi = orb.Point{math.Max(hi[0], u[0]), math.Max(hi[1], u[1])}
	}
	first, last := s.cell(lo), s.cell(hi)
	for x := first[0]; x <= last[0]; x++ {
		for y := first[1]; y <= last[1]; y++ {
			c := [2]int{x, y}
			if !s.cells[c] && d.differs(s, p, c) {
				s.cells[c] = true
			}
		}
	}
}

// differs reports whether the new surface differs from the old anywhere in a square, by nine places in it and the part's corners: those on the border of
// a square lie in the one in which the part does.
func (d *designer) differs(s *sheet, p *taper.Part, c [2]int) bool {
	mid := centre(p.On)
	for i, q := range p.On {
		if s.cell(d.Turned(towards(q, mid))) == c && math.Abs(p.Thickness[i]) >= mend.Seen {
			return true
		}
	}
	for i := range 9 {
		u := s.within(c, float64(1+2*(i%3))/6, float64(1+2*(i/3))/6)
		if t, ok := thicknessAt(p, d.Back(u)); ok && math.Abs(t) >= mend.Seen {
			return true
		}
	}
	return false
}

// towards moves q a hundredth of the way to a place.
func towards(q, to orb.Point) orb.Point {
	return orb.Point{q[0] + (to[0]-q[0])/100, q[1] + (to[1]-q[1])/100}
}

// thicknessAt returns the thickness of a part at q; ok is false outside it.
func thicknessAt(p *taper.Part, q orb.Point) (float64, bool) {
	a := p.On[0]
	for k := 1; k+1 < len(p.On); k++ {
		b, c := p.On[k], p.On[k+1]
		whole := vector.Turn(a, b, c)
		if whole <= 0 {
			continue
		}
		u, v, w := vector.Turn(q, b, c)/whole, vector.Turn(a, q, c)/whole, vector.Turn(a, b, q)/whole
		if u >= 0 && v >= 0 && w >= 0 {
			return float64(u*p.Thickness[0]) + float64(v*p.Thickness[k]) + float64(w*p.Thickness[k+1]), true
		}
	}
	return 0, false
}

// square marks a square of whole boards round a place, from which the squares of its sheet are laid.
func (d *designer) square(s *sheet, at orb.Point, side float64) {
	u := d.Turned(at)
	first := s.cell(orb.Point{u[0] - side/2 + s.side/2, u[1] - side/2 + s.side/2})
	n := int(math.Round(side / s.side))
	for i := range n {
		for k := range n {
			c := [2]int{first[0] + i, first[1] + k}
			q := d.Back(s.within(c, 0.5, 0.5))
			if _, ok := d.Locate.HeightAt(q[0], q[1]); ok {
				s.cells[c] = true
			}
		}
	}
}

// edges returns the border of the squares, along and across the main edge, each straight run once: those along the edge first.
func (s *sheet) edges() []orb.LineString {
	cells := slices.SortedFunc(maps.Keys(s.cells), func(a, b [2]int) int { return cmp.Or(cmp.Compare(a[1], b[1]), cmp.Compare(a[0], b[0])) })
	var out []orb.LineString
	for k := range 2 {
		if k == 1 {
			slices.SortFunc(cells, func(a, b [2]int) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
		}
		for side := range 2 {
			var run, last [2]int
			open := false
			end := func() {
				if open {
					a, b := [2]float64{}, [2]float64{}
					a[1-k], b[1-k] = float64(side), float64(side)
					b[k] = 1
					out = append(out, orb.LineString{s.within(run, a[0], a[1]), s.within(last, b[0], b[1])})
				}
				open = false
			}
			for _, c := range cells {
				beyond := c
				beyond[1-k] += 2*side - 1
				if s.cells[beyond] {
					end()
					continue
				}
				if open && (c[1-k] != last[1-k] || c[k] != last[k]+1) {
					end()
				}
				if !open {
					run, open = c, true
				}
				last = c
			}
			end()
		}
	}
	return out
}
