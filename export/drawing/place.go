package drawing

import (
	"math"

	"runnel/export/drawing/scene"
)

// placer finds room for labels: none overlaps another, a symbol or a leader.
type placer struct {
	room  scene.Rect   // nothing leaves it
	taken []scene.Rect // labels and symbols
	open  []scene.Rect // other places where no label stands, but leaders may pass
	lines [][2]scene.Point
	marks []scene.Point // outlets: a label close to one is read as its own
	pools []scene.Rect  // the extents of ponds: likewise
	soft  []scene.Point // places better left free: points along lines
	cells map[[2]int][]int32
}

// apart is how far labels keep from each other and from symbols [mm].
const apart = 0.5

// cell is the side of the squares in which soft points are filed [mm].
const cell = 5

// avoid files the points of a line that labels should not cover, about a millimetre apart.
func (p *placer) avoid(line []scene.Point) {
	if p.cells == nil {
		p.cells = map[[2]int][]int32{}
	}
	for i := 1; i < len(line); i++ {
		n := int(distance(line[i-1], line[i])) + 1
		for k := range n {
			t := float64(k) / float64(n)
			q := scene.Point{X: line[i-1].X + float64((line[i].X-line[i-1].X)*t), Y: line[i-1].Y + float64((line[i].Y-line[i-1].Y)*t)}
			key := [2]int{int(q.X / cell), int(q.Y / cell)}
			p.cells[key] = append(p.cells[key], int32(len(p.soft)))
			p.soft = append(p.soft, q)
		}
	}
}

// covered counts the soft points in r.
func (p *placer) covered(r scene.Rect) int {
	n := 0
	for x := int(r.X / cell); x <= int((r.X+r.W)/cell); x++ {
		for y := int(r.Y / cell); y <= int((r.Y+r.H)/cell); y++ {
			for _, i := range p.cells[[2]int{x, y}] {
				if q := p.soft[i]; q.X > r.X && q.X < r.X+r.W && q.Y > r.Y && q.Y < r.Y+r.H {
					n++
				}
			}
		}
	}
	return n
}

// free reports whether r holds nothing that must stay visible.
func (p *placer) free(r scene.Rect) bool {
	if !r.Within(p.room) {
		return false
	}
	wide := r.Inset(-apart)
	for _, list := range [2][]scene.Rect{p.taken, p.open} {
		for i := range list {
			if wide.Overlaps(list[i]) {
				return false
			}
		}
	}
	for i := range p.lines {
		if r.Crosses(p.lines[i][0], p.lines[i][1]) {
			return false
		}
	}
	return true
}

// clear reports whether a leader from a to b crosses no label.
func (p *placer) clear(a, b scene.Point, own scene.Rect) bool {
	for i := range p.taken {
		if p.taken[i].Crosses(a, b) && !own.Overlaps(p.taken[i]) {
			return false
		}
	}
	return true
}

// take marks r as used.
func (p *placer) take(r scene.Rect) { p.taken = append(p.taken, r) }

// around are the directions in which a label may stand from its place, best first, and what the later ones cost.
var around = [...]scene.Point{{X: 1, Y: 0}, {X: -1, Y: 0}, {X: 0.7, Y: -0.7}, {X: 0.7, Y: 0.7}, {X: -0.7, Y: -0.7}, {X: -0.7, Y: 0.7}, {X: 0, Y: -1}, {X: 0, Y: 1}}

// reaches are how far a label may stand from the edge of its symbol [mm]; beyond the first a leader joins them.
var reaches = [...]float64{0.8, 4, 8, 13, 20, 30}

// leading returns the length of all leaders [mm].
func (p *placer) leading() float64 {
	sum := 0.0
	for _, l := range p.lines {
		sum += distance(l[0], l[1])
	}
	return sum
}

// tangled returns what it costs that a leader crosses others.
func (p *placer) tangled(a, b scene.Point) float64 {
	cost := 0.0
	for _, l := range p.lines {
		if meet(a, b, l[0], l[1]) {
			cost += 150
		}
	}
	return cost
}

// meet reports whether two lines cross.
func meet(a, b, c, d scene.Point) bool {
	side := func(p, q, r scene.Point) bool {
		return float64((q.X-p.X)*(r.Y-p.Y)) > float64((q.Y-p.Y)*(r.X-p.X))
	}
	return side(a, b, c) != side(a, b, d) && side(c, d, a) != side(c, d, b)
}

