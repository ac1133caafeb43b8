package correction

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// state is what a roof is compared by before and after.
type state struct {
	s        *study.Study
	found    []found
	notes    []found            // planes and valleys that are noted as flat: the same read otherwise is nothing new
	flat     float64            // plan area of planes under the criterion [m2]
	named    float64            // length of coded valleys under the criterion [m]
	folds    float64            // the same with those that nobody coded: a corrected roof has them as lines
	above    map[int]float64    // per overflow, by index into roof.Outlets: how far it stands above its primary outlet [m]
	inlets   map[int]float64    // per outlet, likewise: where it takes water [m]
	levels   map[int]float64    // per primary outlet, likewise: level of the water there with every primary blocked [m]
	weight   float64            // of that water [kg]
	margins  map[[2]int]float64 // per sill and case: how far the water stays below it [m]
	enclosed bool
}

// found is a finding at repair or above.
type found struct {
	kind   finding.Kind
	at     orb.Point
	bound  orb.Bound
	source int // index into roof.Outlets of the outlet concerned, -1 none
	depth  float64
	slope  float64 // of a plane or valley that is flat [rise/run]
	pond   bool
}

// How much counts as worse.
const (
	deeper   = 0.002 // of a pond or of water over a primary outlet [m]: what a level resolves
	moreFlat = 10 * float64(quantity.Foot) * float64(quantity.Foot)
	longer   = 10 * float64(quantity.Foot) // of flat valleys [m]
	heavier  = 0.02                        // of all blocked water, as a share: what two ways to triangulate the same spots differ by
	flatter  = 0.001                       // of a plane or valley [rise/run]: likewise
	beside   = 2.0                         // how near two findings of one kind stand to be one [m]
)

func stateOf(s *study.Study) *state {
	a := &state{s: s, above: map[int]float64{}, inlets: map[int]float64{}, levels: map[int]float64{}, margins: map[[2]int]float64{}}
	for i := range s.Findings {
		switch f := &s.Findings[i]; {
		case f.Severity >= finding.Repair:
			a.found = append(a.found, foundOf(s, f))
		case f.Kind == finding.PlaneFlat || f.Kind == finding.ValleyFlat:
			a.notes = append(a.notes, foundOf(s, f))
		}
	}
	for i := range s.Slopes.Planes {
		if p := &s.Slopes.Planes[i]; failing(p) {
			a.flat += p.Area
		}
	}
	for i := range s.Slopes.Valleys {
		if v := &s.Slopes.Valleys[i]; v.BelowMin && v.Resolved && !inBowl(s, v.Plan) {
			if a.folds += v.Length; v.Named {
				a.named += v.Length
			}
		}
	}
	a.outlets()
	a.blocked()
	for _, w := range s.Sills {
		a.margins[[2]int{w.Sill, w.Case}] = w.Margin
	}
	return a
}

// outlets notes the levels of inlets, and how far overflows stand over their primaries.
func (a *state) outlets() {
	for i := range a.s.Surface.Outlets {
		o := &a.s.Surface.Outlets[i]
		if o.Source < 0 {
			continue
		}
		a.inlets[o.Source] = o.Inlet()
		if o.Duty == roof.Overflow {
			if p := mend.PrimaryOf(a.s.Surface, i); p >= 0 {
				a.above[o.Source] = o.Inlet() - a.s.Surface.Outlets[p].Inlet()
			}
		}
	}
}

// inBowl reports whether a line lies wholly round one primary outlet: in the level ring of a sump, or where that meets its sides.
func inBowl(s *study.Study, line orb.LineString) bool {
	for i := range s.Surface.Outlets {
		o := &s.Surface.Outlets[i]
		if o.Source < 0 || o.Duty != roof.Primary {
			continue
		}
		reach := math.Sqrt2*mend.RingOf(s.Roof, o) + mend.Seen
		if !slices.ContainsFunc(line, func(q orb.Point) bool { return vector.DistanceSquared(q, o.Plan) > reach*reach }) {
			return true
		}
	}
	return false
}

