package bounds

// item is a vertex waiting to be flooded at a level.
type item struct {
	level  float64
	vertex int32
}

// queue is a heap of vertices, lowest level first: four children a node, since half the depth costs less than the comparisons
// that it adds.
type queue []item

func (q *queue) push(it item) {
	*q = append(*q, it)
	h := *q
	i := len(h) - 1
	for i > 0 {
		up := (i - 1) / 4
		if !(it.level < h[up].level) {
			break
		}
		h[i] = h[up]
		i = up
	}
	h[i] = it
}

// pop takes out a vertex of the lowest level.
func (q *queue) pop() int32 {
	h := *q
	top, last := h[0].vertex, h[len(h)-1]
	h = h[:len(h)-1]
	*q = h
	if len(h) == 0 {
		return top
	}
	i := 0
	for {
		c := 4*i + 1
		if c >= len(h) {
			break
		}
		least := c
		for k := c + 1; k < min(c+4, len(h)); k++ {
			if h[k].level < h[least].level {
				least = k
			}
		}
		if !(h[least].level < last.level) {
			break
		}
		h[i] = h[least]
		i = least
	}
	h[i] = last
	return top
}

// front is the vertices that wait at one level: any first, or the least number first where the order tells.
type front struct {
	list   []int32
	sorted bool
}

func (f *front) push(v int32) {
	f.list = append(f.list, v)
	if !f.sorted {
		return
	}
	h := f.list
	i := len(h) - 1
	for i > 0 && v < h[(i-1)/2] {
		h[i] = h[(i-1)/2]
		i = (i - 1) / 2
	}
	h[i] = v
}

func (f *front) pop() int32 {
	h := f.list
	last := h[len(h)-1]
	f.list = h[:len(h)-1]
	if !f.sorted || len(f.list) == 0 {
		return last
	}
	top := h[0]
	h = f.list
	i := 0
	for c := 1; c < len(h); c = 2*i + 1 {
		if c+1 < len(h) && h[c+1] < h[c] {
			c++
		}
		if h[c] >= last {
			break
		}
		h[i] = h[c]
		i = c
	}
	h[i] = last
	return top
}
