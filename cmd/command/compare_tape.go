package command

import (
	"math"

	"github.com/paulmach/orb/planar"

	"runnel/analysis/change"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/analysis/tape"
	"runnel/cmd/call"
	"runnel/export/compared"
	"runnel/export/taped"
)

// compareTaped compares two surveys of which one at least was made with tape, chalk and ruler: the water that was chalked in both, and the heights that were
// read in both; or the rods of a finished roof with what was planned.
func (r *compareRun) compareTaped(old, now *roof.Roof, steps study.Options, limit quantity.Length) (comparison, error) {
	if err := oneRoof(old, now); err != nil {
		return nil, err
	}
	if r.planned {
		return r.acceptTaped(old, now, steps, limit)
	}
	for _, pair := range [2][2]*roof.Roof{{old, now}, {now, old}} {
		if read, other := pair[0], pair[1]; !chalked(read) {
			return nil, call.Usage("%s has heights all over the roof, but not the water as it was seen that day, and %s has nothing else to compare: chalk the water and add rows POND or WATERLINE to %[1]s. "+
				"Or look at both at once: take the row OUTLINE out of %[2]s and give both to check, which compares the water that was seen with the ponds that the heights show",
				read.Outline.Origin.File, other.Outline.Origin.File)
		}
	}
	before, after, err := both(r.taped, r.taped, old, now, steps)
	if err != nil {
		return nil, err
	}
	return compared.NewTaped(before, after, change.Options{Level: r.level}), nil
}

// acceptTaped compares the rods that were read on a finished roof with what was planned.
func (r *compareRun) acceptTaped(planned, now *roof.Roof, steps study.Options, limit quantity.Length) (comparison, error) {
	if tape.TierOf(planned) != tape.C {
		return nil, study.TooFewHeights(planned)
	}
	if now.Tape.Sighted {
		return nil, call.Usage("%s: nobody stated the level's line of sight, so its rods hang on nothing that the plan shares: read the bench mark of the set-out sheet and say --hi", now.Outline.Origin.File)
	}
	before, after, err := both(r.book, r.taped, planned, now, steps)
	if err != nil {
		return nil, err
	}
	return compared.AcceptTaped(before, after, limit)
}

// chalked reports whether a survey says what both surveys by tape do: the water that was seen, or that none was.
func chalked(read *roof.Roof) bool {
	return read.Tape != nil && (tape.TierOf(read) != tape.C || len(read.Tape.Waters) > 0)
}

// taped says what a survey by tape says, or the chalk among the spots of another.
func (r *compareRun) taped(read *roof.Roof, steps study.Options) (*taped.Book, error) {
	criteria, err := study.CriteriaOf(read, r.input.StepsFor(read, steps))
	if err != nil {
		return nil, err
	}
	return &taped.Book{Survey: tape.Of(read, criteria), Units: call.UnitsOf(r.input.US(read))}, nil
}

// oneRoof refuses outlines that cannot be of one roof: places by tape count from its first corner.
func oneRoof(old, now *roof.Roof) error {
	const apart, share = 1.0, 0.9 // m, and of the larger area; own choice: tapes miss by a foot, and nobody compares two roofs
	from, was := planar.CentroidArea(roof.PlanOf(old.Outline.Rings[0]))
	to, is := planar.CentroidArea(roof.PlanOf(now.Outline.Rings[0]))
	was, is = math.Abs(was), math.Abs(is)
	if planar.Distance(now.Frame.From(old.Frame, from), to) <= apart && min(was, is) >= share*max(was, is) {
		return nil
	}
	return call.Usage("the outline of %s covers %.0f m2 and that of %s %.0f m2, with their middles not at one place: places by tape count from the outline, so give both surveys one outline, "+
		"taped from the same corner", old.Outline.Origin.File, was, now.Outline.Origin.File, is)
}
