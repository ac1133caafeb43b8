package taper

import "math"

// ClearWithin is Clear on a part of the mesh: only the vertices that are inside move, from seeds round it that stay as they are. What is
// not inside keeps its elevation.
func ClearWithin(p *Problem, seeds []Seed, inside []bool) []float64 {
	bounded := *p
	z := append([]float64(nil), p.Base.Z...)
	c := &clearing{p: &bounded, z: make([]float64, len(z)), inside: inside, star: starOf(p.Base.TIN)}
	for v := range c.z {
		c.z[v] = math.Inf(1)
	}
	for _, s := range seeds {
		c.offer(s.Vertex, s.Z)
	}
	c.run()
	for v := range z {
		if inside[v] {
			z[v] = c.z[v]
		}
	}
	return z
}