// spot is where a label was put.
type spot struct {
	box    scene.Rect
	leader bool
	from   scene.Point
	to     scene.Point
}

// beside finds room for a label of size w by h beside a symbol, and takes it. The symbol is centred at c and covers half
// on each side of it.
func (p *placer) beside(c scene.Point, half, w, h float64) (spot, bool) {
	best, cost, found := spot{}, math.Inf(1), false
	own := scene.Rect{X: c.X - half, Y: c.Y - half, W: 2 * half, H: 2 * half}
	for k, reach := range reaches {
		for i, d := range around {
			price := float64(i) + 25*float64(k)
			if price >= cost {
				continue
			}
			box := boxToward(c, d, half+reach, w, h)
			if !p.free(box) {
				continue
			}
			s := spot{box: box, leader: k > 0, from: c, to: nearest(box, c)}
			if s.leader {
				if !p.clear(s.from, s.to, own) {
					continue
				}
				price += p.tangled(s.from, s.to)
			}
			if price += 3*float64(p.covered(box)) + p.mistaken(box, c); price < cost {
				best, cost, found = s, price, true
			}
		}
	}
	if found {
		p.take(best.box)
		if best.leader {
			p.lines = append(p.lines, [2]scene.Point{best.from, best.to})
		}
	}
	return best, found
}

// mistaken returns what it costs that a label of the symbol at c stands close to outlets and ponds that are not its own.
func (p *placer) mistaken(box scene.Rect, c scene.Point) float64 {
	cost := 0.0
	for _, m := range p.marks {
		d := distance(nearest(box, m), m)
		if m != c && (d < outletHalf+2 || d < 8 && d < distance(nearest(box, c), c)) {
			cost += 40
		}
	}
	own := distance(nearest(box, c), c)
	for _, pool := range p.pools {
		if holds(pool, c) {
			own = min(own, rectsApart(box, pool))
		}
	}
	for _, pool := range p.pools {
		if d := rectsApart(box, pool); !holds(pool, c) && (d < 2 || d < 8 && d < 1.5*own) {
			cost += 40
		}
	}
	return cost
}

// holds reports whether c lies in r.
func holds(r scene.Rect, c scene.Point) bool { return nearest(r, c) == c }

// rectsApart returns how far two rectangles are apart, 0 where they meet.
func rectsApart(a, b scene.Rect) float64 {
	return math.Hypot(max(0, a.X-b.X-b.W, b.X-a.X-a.W), max(0, a.Y-b.Y-b.H, b.Y-a.Y-a.H))
}

// boxToward returns a box of size w by h that lies from c in direction d, reach away.
func boxToward(c, d scene.Point, reach, w, h float64) scene.Rect {
	r := scene.Rect{X: c.X + float64(d.X*reach), Y: c.Y + float64(d.Y*reach), W: w, H: h}
	switch {
	case d.X < 0:
		r.X -= w
	case d.X == 0:
		r.X -= w / 2
	}
	switch {
	case d.Y < 0:
		r.Y -= h
	case d.Y == 0:
		r.Y -= h / 2
	}
	r.X, r.Y = hundredth(r.X), hundredth(r.Y)
	return r
}

// nearest returns the place of r that is nearest to c.
func nearest(r scene.Rect, c scene.Point) scene.Point {
	return scene.Point{X: max(r.X, min(c.X, r.X+r.W)), Y: max(r.Y, min(c.Y, r.Y+r.H))}
}

// over finds the best of several centres for a label, and takes it. The label hides the lines under it, but none of
// those in whole.
func (p *placer) over(centres []scene.Point, w, h float64, whole ...scene.Point) (scene.Rect, bool) {
	best, cost, found := scene.Rect{}, math.Inf(1), false
	for i, c := range centres {
		r := scene.Rect{X: hundredth(c.X - w/2), Y: hundredth(c.Y - h/2), W: w, H: h}
		if !p.free(r) || crossed(r, whole) {
			continue
		}
		if price := float64(i) + 2*float64(p.covered(r)); price < cost {
			best, cost, found = r, price, true
		}
	}
	if found {
		p.take(best)
	}
	return best, found
}

// crossed reports whether a box covers a part of a closed line.
func crossed(r scene.Rect, ring []scene.Point) bool {
	for i := range ring {
		if r.Crosses(ring[i], ring[(i+1)%len(ring)]) {
			return true
		}
	}
	return false
}
