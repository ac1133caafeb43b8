package settle

import (
	"math"

	"runnel/analysis/geometry"
)

// placeEdges gives the outline a node at every point of every edge, and that point's elevation if it has one.
func (d *draft) placeEdges() {
	around := d.newLines(d.spans(0, d.outline), d.units(onLine))
	for i := range d.r.Edges {
		s := source{isEdge, int32(i)}
		for _, p := range d.r.Edges[i].Line {
			x, y := geometry.OnGrid(p.Plan[0]), geometry.OnGrid(p.Plan[1])
			n := d.at(x, y)
			if n < 0 || d.what[n].role != isOutline && d.what[n].role != isEdge {
				f := around.nearest(x, y, nil)
				if f.seg < 0 {
					d.refuse(s, p.Plan, d.name(s)+" does not lie on the outline here", "draw it along the outline")
					continue
				}
				n = d.onto(around, f, s)
			}
			d.elevate(n, p, s)
		}
	}
	d.applySplits()
}

// placeBreaklines makes the breaklines' nodes: first on the outline and the curbs, then on each other.
func (d *draft) placeBreaklines() {
	around := d.newLines(d.spans(0, d.curbs), d.units(onLine))
	for i := range d.r.Breaklines {
		s := source{isBreakline, int32(i)}
		line := d.r.Breaklines[i].Line
		c := chain{source: s}
		for _, p := range line {
			c.push(d.nodeOnLine(p, s, around), true)
		}
		if len(c.node) < 2 {
			if len(line) > 0 {
				d.refuse(s, line[0].Plan, "the breakline has no length", "give it a second point or leave it out")
			}
			continue
		}
		c.closed = c.node[0] == c.node[len(c.node)-1]
		d.chains = append(d.chains, c)
	}
	d.applySplits()
	d.joinBreaklines()
	d.applySplits()
}

// joinBreaklines moves breakline points that are near another breakline onto it.
func (d *draft) joinBreaklines() {
	folds := d.newLines(d.spans(d.curbs, len(d.chains)), d.units(onLine))
	done := make([]bool, len(d.x))
	for c := d.curbs; c < len(d.chains); c++ {
		for _, n := range d.chains[c].node {
			if done[n] {
				continue
			}
			done[n] = true
			f := folds.nearest(d.x[n], d.y[n], func(s *span) bool {
				return int(s.chain) != c && s.a != n && s.b != n && !d.shares(s.chain, n)
			})
			if f.seg < 0 {
				continue
			}
			seg := folds.segs[f.seg]
			if d.what[n].role == isBreakline && d.free(n, f) {
				d.move(n, f)
				d.notes.add(noteBreaklineSnapped, d.what[n])
			}
			d.splitAt(seg, f.t, n)
		}
	}
}

// shares reports whether node n is already on chain c.
func (d *draft) shares(c, n int32) bool {
	for _, m := range d.chains[c].node {
		if m == n {
			return true
		}
	}
	return false
}

// free reports whether nothing but n stands at the same place as a foot.
func (d *draft) free(n int32, f foot) bool {
	m := d.at(int32(math.Round(f.x)), int32(math.Round(f.y)))
	return m < 0 || m == n
}

// move puts node n at a foot.
func (d *draft) move(n int32, f foot) {
	x, y := int32(math.Round(f.x)), int32(math.Round(f.y))
	d.places.Move(n, d.x[n], d.y[n], x, y)
	d.x[n], d.y[n] = x, y
}
