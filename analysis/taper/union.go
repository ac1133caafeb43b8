package taper

// union says which of many things belong together: each leads to another of its group, in the end to the one with the least number.
type union []int32

// newUnion returns n things that stand alone.
func newUnion(n int) union {
	u := make(union, n)
	for i := range u {
		u[i] = int32(i)
	}
	return u
}

// of returns the least of the group of i.
func (u union) of(i int32) int32 {
	for u[i] != i {
		u[i] = u[u[i]]
		i = u[i]
	}
	return i
}

// join makes one group of those of i and k.
func (u union) join(i, k int32) {
	a, b := u.of(i), u.of(k)
	u[max(a, b)] = min(a, b)
}
