package evidence

// item is an element, or another thing by a negative number, and what it costs.
type item struct {
	key float64
	id  int32
}

func (a item) before(b item) bool { return a.key < b.key || a.key == b.key && a.id < b.id }

// heap gives back the least item first, of equal ones that of the lowest number.
type heap []item

func (h *heap) push(x item) {
	s := append(*h, x)
	i := len(s) - 1
	for i > 0 {
		up := (i - 1) / 2
		if !s[i].before(s[up]) {
			break
		}
		s[i], s[up] = s[up], s[i]
		i = up
	}
	*h = s
}

func (h *heap) pop() item {
	s := *h
	top, n := s[0], len(s)-1
	s[0] = s[n]
	s = s[:n]
	for i := 0; ; {
		k := 2*i + 1
		if k >= n {
			break
		}
		if k+1 < n && s[k+1].before(s[k]) {
			k++
		}
		if !s[k].before(s[i]) {
			break
		}
		s[i], s[k] = s[k], s[i]
		i = k
	}
	*h = s
	return top
}
