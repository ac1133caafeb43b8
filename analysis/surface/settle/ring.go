package settle

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry"
	"runnel/analysis/roof"
)

// ringTest answers whether places lie inside a ring, with its sides sorted into bands of y.
type ringTest struct {
	x, y   []int32
	ring   []int32 // closed
	y0     float64
	per    float64 // bands per grid unit
	start  []int32
	sides  []int32
	bottom int32
	top    int32
}

func (d *draft) newRingTest(ring []int32) *ringTest {
	t := &ringTest{x: d.x, y: d.y, ring: ring, bottom: math.MaxInt32, top: math.MinInt32}
	for _, n := range ring {
		t.bottom, t.top = min(t.bottom, d.y[n]), max(t.top, d.y[n])
	}
	n := min(max(len(ring), 1), 4096)
	t.y0, t.per = float64(t.bottom), float64(n)/(float64(t.top)-float64(t.bottom)+1)
	t.start = make([]int32, n+1)
	t.bands(func(b, _ int) { t.start[b+1]++ })
	for b := range n {
		t.start[b+1] += t.start[b]
	}
	t.sides = make([]int32, t.start[n])
	fill := append([]int32(nil), t.start...)
	t.bands(func(b, i int) { t.sides[fill[b]] = int32(i); fill[b]++ })
	return t
}

func (t *ringTest) band(y float64) int { return max(0, min(len(t.start)-2, int((y-t.y0)*t.per))) }

func (t *ringTest) bands(visit func(band, side int)) {
	for i := 1; i < len(t.ring); i++ {
		a, b := t.y[t.ring[i-1]], t.y[t.ring[i]]
		for band := t.band(float64(min(a, b))); band <= t.band(float64(max(a, b))); band++ {
			visit(band, i)
		}
	}
}

// holds reports whether (x, y) lies inside; on the ring itself either answer may come.
func (t *ringTest) holds(x, y int32) bool { return t.holdsThird(3*int64(x), 3*int64(y)) }

// holdsThird reports whether (x/3, y/3) lies inside, exactly.
func (t *ringTest) holdsThird(x, y int64) bool {
	if y < 3*int64(t.bottom) || y > 3*int64(t.top) {
		return false
	}
	in := false
	b := t.band(float64(y) / 3)
	for _, i := range t.sides[t.start[b]:t.start[b+1]] {
		p, q := t.ring[i-1], t.ring[i]
		px, py, qx, qy := int64(t.x[p]), int64(t.y[p]), int64(t.x[q]), int64(t.y[q])
		if (3*py > y) == (3*qy > y) {
			continue
		}
		// The cross product of q-p with the way from p, of 94 bits.
		if left := geometry.Across(y-3*py, x-3*px, int32(qy-py), int32(qx-px)); (left > 0) == (qy > py) {
			in = !in
		}
	}
	return in
}

// placeOutline makes the outer ring's nodes.
func (d *draft) placeOutline() {
	ring := d.r.Outline.Rings[0]
	c := d.ringChain(source{isOutline, 0}, ring)
	d.outline = 1
	if len(c.node) < 4 || d.twiceRing(c.node) == 0 {
		d.chains = append(d.chains, c)
		d.refuse(c.source, ring[0].Plan, "the outline encloses no area", "give at least three corners that are not on one line")
		return
	}
	if d.twiceRing(c.node) < 0 {
		reverse(c.node)
	}
	d.chains = append(d.chains, c)
}

// placeCurbs makes the nodes of the outline's holes and of the curbs, on the outline where they are near it.
func (d *draft) placeCurbs() {
	around := d.newLines(d.spans(0, d.outline), d.units(onLine))
	outer := d.newRingTest(d.chains[0].node)
	place := func(s source, ring []roof.Position) {
		if len(ring) == 0 {
			return
		}
		c := chain{source: s, closed: true}
		inside := false
		for _, p := range ring {
			n := d.nodeOnLine(p, s, around)
			inside = inside || d.what[n].role == isOutline || outer.holds(d.x[n], d.y[n])
			c.push(n, true)
		}
		if len(c.node) < 4 || d.twiceRing(c.node) == 0 {
			d.refuse(s, ring[0].Plan, "the curb encloses no area", "give at least three corners that are not on one line")
			return
		}
		if !inside {
			d.notes.add(noteCurbOutside, s)
		}
		if d.twiceRing(c.node) > 0 {
			reverse(c.node) // the roof lies to the left of every border
		}
		d.chains = append(d.chains, c)
	}
	for i := 1; i < len(d.r.Outline.Rings); i++ {
		place(source{isHole, int32(i)}, d.r.Outline.Rings[i])
	}
	for i := range d.r.Curbs {
		place(source{isCurb, int32(i)}, d.r.Curbs[i].Ring)
	}
	d.curbs = len(d.chains)
	d.applySplits()
}

