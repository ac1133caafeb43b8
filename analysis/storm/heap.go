package storm

func (r *run) pushEvent(e due) {
	r.events = append(r.events, e)
	i := len(r.events) - 1
	for i > 0 && e.before(r.events[(i-1)/2]) {
		r.events[i] = r.events[(i-1)/2]
		i = (i - 1) / 2
	}
	r.events[i] = e
}

func (r *run) popEvent() due {
	h := r.events
	top, n := h[0], len(h)-1
	last := h[n]
	h = h[:n]
	for i := 0; n > 0; {
		c := 2*i + 1
		if c+1 < n && h[c+1].before(h[c]) {
			c++
		}
		if c >= n || !h[c].before(last) {
			h[i] = last
			break
		}
		h[i] = h[c]
		i = c
	}
	r.events = h
	return top
}
