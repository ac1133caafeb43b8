package surface

// Rings returns the closed chains of half-edges along the borders of the surface, the roof on their left.
func (t *TIN) Rings() [][]int32 {
	var rings [][]int32
	done := make([]bool, len(t.V))
	for e := range t.V {
		if t.Twin[e] >= 0 || done[e] {
			continue
		}
		var ring []int32
		for h := int32(e); !done[h]; h = t.Out[t.End(h)] {
			done[h] = true
			ring = append(ring, h)
		}
		rings = append(rings, ring)
	}
	return rings
}
