package cause

import "math"

// View is a pond with what the rules share: its crest and its bend are measured once.
type view struct {
	*model
	*site
	crest   crest
	basin   basin
	depth   float64
	valley  wetValley
	between between
	trough  float64 // how far it stands in the low line between two sides of the roof
}

// ramp is 1 at or beyond full, 0 at or beyond none, and straight between; full may lie on either side.
func ramp(v, none, full float64) float64 { return math.Min(1, math.Max(0, (v-none)/(full-none))) }

// Distances the trade speaks of when it says where the ground rises [m]. Build-up at a flange shows within
// 1 to 2 ft of the outlet, a perimeter left high within its last 1 to 3 ft; twice that is taken as the
// end of the range, because shots of a survey stand a foot or two apart at best.
const (
	shortRise = 0.9 // 3 ft
	longRise  = 1.8 // 6 ft
)

// gap returns the plan distance from the lip on to the end of the way.
func (v *view) gap() float64 { return v.way.s[len(v.way.s)-1] - v.way.s[v.way.lip] }

// resolved is 1 where a height is well beyond what the measuring error can make, 0 where it is not: the
// difference of two elevations has the error sigma*sqrt(2).
func (v *view) resolved(height float64) float64 {
	e := v.noise * math.Sqrt2
	return ramp(height, e, 2*e)
}