// ringChain makes the nodes of a ring; corners at the same place become one.
func (d *draft) ringChain(s source, ring []roof.Position) chain {
	c := chain{source: s, closed: true}
	for _, p := range ring {
		n := d.node(p, s)
		if d.x[n] != geometry.OnGrid(p.Plan[0]) || d.y[n] != geometry.OnGrid(p.Plan[1]) {
			d.notes.count(noteCorner)
		}
		c.push(n, true)
	}
	return c
}

// push appends a node unless it repeats the last.
func (c *chain) push(n int32, own bool) {
	if k := len(c.node); k > 0 && c.node[k-1] == n {
		c.own[k-1] = c.own[k-1] || own
		return
	}
	c.node, c.own = append(c.node, n), append(c.own, own)
}

// node returns the node at the same place as p, or a new one, and gives it p's elevation.
func (d *draft) node(p roof.Position, s source) int32 {
	x, y := geometry.OnGrid(p.Plan[0]), geometry.OnGrid(p.Plan[1])
	n := d.at(x, y)
	if n < 0 {
		n = d.add(x, y, s)
	}
	d.elevate(n, p, s)
	return n
}

// nodeOnLine is node, but moves what is near a line onto it, which is then to be split there.
func (d *draft) nodeOnLine(p roof.Position, s source, around *lines) int32 {
	x, y := geometry.OnGrid(p.Plan[0]), geometry.OnGrid(p.Plan[1])
	n := d.at(x, y)
	if n < 0 {
		if f := around.nearest(x, y, nil); f.seg >= 0 {
			n = d.onto(around, f, s)
			if s.role == isBreakline && (d.x[n] != x || d.y[n] != y) {
				d.notes.add(noteBreaklineSnapped, s)
			}
		} else {
			n = d.add(x, y, s)
		}
	}
	d.elevate(n, p, s)
	return n
}

// onto returns the node at a foot: one that stands there, or a new one that splits the piece.
func (d *draft) onto(l *lines, f foot, s source) int32 {
	x, y := int32(math.Round(f.x)), int32(math.Round(f.y))
	n := d.at(x, y)
	if n < 0 {
		n = d.add(x, y, s)
	}
	d.splitAt(l.segs[f.seg], f.t, n)
	return n
}

// splitAt notes that a piece is to run through node n.
func (d *draft) splitAt(s span, t float64, n int32) {
	if n != s.a && n != s.b {
		d.splits = append(d.splits, split{s.chain, s.at, t, n})
	}
}

// elevate gives node n the elevation of p, or refuses two that differ.
func (d *draft) elevate(n int32, p roof.Position, s source) {
	if !p.HasZ {
		return
	}
	if z := geometry.OnGrid(p.Z); !d.meet(n, z, 0) {
		d.refuse(s, p.Plan, d.name(s)+" and "+d.name(d.what[n])+" stand at the same place, but their "+differ(z, d.z[n]),
			"mend one of the elevations"+d.dropping(s, d.what[n]))
	}
}

// dropping advises to leave one of two things out, when one is a spot.
func (d *draft) dropping(a, b source) string {
	switch {
	case a.role == isSpot:
		return " or leave one out with --drop " + d.id(a)
	case b.role == isSpot:
		return " or leave one out with --drop " + d.id(b)
	}
	return ""
}

// twiceRing returns twice the signed area of a closed ring of nodes.
func (d *draft) twiceRing(ring []int32) int64 {
	var sum int64
	for i := 1; i+1 < len(ring); i++ {
		sum += geometry.TwiceArea(d.x, d.y, ring[0], ring[i], ring[i+1])
	}
	return sum
}

func reverse(ring []int32) {
	for i, j := 0, len(ring)-1; i < j; i, j = i+1, j-1 {
		ring[i], ring[j] = ring[j], ring[i]
	}
}

// plan returns the plan ring of nodes.
func (d *draft) plan(ring []int32) orb.Ring {
	out := make(orb.Ring, len(ring))
	for i, n := range ring {
		out[i] = d.point(n)
	}
	return out
}
