package geodesic

// item is a window, or else a vertex, that the front comes to.
type item struct {
	key            float64
	window, vertex int32 // -1 for the other
}

// queue is a heap of items, nearest first; of equals windows in the order in which they were made, then vertices.
type queue []item

func (a item) before(b item) bool {
	switch {
	case a.key != b.key:
		return a.key < b.key
	case (a.window >= 0) != (b.window >= 0):
		return a.window >= 0
	case a.window != b.window:
		return a.window < b.window
	}
	return a.vertex < b.vertex
}

func (q *queue) push(x item) {
	*q = append(*q, x)
	h := *q
	i := len(h) - 1
	for i > 0 && x.before(h[(i-1)/2]) {
		h[i] = h[(i-1)/2]
		i = (i - 1) / 2
	}
	h[i] = x
}

func (q *queue) pop() item {
	h := *q
	top, last := h[0], h[len(h)-1]
	h = h[:len(h)-1]
	*q = h
	for i := 0; len(h) > 0; {
		c := 2*i + 1
		if c+1 < len(h) && h[c+1].before(h[c]) {
			c++
		}
		if c >= len(h) || !h[c].before(last) {
			h[i] = last
			break
		}
		h[i] = h[c]
		i = c
	}
	return top
}
