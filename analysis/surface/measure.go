package surface

import (
	"math"

	"runnel/analysis/geometry"
)

// measure fills in what the surface says about itself: area, share of it that is assumed, ties, spacing.
func (s *Surface) measure() {
	t := s.TIN
	var all, guess int64
	for f := range int32(t.Facets()) {
		a := t.twiceArea(f)
		all += a
		if t.Assumed[t.V[3*f]] || t.Assumed[t.V[3*f+1]] || t.Assumed[t.V[3*f+2]] {
			guess += a
		}
	}
	s.Area = float64(all) / (2 * geometry.PerMetre * geometry.PerMetre)
	s.AssumedShare = float64(guess) / float64(all)
	for e, o := range t.Twin {
		if o > int32(e) && t.Flag[e]&TieEdge != 0 {
			s.Ties++
		}
	}
	s.Spacing = s.spacing()
}

// spacing returns the side of the square that each measured point has to itself on average. The median distance
// to the neighbours would read low where points crowd round an outlet, and it is the field between that counts.
func (s *Surface) spacing() float64 {
	measured := 0
	for v, guess := range s.TIN.Assumed {
		if !guess && !s.TIN.Found[v] {
			measured++
		}
	}
	return math.Sqrt(s.Area / float64(max(measured, 1)))
}

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
