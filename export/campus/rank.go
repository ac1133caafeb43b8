package campus

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// Rank is what roofs are ordered by: names of criteria, the first counts most. The empty Rank is the usual one.
type Rank []string

// Standing is what roofs are ordered by.
type Standing struct {
	KeepOff   bool
	Counts    [3]int  // findings by severity: note, repair, urgent
	Rank      int     // of the worst finding
	Weight    float64 // of the water in the listed ponds [kg]
	Sure      float64 // of the water in those of them that the spots show [kg]
	Low       float64 // water that low places would hold where outlets were not surveyed [m3]
	Load      float64 // at the deepest of them [Pa]
	Blocked   float64 // load with every primary outlet blocked [Pa]
	Undrained float64 // area without a way out [m2]
	Area      float64 // [m2]
	Surveyed  string  // date
}

// heavy is the load of water from which a roof whose outlets fail stands before every pond to repair: what flat roofs are usually made
// to carry, as live load, at least.
const heavy = standard.RoofLiveLoad

// loadStep is the step in which loads with blocked outlets are compared [Pa]: less of a difference says nothing about a roof.
const loadStep = 5 * quantity.PoundPerSquareFoot

// criteria are what roofs may be ordered by; text says it of the worse roof.
var criteria = []struct {
	name, text string
	compare    func(a, b *Standing) int // negative where a is the worse
}{
	{"keep-off", "roofs to keep off", func(a, b *Standing) int { return truth(b.KeepOff) - truth(a.KeepOff) }},
	{
		"severity", "the worst finding: urgent, a load of 20 psf (0.96 kPa) or more with outlets blocked, repair, note",
		func(a, b *Standing) int { return b.severity() - a.severity() },
	},
	{
		"kind", "in each the deck or a load over its limit, water that gets in, no way out, deep water with outlets blocked, an outlet that takes half of what comes, a pond, the rest",
		func(a, b *Standing) int { return a.Rank - b.Rank },
	},
	{
		"blocked-load", "the load with outlets blocked, from 20 psf on in steps of 5 psf (0.24 kPa)",
		func(a, b *Standing) int { return cmp.Compare(b.overload(), a.overload()) },
	},
	{"urgent", "more urgent findings", func(a, b *Standing) int { return b.Counts[finding.Urgent] - a.Counts[finding.Urgent] }},
	{"shown", "more water in ponds that the spots show", func(a, b *Standing) int { return cmp.Compare(b.Sure, a.Sure) }},
	{"low-places", "more water in low places where outlets were not surveyed", func(a, b *Standing) int { return cmp.Compare(b.Low, a.Low) }},
	{"water", "more water in all ponds", func(a, b *Standing) int { return cmp.Compare(b.Weight, a.Weight) }},
	{"repair", "more findings to repair", func(a, b *Standing) int { return b.Counts[finding.Repair] - a.Counts[finding.Repair] }},
	{"age", "the older survey, undated ones before", func(a, b *Standing) int { return strings.Compare(a.Surveyed, b.Surveyed) }},
	{"no-way-out", "more area without a way out", func(a, b *Standing) int { return cmp.Compare(b.Undrained, a.Undrained) }},
	{"load", "the load where ponds are deepest", func(a, b *Standing) int { return cmp.Compare(b.Load, a.Load) }},
	{"area", "the larger roof", func(a, b *Standing) int { return cmp.Compare(b.Area, a.Area) }},
}

// usual is how many of the criteria make the usual rank.
const usual = 10

// RankNames lists the names of the criteria.
func RankNames() string {
	names := make([]string, len(criteria))
	for i := range criteria {
		names[i] = criteria[i].name
	}
	return strings.Join(names, ", ")
}

// ParseRank reads names with commas between; empty is the usual rank.
func ParseRank(text string) (Rank, error) {
	if text == "" {
		return nil, nil
	}
	var r Rank
	for name := range strings.SplitSeq(text, ",") {
		name = strings.TrimSpace(name)
		switch {
		case index(name) < 0:
			return nil, fmt.Errorf("there is no %q: use %s", name, RankNames())
		case slices.Contains(r, name):
			return nil, fmt.Errorf("%s stands there twice", name)
		}
		r = append(r, name)
	}
	return r, nil
}

func index(name string) int {
	for i := range criteria {
		if criteria[i].name == name {
			return i
		}
	}
	return -1
}

func (r Rank) names() Rank {
	if len(r) > 0 {
		return r
	}
	for i := range criteria[:usual] {
		r = append(r, criteria[i].name)
	}
	return r
}

// String returns the names as ParseRank reads them.
func (r Rank) String() string { return strings.Join(r, ",") }

// Say says the rule in a sentence or two.
func (r Rank) Say() string {
	texts := gather.Each(r.names(), func(name string) string { return criteria[index(name)].text })
	text := "Worst first: " + strings.Join(texts, "; then ") + "; then the name. Roofs that could not be checked stand last."
	if slices.Contains(r.names(), "severity") {
		text += " 20 psf is the least live load of most flat roofs (" + standard.RoofLiveLoadSource.Text + "; from memory): a figure to rank by, not what a roof can carry."
	}
	return text
}

// Compare orders two roofs, without their names: negative where a is the worse.
func (r Rank) Compare(a, b *Standing) int {
	for _, name := range r.names() {
		if c := criteria[index(name)].compare(a, b); c != 0 {
			return c
		}
	}
	return 0
}

// rows returns the order of rows: those that could not be checked last, and the name where all else is the same.
func (r Rank) rows() func(a, b *Row) int {
	order := gather.Each(r.names(), func(name string) func(a *Standing, b *Standing) int { return criteria[index(name)].compare })
	return func(a, b *Row) int {
		if c := truth(a.Reason != "") - truth(b.Reason != ""); c != 0 {
			return c
		}
		p, q := a.standing(), b.standing()
		for _, compare := range order {
			if c := compare(&p, &q); c != 0 {
				return c
			}
		}
		return byName(a, b)
	}
}

// byName orders rows by their names; no two of a campus have the same stem.
func byName(a, b *Row) int {
	return cmp.Or(strings.Compare(a.Name, b.Name), strings.Compare(a.Stem, b.Stem))
}

func (r *Row) standing() Standing {
	return Standing{r.KeepOff, r.Counts, r.Rank, r.Weight, r.Sure, r.LowWater, r.Load, r.Blocked, r.Undrained, r.Area, r.Surveyed}
}

// overload returns the steps by which the load with outlets blocked is over what counts as heavy; 0 below: a roof with overflows at
// the usual height has half of that by design.
func (s *Standing) overload() float64 { return max(0, 1+math.Floor((s.Blocked-heavy)/loadStep)) }

// severity returns that of the worst finding; -1 where there is none. A load that is heavy with outlets blocked stands between urgent
// findings and those to repair.
func (s *Standing) severity() int {
	switch {
	case s.Counts[finding.Urgent] > 0:
		return 3
	case s.Blocked >= heavy:
		return 2
	case s.Counts[finding.Repair] > 0:
		return 1
	case s.Counts[finding.Note] > 0:
		return 0
	}
	return -1
}

func truth(b bool) int { return choose.If(b, 1, 0) }