// failing reports whether a plane falls less than the criterion, beyond the measuring error and over enough area to call for repair.
func failing(p *slope.Plane) bool {
	return p.BelowMin && p.Resolved && p.Area-p.Weak >= moreFlat && p.Spots >= fewSpots && p.Width() >= thinnest
}

// fewSpots and thinnest are what a plane needs to be judged, as a check judges it.
const (
	fewSpots = 6
	thinnest = 0.9 // [m]
)

func foundOf(s *study.Study, f *finding.Finding) found {
	n := found{kind: f.Kind, source: -1, pond: f.Pond >= 0}
	if f.Geometry != nil {
		n.bound = f.Geometry.Bound()
		n.at = n.bound.Center()
	}
	if len(f.Measured) > 0 && f.Measured[0].Dim == finding.Slope {
		n.slope = f.Measured[0].Value
	}
	if f.Outlet >= 0 && f.Outlet < len(s.Surface.Outlets) {
		n.source = s.Surface.Outlets[f.Outlet].Source
	}
	if f.Pond >= 0 && f.Pond < len(s.Ponds.Ponds) {
		p := &s.Ponds.Ponds[f.Pond]
		n.depth = p.Depth
		n.at = placeOf(s, p.Pits[0])
	}
	return n
}

// blocked reads the water with every primary outlet blocked.
func (a *state) blocked() {
	l := a.s.RainLoad
	if l == nil {
		return
	}
	a.weight, a.enclosed = l.Weight, l.Enclosed
	for i := range a.s.Surface.Outlets {
		o := &a.s.Surface.Outlets[i]
		if o.Source >= 0 && o.Duty == roof.Primary && len(o.Vertices) > 0 && len(l.Level) > int(o.Vertices[0]) {
			a.levels[o.Source] = l.Level[o.Vertices[0]]
		}
	}
}

// worse compares the roof as found with an option's.
func (d *designer) worse(o *Option) {
	a, b := d.before, stateOf(o.Study)
	o.Worse = append(o.Worse, a.newFindings(b)...)
	t := "by how much the roof falls: planes and valleys of new work follow the field that they join"
	if flat, all, at := d.flatChanged(o.Study); math.Min(flat, all-a.flat) > moreFlat {
		o.Worse = append(o.Worse, Limit{
			Name: "more roof under the least slope than before", Required: finding.Plan("as found", a.flat), Available: finding.Plan("after", a.flat+flat),
			At: at, Decides: finding.Roofer, Source: t,
		})
	}
	if more, at := d.flatValleys(o.Study); math.Min(more, b.named-a.folds) > longer {
		o.Worse = append(o.Worse, Limit{
			Name: "longer valleys under the least slope than before", Required: finding.Metres("as found", a.folds), Available: finding.Metres("after", a.folds+more),
			At: at, Decides: finding.Roofer, Source: t,
		})
	}
	o.Worse = append(o.Worse, a.higherOverflows(b)...)
	o.Worse = append(o.Worse, a.moreWater(b, o)...)
	o.Worse = append(o.Worse, a.nearerSills(b)...)
	o.BlockedKnown = a.s.RainLoad != nil && b.s.RainLoad != nil && !a.enclosed && !b.enclosed
	if o.BlockedKnown {
		o.Blocked = [2]Blocked{a.water(), b.water()}
	}
}

// water returns the blocked water in figures.
func (a *state) water() Blocked {
	l := a.s.RainLoad
	w := Blocked{Depth: l.Depth, Weight: l.Weight, Load: l.Load}
	if l.Deepest >= 0 {
		w.Level = l.Level[l.Deepest]
	}
	return w
}

// newFindings returns the findings at repair or above that the roof did not have.
func (a *state) newFindings(b *state) []Limit {
	var out []Limit
	for i := range b.found {
		f := &b.found[i]
		if a.knows(f) {
			continue
		}
		l := Limit{Name: "new finding: " + string(f.kind), At: f.at, Decides: finding.Roofer, Source: "a check of the corrected roof"}
		if f.source >= 0 {
			l.Where = mend.Named(b.s.Roof.Outlets[f.source].Label, b.s.Roof.Outlets[f.source].ID)
		}
		out = append(out, l)
	}
	return out
}

