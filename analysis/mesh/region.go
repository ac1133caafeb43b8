package mesh

import "slices"

// Regions numbers the connected sets of triangles that are not separated by half-edges with a flag of mask; twin and flag are per half-edge. It
// returns the region of every triangle, from 0 in order of their first triangle, and how many there are.
func Regions[F ~uint8](twin []int32, flag []F, mask F) (region []int32, n int) {
	region = slices.Repeat([]int32{-1}, len(twin)/3)
	var stack []int32
	for t := range region {
		if region[t] >= 0 {
			continue
		}
		region[t] = int32(n)
		stack = append(stack[:0], int32(t))
		for len(stack) > 0 {
			u := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for e := 3 * u; e < 3*u+3; e++ {
				if o := twin[e]; o >= 0 && flag[e]&mask == 0 && region[o/3] < 0 {
					region[o/3] = int32(n)
					stack = append(stack, o/3)
				}
			}
		}
		n++
	}
	return region, n
}

// Extract returns the mesh of the triangles to keep, without the vertices that none of them has, and for
// every new vertex its old number. len(keep) is the number of triangles.
func (m *Mesh) Extract(keep []bool) (part *Mesh, old []int32) {
	number := make([]int32, len(m.X))
	tri := make([]int32, len(keep))
	kept := int32(0)
	for t, k := range keep {
		tri[t] = -1
		if k {
			tri[t] = kept
			kept++
			for _, v := range m.V[3*t : 3*t+3] {
				number[v] = 1
			}
		}
	}
	for v, used := range number {
		number[v] = int32(len(old))
		if used == 1 {
			old = append(old, int32(v))
		}
	}
	part = &Mesh{
		X: Pick(m.X, old), Y: Pick(m.Y, old), Z: Pick(m.Z, old),
		V: make([]int32, 0, 3*kept), Twin: make([]int32, 0, 3*kept), Flag: make([]uint8, 0, 3*kept),
	}
	for t, k := range keep {
		if !k {
			continue
		}
		for e := 3 * t; e < 3*t+3; e++ {
			twin := int32(-1)
			if o := m.Twin[e]; o >= 0 && tri[o/3] >= 0 {
				twin = 3*tri[o/3] + o%3
			}
			part.V = append(part.V, number[m.V[e]])
			part.Twin = append(part.Twin, twin)
			part.Flag = append(part.Flag, m.Flag[e])
		}
	}
	return part, old
}

// Pick returns the numbers that stand at the given places of a list.
func Pick(from, index []int32) []int32 {
	to := make([]int32, len(index))
	for i, k := range index {
		to[i] = from[k]
	}
	return to
}
