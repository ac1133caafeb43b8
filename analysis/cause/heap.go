package cause

// Heap is a binary heap of vertices by key, then vertex: the order of taking out never hangs on the
// order of putting in.
type heap struct {
	key []float64
	v   []int32
}

func (h *heap) reset() { h.key, h.v = h.key[:0], h.v[:0] }

func (h *heap) less(i, j int) bool {
	if h.key[i] != h.key[j] {
		return h.key[i] < h.key[j]
	}
	return h.v[i] < h.v[j]
}

func (h *heap) swap(i, j int) {
	h.key[i], h.key[j] = h.key[j], h.key[i]
	h.v[i], h.v[j] = h.v[j], h.v[i]
}

func (h *heap) push(key float64, v int32) {
	h.key, h.v = append(h.key, key), append(h.v, v)
	for i := len(h.v) - 1; i > 0; {
		up := (i - 1) / 2
		if !h.less(i, up) {
			return
		}
		h.swap(i, up)
		i = up
	}
}

func (h *heap) pop() (float64, int32) {
	key, v := h.key[0], h.v[0]
	n := len(h.v) - 1
	h.swap(0, n)
	h.key, h.v = h.key[:n], h.v[:n]
	for i := 0; ; {
		c := 2*i + 1
		if c >= n {
			break
		}
		if c+1 < n && h.less(c+1, c) {
			c++
		}
		if !h.less(c, i) {
			break
		}
		h.swap(i, c)
		i = c
	}
	return key, v
}
