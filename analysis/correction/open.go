package correction

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/standard"
	"runnel/analysis/taper"
)

// Seen is the least change of the surface for which the membrane is opened [m]: less is left to it. What changes less counts as unchanged. Own choice.
const Seen = 0.002

// half is the side of the squares in which opened membrane is counted: half a board [m].
const half = standard.Board / 2

// sheet is what one mend opens: squares of a side along the main edge.
type sheet struct {
	side  float64
	cells map[[2]int]bool
}

// open counts the membrane that an option opens or covers, and books it to the changes: in half boards where boards are laid or cut, in
// squares as wide as a strip-in where only what lies on the boards comes off.
func (d *designer) open(o *Option, mends []*mend) {
	sheets := make([]sheet, len(mends))
	for i, m := range mends {
		sheets[i] = sheet{half, map[[2]int]bool{}}
		if m.shallow() {
			sheets[i].side = standard.StripIn
		}
		if m.sump > 0 {
			d.square(&sheets[i], m.change.At, m.sump)
		}
	}
	if o.Design != nil && len(mends) > 0 {
		o.Made = make([]Kind, len(o.Design.Facets))
		o.Design.Parts(func(p *taper.Part) {
			i := d.owner(mends, centre(p.On))
			if o.Made[p.Facet] == "" || thick(p) >= Seen {
				o.Made[p.Facet] = mends[i].kind
			}
			if thick(p) >= Seen {
				d.mark(&sheets[i], p)
			}
		})
	}
	o.Opened = 0
	for i, m := range mends {
		area := math.Min(sheets[i].area(), d.s.Area) // squares and strip-ins reach over the border
		o.Opened = math.Min(o.Opened+area, d.s.Area)
		k := slices.IndexFunc(o.Changes, func(c Change) bool { return c.Pond == m.change.Pond && c.Kind == m.kind })
		if k < 0 {
			continue
		}
		c := &o.Changes[k]
		if c.Opened = area; m.fill && area > 4*standard.LocalShare*d.s.Area {
			c.Kind = Retaper // no small taper any more
		}
	}
}

// owner returns the mend that changes the surface at a place: the one whose box it is nearest to.
func (d *designer) owner(mends []*mend, q orb.Point) int {
	best, far := 0, math.Inf(1)
	for i, m := range mends {
		if n := d.from(m, q); n < far {
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
		u := d.turned(q)
		lo = orb.Point{math.Min(lo[0], u[0]), math.Min(lo[1], u[1])}
		hi = orb.Point{math.Max(hi[0], u[0]), math.Max(hi[1], u[1])}
	}
	for x := int(math.Floor(lo[0] / s.side)); x <= int(math.Floor(hi[0]/s.side)); x++ {
		for y := int(math.Floor(lo[1] / s.side)); y <= int(math.Floor(hi[1]/s.side)); y++ {
			c := [2]int{x, y}
			if !s.cells[c] && d.differs(s, p, c) {
				s.cells[c] = true
			}
		}
	}
}

// differs reports whether the new surface differs from the old anywhere in a square, by nine places in it and the part's corners.
func (d *designer) differs(s *sheet, p *taper.Part, c [2]int) bool {
	for i, q := range p.On {
		u := d.turned(q)
		if int(math.Floor(u[0]/s.side)) == c[0] && int(math.Floor(u[1]/s.side)) == c[1] && math.Abs(p.Thickness[i]) >= Seen {
			return true
		}
	}
	for i := range 9 {
		u := orb.Point{(float64(c[0]) + float64(1+2*(i%3))/6) * s.side, (float64(c[1]) + float64(1+2*(i/3))/6) * s.side}
		if t, ok := thicknessAt(p, d.back(u)); ok && math.Abs(t) >= Seen {
			return true
		}
	}
	return false
}

// thicknessAt returns the thickness of a part at q; ok is false outside it.
func thicknessAt(p *taper.Part, q orb.Point) (float64, bool) {
	a := p.On[0]
	for k := 1; k+1 < len(p.On); k++ {
		b, c := p.On[k], p.On[k+1]
		whole := turn(a, b, c)
		if whole <= 0 {
			continue
		}
		u, v, w := turn(q, b, c)/whole, turn(a, q, c)/whole, turn(a, b, q)/whole
		if u >= 0 && v >= 0 && w >= 0 {
			return float64(u*p.Thickness[0]) + float64(v*p.Thickness[k]) + float64(w*p.Thickness[k+1]), true
		}
	}
	return 0, false
}

func turn(a, b, c orb.Point) float64 {
	return float64((b[0]-a[0])*(c[1]-a[1])) - float64((c[0]-a[0])*(b[1]-a[1]))
}

// square marks a square of whole boards round a place.
func (d *designer) square(s *sheet, at orb.Point, side float64) {
	u := d.turned(at)
	n := int(math.Round(side / s.side))
	x, y := int(math.Round(u[0]/s.side))-n/2, int(math.Round(u[1]/s.side))-n/2
	for i := range n {
		for k := range n {
			q := d.back(orb.Point{(float64(x+i) + 0.5) * s.side, (float64(y+k) + 0.5) * s.side})
			if _, ok := d.locate.HeightAt(q[0], q[1]); ok {
				s.cells[[2]int{x + i, y + k}] = true
			}
		}
	}
}

// turned returns a place along and across the main edge, back the reverse.
func (d *designer) turned(p orb.Point) orb.Point {
	a := d.domain.Axis
	return orb.Point{float64(p[0]*a[0]) + float64(p[1]*a[1]), float64(p[1]*a[0]) - float64(p[0]*a[1])}
}

func (d *designer) back(u orb.Point) orb.Point {
	a := d.domain.Axis
	return orb.Point{float64(u[0]*a[0]) - float64(u[1]*a[1]), float64(u[0]*a[1]) + float64(u[1]*a[0])}
}

// from returns how far a place is from the box round what a mend changes, squared [m2]; of places as near, the one nearer to its middle comes first.
func (d *designer) from(m *mend, q orb.Point) float64 {
	if m.box == nil {
		b := m.change.At.Bound()
		t := d.s.TIN
		for v := range m.set {
			b = b.Extend(orb.Point{t.X[v], t.Y[v]})
		}
		for _, p := range m.change.Line {
			b = b.Extend(p)
		}
		m.box = &b
	}
	dx := math.Max(0, math.Max(m.box.Min[0]-q[0], q[0]-m.box.Max[0]))
	dy := math.Max(0, math.Max(m.box.Min[1]-q[1], q[1]-m.box.Max[1]))
	return float64(dx*dx) + float64(dy*dy) + 1e-6*near2(m.change.At, q)
}
