package surface

import "slices"

// spacingSample is at least how many edges the typical spacing is taken from, where there are as many.
const spacingSample = 50000

// measure fills in what the surface says about itself: area, share of it that is assumed, ties, spacing.
func (s *Surface) measure() {
	t := s.TIN
	var all, guess int64
	for f := range int32(t.Facets()) {
		a := t.TwiceArea(f)
		all += a
		if t.Assumed[t.V[3*f]] || t.Assumed[t.V[3*f+1]] || t.Assumed[t.V[3*f+2]] {
			guess += a
		}
	}
	s.Area = float64(all) / (2 * perMetre * perMetre)
	s.AssumedShare = float64(guess) / float64(all)
	for e, o := range t.Twin {
		if o > int32(e) && t.Flag[e]&TieEdge != 0 {
			s.Ties++
		}
	}
	s.Spacing = t.spacing()
}

// spacing returns the median length of the edges between spots.
func (t *TIN) spacing() float64 {
	step := max(1, len(t.V)/(3*spacingSample))
	var long []float64
	for e := 0; e < len(t.V); e += step {
		a, b := t.V[e], t.End(int32(e))
		if t.Spot[a] >= 0 && t.Spot[b] >= 0 && (t.Twin[e] < 0 || a < b || step > 1) {
			long = append(long, hypot(t.X[b]-t.X[a], t.Y[b]-t.Y[a]))
		}
	}
	if len(long) == 0 {
		return 0
	}
	slices.Sort(long)
	return long[len(long)/2]
}
