// Package label finds room for labels on a drawing: none overlaps another, a symbol or a leader.
//
// Candidates round a place are tried near to far; those free of other labels, symbols and leaders compete by how many lines they hide, and a
// leader joins what stands apart.
package label

import (
	"math"
	"slices"

	"runnel/analysis/gather"
	"runnel/export/drawing/scene"
)

// Placer knows what stands on a drawing, and where labels have room.
type Placer struct {
	Room  scene.Rect   // nothing leaves it
	Taken []scene.Rect // labels and symbols
	Open  []scene.Rect // other places where no label stands, but leaders may pass
	lines [][2]scene.Point
	Marks []scene.Point // outlets: a label close to one is read as its own
	Pools []scene.Rect  // the extents of ponds: likewise
	soft  []scene.Point // places better left free: points along lines
	cells map[[2]int][]int32
}

// MarkHalf is half the size of the symbol of an outlet [mm].
const MarkHalf = 1.7

// apart is how far labels keep from each other and from symbols [mm].
const apart = 0.5

// cell is the side of the squares in which soft points are filed [mm].
const cell = 5

// Avoid files the points of a line that labels should not cover, about a millimetre apart.
func (p *Placer) Avoid(line []scene.Point) {
	if p.cells == nil {
		p.cells = map[[2]int][]int32{}
	}
	for i := 1; i < len(line); i++ {
		n := int(scene.Distance(line[i-1], line[i])) + 1
		for k := range n {
			t := float64(k) / float64(n)
			q := scene.Point{X: line[i-1].X + float64((line[i].X-line[i-1].X)*t), Y: line[i-1].Y + float64((line[i].Y-line[i-1].Y)*t)}
			key := [2]int{int(q.X / cell), int(q.Y / cell)}
			p.cells[key] = append(p.cells[key], int32(len(p.soft)))
			p.soft = append(p.soft, q)
		}
	}
}

// Covered counts the soft points in r.
func (p *Placer) Covered(r scene.Rect) int {
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

// Free reports whether r holds nothing that must stay visible.
func (p *Placer) Free(r scene.Rect) bool {
	if !r.Within(p.Room) {
		return false
	}
	wide := r.Inset(-apart)
	for _, list := range [2][]scene.Rect{p.Taken, p.Open} {
		for i := range list {
			if wide.Overlaps(list[i]) {
				return false
			}
		}
	}
	return !slices.ContainsFunc(p.lines, func(x [2]scene.Point) bool { return r.Crosses(x[0], x[1]) })
}

// clear reports whether a leader from a to b crosses no label.
func (p *Placer) clear(a, b scene.Point, own scene.Rect) bool {
	return !slices.ContainsFunc(p.Taken, func(x scene.Rect) bool { return x.Crosses(a, b) && !own.Overlaps(x) })
}

// Take marks r as used.
func (p *Placer) Take(r scene.Rect) { p.Taken = append(p.Taken, r) }

// around are the directions in which a label may stand from its place, best first, and what the later ones cost.
var around = [...]scene.Point{{X: 1, Y: 0}, {X: -1, Y: 0}, {X: 0.7, Y: -0.7}, {X: 0.7, Y: 0.7}, {X: -0.7, Y: -0.7}, {X: -0.7, Y: 0.7}, {X: 0, Y: -1}, {X: 0, Y: 1}}

// reaches are how far a label may stand from the edge of its symbol [mm]; beyond the first a leader joins them.
var reaches = [...]float64{0.8, 4, 8, 13, 20, 30}

// Leading returns the length of all leaders [mm].
func (p *Placer) Leading() float64 {
	return gather.Sum(p.lines, func(l [2]scene.Point) float64 { return scene.Distance(l[0], l[1]) })
}

// tangled returns what it costs that a leader crosses others.
func (p *Placer) tangled(a, b scene.Point) float64 {
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

// Spot is where a label was put.
type Spot struct {
	Box      scene.Rect
	Leader   bool        // a line joins it with its place
	From, To scene.Point // of the leader
}

// Beside finds room for a label of size w by h beside a symbol, and takes it. The symbol is centred at c and covers half
// on each side of it.
func (p *Placer) Beside(c scene.Point, half, w, h float64) (Spot, bool) {
	best, cost, found := Spot{}, math.Inf(1), false
	own := scene.Rect{X: c.X - half, Y: c.Y - half, W: 2 * half, H: 2 * half}
	for k, reach := range reaches {
		for i, d := range around {
			price := float64(i) + 25*float64(k)
			if price >= cost {
				continue
			}
			box := BoxToward(c, d, half+reach, w, h)
			if !p.Free(box) {
				continue
			}
			s := Spot{Box: box, Leader: k > 0, From: c, To: nearest(box, c)}
			if s.Leader {
				if !p.clear(s.From, s.To, own) {
					continue
				}
				price += p.tangled(s.From, s.To)
			}
			if price += 3*float64(p.Covered(box)) + p.mistaken(box, c); price < cost {
				best, cost, found = s, price, true
			}
		}
	}
	if found {
		p.Take(best.Box)
		if best.Leader {
			p.lines = append(p.lines, [2]scene.Point{best.From, best.To})
		}
	}
	return best, found
}

// mistaken returns what it costs that a label of the symbol at c stands close to outlets and ponds that are not its own.
func (p *Placer) mistaken(box scene.Rect, c scene.Point) float64 {
	cost := 0.0
	for _, m := range p.Marks {
		d := scene.Distance(nearest(box, m), m)
		if m != c && (d < MarkHalf+2 || d < 8 && d < scene.Distance(nearest(box, c), c)) {
			cost += 40
		}
	}
	own := scene.Distance(nearest(box, c), c)
	for _, pool := range p.Pools {
		if holds(pool, c) {
			own = min(own, rectsApart(box, pool))
		}
	}
	for _, pool := range p.Pools {
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

// BoxToward returns a box of size w by h that lies from c in direction d, reach away.
func BoxToward(c, d scene.Point, reach, w, h float64) scene.Rect {
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
	r.X, r.Y = scene.Hundredth(r.X), scene.Hundredth(r.Y)
	return r
}

// nearest returns the place of r that is nearest to c.
func nearest(r scene.Rect, c scene.Point) scene.Point {
	return scene.Point{X: max(r.X, min(c.X, r.X+r.W)), Y: max(r.Y, min(c.Y, r.Y+r.H))}
}

// Over finds the best of several centres for a label, and takes it. The label hides the lines under it, but none of
// those in whole.
func (p *Placer) Over(centres []scene.Point, w, h float64, whole ...scene.Point) (scene.Rect, bool) {
	best, cost, found := scene.Rect{}, math.Inf(1), false
	for i, c := range centres {
		r := scene.Rect{X: scene.Hundredth(c.X - w/2), Y: scene.Hundredth(c.Y - h/2), W: w, H: h}
		if !p.Free(r) || crossed(r, whole) {
			continue
		}
		if price := float64(i) + 2*float64(p.Covered(r)); price < cost {
			best, cost, found = r, price, true
		}
	}
	if found {
		p.Take(best)
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
