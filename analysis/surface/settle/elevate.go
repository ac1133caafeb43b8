package settle

import (
	"fmt"
	"math"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// elevateBreaklines gives every point of the breaklines an elevation. Where lines cross, each line's own elevation
// must agree; a point without one lies on the straight line between those before and after it; what lies beyond them
// is on the plane of the nearest spots.
func (d *draft) elevateBreaklines() {
	d.checkEnds()
	for d.drawBreaklines() {
	}
	for c := d.curbs; c < len(d.chains); c++ {
		d.countKnown(&d.chains[c])
	}
	if len(d.refusal.Problems) > 0 {
		return
	}
	for c := range d.outline {
		d.draw(&d.chains[c], nil)
	}
	d.assumeOutline()
	for d.drawBreaklines() {
	}
	var plane *planes
	for c := d.curbs; c < len(d.chains); c++ {
		for _, n := range d.chains[c].node {
			if d.how[n] == unknown {
				if plane == nil {
					plane = d.newPlanes()
				}
				d.z[n], d.how[n] = plane.at(d.x[n], d.y[n]), assumed
				d.notes.add(noteAssumedEnd, d.what[n])
			}
		}
	}
}

// countKnown refuses a breakline with fewer than two elevations.
func (d *draft) countKnown(c *chain) {
	n := 0
	for i, v := range c.node {
		if again := c.closed && i == len(c.node)-1; d.how[v] != unknown && !again {
			n++
		}
	}
	if n < 2 {
		d.refuse(c.source, d.point(c.node[0]), fmt.Sprintf("%s has %d of the two points with an elevation that it needs", d.name(c.source), n),
			"give its points elevations, or let them lie on spots")
	}
}

// drawBreaklines makes one pass over crossings and breaklines and reports whether anything became known.
func (d *draft) drawBreaklines() bool {
	changed := false
	pending := map[int32]bool{}
	for i := range d.meets {
		m := &d.meets[i]
		if m.done {
			continue
		}
		if d.join(m) {
			changed = true
		} else {
			pending[m.node] = true
		}
	}
	for c := d.curbs; c < len(d.chains); c++ {
		if d.draw(&d.chains[c], pending) {
			changed = true
		}
	}
	if changed {
		return true
	}
	return d.settleOneSided()
}

// settleOneSided gives crossings that only one of the lines can elevate that line's elevation. Where a breakline runs
// into a curb it is the breakline's: the curb stands on the roof and has its elevations from there.
func (d *draft) settleOneSided() bool {
	changed := false
	for i := range d.meets {
		m := &d.meets[i]
		if m.done {
			continue
		}
		lines := [2]int32{m.a, m.b}
		if isCurbRole(d.chains[m.a].role) {
			lines = [2]int32{m.b, m.a}
		}
		for _, c := range lines {
			if z, ok := d.along(c, m.node); ok && d.how[m.node] == unknown {
				d.z[m.node], d.how[m.node], m.done = z, drawn, true
				changed = true
			}
		}
	}
	return changed
}

// join gives a crossing its elevation once both lines have one there, or refuses when they differ.
func (d *draft) join(m *meeting) bool {
	a, b := d.chains[m.a].source, d.chains[m.b].source
	if d.how[m.node] != unknown {
		m.done = true
		return true
	}
	if isCurbRole(a.role) || isCurbRole(b.role) {
		return false
	}
	za, okA := d.along(m.a, m.node)
	zb, okB := d.along(m.b, m.node)
	if !okA || !okB {
		return false
	}
	m.done = true
	if math.Abs(float64(za)-float64(zb)) > elevationTolerance(0) {
		d.refuse(b, d.point(m.node), d.name(a)+" and "+d.name(b)+" cross, but their "+differ(za, zb)+" there",
			"give both the same elevation at the crossing, or end one of them short of it")
	}
	z := int32(math.Round((float64(za) + float64(zb)) / 2))
	if a.role == isOutline {
		z = za
	}
	d.z[m.node], d.how[m.node] = z, drawn
	return true
}

func isCurbRole(r role) bool { return r == isHole || r == isCurb }

// along returns chain c's elevation at its node n, from the nearest points before and after it that have one; round a
// closed chain they must be two. On the outline both must belong to one edge with elevations.
func (d *draft) along(c, n int32) (z int32, ok bool) {
	ch := &d.chains[c]
	for i, v := range ch.node {
		if v != n {
			continue
		}
		p, q := d.neighbour(ch, i, -1), d.neighbour(ch, i, 1)
		if p < 0 || q < 0 || ch.node[p] == ch.node[q] {
			return 0, false
		}
		return d.between(ch, p, i, q), true
	}
	return 0, false
}

// neighbour returns the position of the nearest node with an elevation before (step -1) or after (step 1) position i,
// or -1. On the outline it looks no further than the corners of i's edge.
func (d *draft) neighbour(c *chain, i, step int) int {
	last := len(c.node) - 1
	for range last {
		i += step
		if c.closed {
			i = (i + last) % last
		}
		if i < 0 || i > last {
			return -1
		}
		if d.how[c.node[i]] != unknown {
			return i
		}
		if c.role == isOutline && c.own[i] {
			return -1
		}
	}
	return -1
}

// between returns the elevation at position i on the way from position p to q, linear in plan length.
func (d *draft) between(c *chain, p, i, q int) int32 {
	before, after := d.length(c, p, i), d.length(c, i, q)
	a, b := float64(d.z[c.node[p]]), float64(d.z[c.node[q]])
	return int32(math.Round(a + float64((b-a)*(before/(before+after)))))
}

// length returns the plan length from position p forward to q, round the end of a closed chain.
func (d *draft) length(c *chain, p, q int) float64 {
	sum := 0.0
	last := len(c.node) - 1
	if c.closed {
		p, q = p%last, q%last
	}
	for i := p; i != q; {
		j := i + 1
		if c.closed && j == last {
			j = 0
		}
		a, b := c.node[i], c.node[j]
		sum += vector.Norm(float64(d.x[b]-d.x[a]), float64(d.y[b]-d.y[a]))
		i = j
	}
	return sum
}

// draw gives the points of a chain between known ones their elevation, but those in skip and the corners of the outline: an
// edge says nothing of how the next one runs.
func (d *draft) draw(c *chain, skip map[int32]bool) bool {
	type value struct{ n, z int32 }
	var found []value
	for i, n := range c.node {
		if d.how[n] != unknown || skip[n] || c.role == isOutline && c.own[i] {
			continue
		}
		if p, q := d.neighbour(c, i, -1), d.neighbour(c, i, 1); p >= 0 && q >= 0 {
			found = append(found, value{n, d.between(c, p, i, q)})
		}
	}
	for _, v := range found {
		d.z[v.n], d.how[v.n] = v.z, drawn
	}
	return len(found) > 0
}

// checkEnds compares breakline points with elevations of their own that lie on another line, which has no point there, with
// that line: the outline wins, breaklines share the mean, and beyond the rule both are refused. A spot there settles it.
func (d *draft) checkEnds() {
	for c := range d.chains {
		ch := &d.chains[c]
		if isCurbRole(ch.role) {
			continue
		}
		for i, n := range ch.node {
			if ch.own[i] || d.how[n] != given || d.spot[n] >= 0 || d.what[n].role != isBreakline {
				continue
			}
			p, q := d.neighbour(ch, i, -1), d.neighbour(ch, i, 1)
			if p < 0 || q < 0 {
				continue
			}
			if ch.role == isOutline && (!ch.own[p] || !ch.own[q] || !d.cornersGiven()) {
				continue // where spots give it, the outline has no elevation of its own between them: this is one more shot there
			}
			d.compareEnd(ch, n, d.between(ch, p, i, q))
		}
	}
}

// cornersGiven reports whether the outline itself states the elevations of all its corners.
func (d *draft) cornersGiven() bool {
	for _, p := range d.r.Outline.Rings[0] {
		if !p.HasZ {
			return false
		}
	}
	return true
}

func (d *draft) compareEnd(ch *chain, n, z int32) {
	if math.Abs(float64(z)-float64(d.z[n])) > elevationTolerance(d.sigma[n]) {
		d.refuse(d.what[n], d.point(n), d.name(d.what[n])+" meets "+d.name(ch.source)+", but their "+differ(d.z[n], z)+" there",
			"measure a spot there, or give both the same elevation")
		return
	}
	if ch.role == isOutline {
		if d.z[n] != z {
			d.notes.add(noteLevelled, d.what[n])
		}
		d.z[n] = z
		return
	}
	d.z[n] = int32(math.Round((float64(z) + float64(d.z[n])) / 2))
}

// elevateOutline gives edges without elevations feet opposite the spots near them, and so those edges that do not run straight between their corners.
func (d *draft) elevateOutline() {
	var open []span
	for _, s := range d.spans(0, d.outline) {
		if d.how[s.a] == assumed || d.how[s.b] == assumed {
			open = append(open, s)
		}
	}
	if len(open) == 0 && d.r.Outline.Elevations != roof.Measured {
		d.applySplits()
		return
	}
	p := d.newPlanes()
	reach := math.Max(footReach, feetSpacings*d.spacing())
	opposite := func(x, y, spot int32, _ span) (int32, standing) { return p.opposite(x, y, spot), assumed }
	bent := d.bentPieces(p, reach)
	d.placeFeet(open, reach, noteAssumedFoot, opposite)
	d.placeFeet(bent, reach, noteBentFoot, opposite)
	d.applySplits()
}
