package study

import (
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/tape"
)

// CriteriaOf returns the criteria that hold for a roof: what flags state, else what its outline states, else the usual ones. The error is a
// *roof.Refusal.
func CriteriaOf(r *roof.Roof, o Options) (standard.Criteria, error) { return criteria(r, o) }

// TooFewHeights refuses a roof that was measured with tape, chalk and ruler, from which no surface can be drawn.
func TooFewHeights(r *roof.Roof) error {
	var refusal roof.Refusal
	refusal.Add(roof.Problem{
		Origin: r.Outline.Origin,
		Rule:   "the roof was measured with tape, chalk and ruler (tier " + tape.TierOf(r).String() + "), and this asks for heights all over it",
		Mend:   "run check, which says what the tape tells, and read the spots that it lists",
	})
	return refusal.Err()
}
