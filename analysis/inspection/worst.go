package inspection

import (
	"cmp"
	"slices"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
)

// Ranks of findings within one severity, the worst first. They order what a page begins with, and roofs of a campus.
const (
	rankStructure = iota // the deck gives way, or the water weighs more than an engineer allows
	rankEntry            // water gets into the building
	rankNoWayOut         // water has no way out
	rankBlocked          // with outlets blocked water stands deeper than in any pond
	rankHalf             // an outlet takes no more than half of what comes, or stands so high that nothing comes, or nobody measured what comes
	rankPond             // water stands
	rankOther
	rankLook // nothing was measured to be wrong: look after rain
)

// ranks are those of the kinds that always have one.
var ranks = map[finding.Kind]int{
	finding.DeckSoft: rankStructure, finding.DeckLow: rankStructure, finding.LoadOverLimit: rankStructure,
	finding.SillLow:  rankEntry,
	finding.NoWayOut: rankNoWayOut, finding.NoOverflow: rankNoWayOut,
	finding.WallFlat: rankLook,
}

// Rank returns how bad a finding is among those of its severity: the lower, the worse. It is the same for every roof, so that roofs
// can be compared by their worst findings.
func (r *Results) Rank(f *finding.Finding) int {
	if rank, ok := ranks[f.Kind]; ok {
		return rank
	}
	if f.Kind == finding.OverflowHigh && r.blockedIsDeepest() {
		return rankBlocked
	}
	if takesHalf(f) || f.Kind == finding.OutletHigh && f.Pond < 0 || f.Kind == finding.RimBelowSpot && f.Confidence == finding.NotResolved {
		return rankHalf
	}
	return choose.If(f.Pond >= 0, rankPond, rankOther)
}

// blockedIsDeepest reports whether, under the rain that was stated, water stands deeper with every primary outlet blocked than in any pond.
func (r *Results) blockedIsDeepest() bool {
	if r.Load == nil || r.Drainage == nil || r.Drainage.Overflow <= 0 {
		return false
	}
	return !slices.ContainsFunc(r.Listed, func(x Listed) bool { return r.Ponds.Ponds[x.Pond].Depth >= r.Load.Depth })
}

// takesHalf reports whether what an outlet takes is no more than half of what comes to it.
func takesHalf(f *finding.Finding) bool {
	comes, takes := -1.0, -1.0
	for _, q := range f.Measured {
		switch q.Name {
		case flowComes:
			comes = q.Value
		case flowTaken:
			takes = q.Value
		}
	}
	return comes > 0 && takes >= 0 && takes <= comes/2
}

// Names of the flows of an outlet.
const (
	flowComes = "flow that comes"
	flowTaken = "flow that it takes"
)

// sortWorstFirst puts urgent findings first, in each severity the worst rank, and in each rank the greatest.
func (r *Results) sortWorstFirst(all []finding.Finding) {
	slices.SortStableFunc(all, func(a, b finding.Finding) int {
		return cmp.Or(
			cmp.Compare(b.Severity, a.Severity),
			cmp.Compare(r.Rank(&a), r.Rank(&b)),
			cmp.Compare(b.Size, a.Size),
		)
	})
}
