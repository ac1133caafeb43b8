package settle

// meeting is a node where two lines cross, neither having a point of its own there.
type meeting struct {
	node int32
	a, b int32 // chains
	done bool
}

// findCrossings gives lines that cross a node where they do. The outline and a curb must not cross themselves.
func (d *draft) findCrossings() {
	segs := d.newLines(d.spans(0, len(d.chains)), 2)
	for _, c := range segs.crossings() {
		i, j := segs.segs[c.i], segs.segs[c.j]
		a, b := d.chains[i.chain].source, d.chains[j.chain].source
		n := d.at(c.x, c.y)
		fresh := n < 0
		if fresh {
			n = d.add(c.x, c.y, a)
		}
		if i.chain == j.chain && a.role != isBreakline {
			d.refuse(a, d.point(n), d.name(a)+" crosses itself", "draw it so that it does not")
			continue
		}
		d.splitAt(i, c.tI, n)
		d.splitAt(j, c.tJ, n)
		if fresh {
			d.meets = append(d.meets, meeting{n, i.chain, j.chain, false})
		}
		if a.role == isBreakline && b.role == isBreakline {
			d.notes.count(noteCrossed)
		}
	}
	d.applySplits()
}
