package correction

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/standard"
	"runnel/analysis/taper"
)

// seen is the least change of the surface for which the membrane is opened [m]: less is left to it.
const seen = 0.002

// half is the side of the squares in which opened membrane is counted: half a board [m].
const half = standard.Board / 2

// open counts the membrane that an option opens or covers, in half boards along the main edge and a strip-in round them, and books it to the changes.
func (d *designer) open(o *Option, mends []*mend) {
	cells := map[[2]int]bool{}
	if o.Design != nil {
		o.Design.Parts(func(p *taper.Part) { d.mark(cells, p) })
	}
	for _, m := range mends {
		if m.sump > 0 {
			d.square(cells, m.change.At, m.sump)
		}
	}
	owner := map[[2]int]int{}
	for c := range cells {
		best, far := -1, math.Inf(1)
		for i, m := range mends {
			if n := d.from(m, d.middle(c)); n < far {
				best, far = i, n
			}
		}
		owner[c] = best
	}
	o.Opened = 0
	share := make([]int, len(mends))
	sides := make([]int, len(mends))
	total, edges := 0, 0
	for c := range cells {
		total++
		n := 0
		for _, s := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			if !cells[[2]int{c[0] + s[0], c[1] + s[1]}] {
				n++
			}
		}
		edges += n
		if i := owner[c]; i >= 0 {
			share[i]++
			sides[i] += n
		}
	}
	o.Opened = opened(total, edges)
	for i := range mends {
		k := slices.IndexFunc(o.Changes, func(c Change) bool { return c.Pond == mends[i].change.Pond && c.Kind == mends[i].kind })
		if k >= 0 {
			c := &o.Changes[k]
			c.Opened = opened(share[i], sides[i])
			if mends[i].fill && c.Opened > 4*standard.LocalShare*d.s.Area {
				c.Kind = Retaper // no small taper any more
			}
		}
	}
}

// opened returns the area of half boards and the strip-in along their free sides [m2].
func opened(cells, sides int) float64 {
	return float64(cells)*half*half + float64(float64(sides)*half*standard.StripIn)
}

// mark marks the squares that a part of new surface touches where it differs from the old.
func (d *designer) mark(cells map[[2]int]bool, p *taper.Part) {
	most := 0.0
	lo, hi := orb.Point{math.Inf(1), math.Inf(1)}, orb.Point{math.Inf(-1), math.Inf(-1)}
	for i, q := range p.On {
		most = math.Max(most, math.Abs(p.Thickness[i]))
		u := d.turned(q)
		lo = orb.Point{math.Min(lo[0], u[0]), math.Min(lo[1], u[1])}
		hi = orb.Point{math.Max(hi[0], u[0]), math.Max(hi[1], u[1])}
	}
	if most < seen {
		return
	}
	for x := int(math.Floor(lo[0] / half)); x <= int(math.Floor(hi[0]/half)); x++ {
		for y := int(math.Floor(lo[1] / half)); y <= int(math.Floor(hi[1]/half)); y++ {
			c := [2]int{x, y}
			if !cells[c] && d.differs(p, c) {
				cells[c] = true
			}
		}
	}
}

// differs reports whether the new surface differs from the old anywhere in a square, by nine places in it and the part's corners.
func (d *designer) differs(p *taper.Part, c [2]int) bool {
	for i, q := range p.On {
		u := d.turned(q)
		if int(math.Floor(u[0]/half)) == c[0] && int(math.Floor(u[1]/half)) == c[1] && math.Abs(p.Thickness[i]) >= seen {
			return true
		}
	}
	for i := range 9 {
		u := orb.Point{(float64(c[0]) + float64(1+2*(i%3))/6) * half, (float64(c[1]) + float64(1+2*(i/3))/6) * half}
		if t, ok := thicknessAt(p, d.back(u)); ok && math.Abs(t) >= seen {
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
func (d *designer) square(cells map[[2]int]bool, at orb.Point, side float64) {
	u := d.turned(at)
	n := int(math.Round(side / half))
	x, y := int(math.Round(u[0]/half))-n/2, int(math.Round(u[1]/half))-n/2
	for i := range n {
		for k := range n {
			q := d.middle([2]int{x + i, y + k})
			if _, ok := d.locate.HeightAt(q[0], q[1]); ok {
				cells[[2]int{x + i, y + k}] = true
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

func (d *designer) middle(c [2]int) orb.Point {
	return d.back(orb.Point{(float64(c[0]) + 0.5) * half, (float64(c[1]) + 0.5) * half})
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
