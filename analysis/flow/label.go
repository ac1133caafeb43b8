package flow

// LabelOf returns the label of a place.
func (n *Network) LabelOf(p Place) Label {
	if sink := n.sinks.facet[p.Facet]; sink >= 0 {
		return Label(sink)
	}
	if pooled(n.t, p.Facet) {
		return n.vertex[n.poolCorner(p.Facet)]
	}
	label := Unlabelled
	miss := 0.0
	dx, dy, _ := n.fall(p.Facet)
	uppers, count := n.uppers(p.Facet)
	for i := range count {
		x := &uppers[i]
		a := n.t.V[x.t]
		s := 1 - cross(p.Point[0]-n.t.X[a], p.Point[1]-n.t.Y[a], dx, dy)/x.across
		if over := max(x.s0-s, s-x.s1, 0); label == Unlabelled || over < miss {
			label, miss = n.sideLabel(x.side, x.down(s)), over
		}
	}
	return label
}

// sideLabel returns the label at position w of side e.
func (n *Network) sideLabel(e int32, w float64) Label {
	label := Unlabelled
	n.stretches(e, w, w, func(_, _ float64, l Label) { label = l })
	return label
}

// stretches calls visit with the stretches of one label of side e that lie within w0..w1, in order; where
// w0 and w1 are equal, with the one that holds this position, or starts there.
func (n *Network) stretches(e int32, w0, w1 float64, visit func(w0, w1 float64, label Label)) {
	switch n.kind[e] {
	case closed:
	case taken:
		visit(w0, w1, n.taker(e))
	case along:
		n.alongStretches(e, w0, w1, visit)
	case crosses:
		start := 0.0
		list := n.lists.of(e)
		for i, x := range list {
			a, b := max(start, w0), min(x.end, w1)
			if a < b || w0 == w1 && start <= w0 && (w0 < x.end || i == len(list)-1) {
				visit(a, b, x.label)
			}
			start = x.end
		}
	}
}

func (n *Network) alongStretches(e int32, w0, w1 float64, visit func(w0, w1 float64, label Label)) {
	if low, falls := n.lower(e); falls || n.way[low] == wayPit {
		visit(w0, w1, n.vertex[low])
		return
	}
	a := n.t.V[e]
	la, lb := n.vertex[a], n.vertex[n.other(e, a)]
	w := n.divide(e)
	if w0 == w1 && (w0 < w || w == 1) {
		lb = la
	}
	w = max(w0, min(w1, w))
	if la == lb {
		w = w0
	}
	if w0 < w {
		visit(w0, w, la)
	}
	if w < w1 || w0 == w1 {
		visit(w, w1, lb)
	}
}