// knows reports whether the roof had a finding already: of its kind in its place, or a pond at least as deep there. A plane or valley that was noted as flat there
// and falls no less is none that is new, however the spots round it read now.
func (a *state) knows(f *found) bool {
	for i := range a.found {
		g := &a.found[i]
		switch {
		case f.pond != g.pond || f.source != g.source && !f.pond:
		case f.pond:
			if vector.DistanceSquared(g.at, f.at) < beside*beside && f.depth <= g.depth+deeper || g.bound.Contains(f.at) && f.depth <= g.depth+deeper {
				return true
			}
		case g.kind == f.kind && (f.source >= 0 || g.bound.Pad(beside).Intersects(f.bound)):
			return true
		}
	}
	return a.noted(f)
}

// noted reports whether a plane or valley was noted as flat in the place of a finding, and the finding falls no less.
func (a *state) noted(f *found) bool {
	for i := range a.notes {
		if g := &a.notes[i]; !f.pond && g.kind == f.kind && f.slope >= g.slope-flatter && g.bound.Pad(beside).Intersects(f.bound) {
			return true
		}
	}
	return false
}

// higherOverflows returns the overflows that come to stand more than the limit over their primary outlets, as far as an inlet can be set.
func (a *state) higherOverflows(b *state) []Limit {
	var out []Limit
	for i := range b.s.Roof.Outlets {
		now, ok := b.above[i]
		was, had := a.above[i]
		if !ok || now <= b.s.Criteria.OverflowMost()+standard.InletTolerance || had && now <= was+deeper {
			continue
		}
		o := &b.s.Roof.Outlets[i]
		out = append(out, Limit{
			Name: "overflow over its primary outlet", Required: finding.MM("at most", b.s.Criteria.OverflowMost()), Available: finding.MM("after", now),
			Where: mend.Named(o.Label, o.ID), At: o.Plan, Decides: finding.Engineer, Source: standard.LocalCode,
		})
	}
	return out
}

// moreWater returns where water with every primary outlet blocked stands higher, and whether it weighs more than what a sump or a rise that came
// off makes room for.
func (a *state) moreWater(b *state, o *Option) []Limit {
	var out []Limit
	if a.enclosed || b.enclosed || a.s.RainLoad == nil || b.s.RainLoad == nil {
		return nil
	}
	for i := range b.s.Roof.Outlets {
		was, had := a.levels[i]
		now, ok := b.levels[i]
		up := math.Max(0, b.inlets[i]-a.inlets[i]) // a roof that is covered as a whole comes up with its outlets
		if !had || !ok || now <= was+up+deeper {
			continue
		}
		p := &b.s.Roof.Outlets[i]
		out = append(out, Limit{
			Name: "level of the water with every primary outlet blocked", Required: finding.Level("as found", was), Available: finding.Level("after", now),
			Where: mend.Named(p.Label, p.ID), At: p.Plan, Decides: finding.Engineer, Source: "nothing may be worse after than before",
		})
	}
	room := 0.0
	if o.Design != nil {
		room = o.Design.Fill.Cut * standard.WaterDensity
	}
	if b.weight > a.weight*(1+heavier)+room+1 {
		out = append(out, Limit{
			Name: "weight of the water with every primary outlet blocked", Required: finding.Weight("as found", a.weight), Available: finding.Weight("after", b.weight),
			Decides: finding.Engineer, Source: "nothing may be worse after than before",
		})
	}
	return out
}

// nearerSills returns the sills that water comes nearer to.
func (a *state) nearerSills(b *state) []Limit {
	var out []Limit
	for _, w := range b.s.Sills {
		was, had := a.margins[[2]int{w.Sill, w.Case}]
		if had && w.Margin >= was-deeper {
			continue
		}
		s := &b.s.Roof.Sills[w.Sill]
		l := Limit{
			Name: "water below a sill, " + b.s.Cases[w.Case].Name, Available: finding.MM("after", w.Margin),
			Where: mend.Named(s.Label, s.ID), At: s.Plan, Decides: finding.Engineer, Source: "nothing may be worse after than before",
		}
		if had {
			l.Required = finding.MM("as found", was)
		}
		out = append(out, l)
	}
	return out
}
