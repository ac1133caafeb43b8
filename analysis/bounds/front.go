package bounds

// front is the vertices that wait at one level, the least number first.
type front struct{ list []int32 }

func (f *front) push(v int32) {
	f.list = append(f.list, v)
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
	if len(f.list) == 0 {
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
