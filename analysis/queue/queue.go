// Package queue gives back what waits by its key, the least first, and of equal keys by its number: the order of taking out never hangs on
// the order of putting in.
package queue

// Item is a thing by its number, and the key by which it waits.
type Item struct {
	Key float64
	ID  int32
}

func (a Item) before(b Item) bool { return a.Key < b.Key || a.Key == b.Key && a.ID < b.ID }

// Queue holds what waits; the first item is the next one to come out. It is a heap of four children a node, since half the depth costs less
// than the comparisons that it adds. The zero value is empty and ready; q[:0] is empty and keeps its memory.
type Queue []Item

// Push adds a thing.
func (q *Queue) Push(key float64, id int32) {
	x := Item{key, id}
	*q = append(*q, x)
	h := *q
	i := len(h) - 1
	for i > 0 {
		up := (i - 1) / 4
		if !x.before(h[up]) {
			break
		}
		h[i] = h[up]
		i = up
	}
	h[i] = x
}

// Pop takes out the thing of the least key, of equal ones that of the least number. There must be one.
func (q *Queue) Pop() (key float64, id int32) {
	h := *q
	top, last := h[0], h[len(h)-1]
	h = h[:len(h)-1]
	*q = h
	for i := 0; len(h) > 0; {
		c := 4*i + 1
		least := c
		for k := c + 1; k < min(c+4, len(h)); k++ {
			if h[k].before(h[least]) {
				least = k
			}
		}
		if c >= len(h) || !h[least].before(last) {
			h[i] = last
			break
		}
		h[i] = h[least]
		i = least
	}
	return top.Key, top.ID
}
