package inspection

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/cause"
	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// Limits of a pond's severity.
const (
	deepWater = 2 * float64(quantity.Inch) // deeper than this is urgent
	sillRoom  = 0.025                      // water closer than this below a curb's top is near a sill: standard.SillSource
)

func (in *inspector) ponds() []finding.Finding {
	out := make([]finding.Finding, 0, len(in.Listed))
	for i := range in.Listed {
		out = append(out, in.pond(i))
	}
	return out
}

// SoundDish is what is done about a dish once an engineer has answered that the deck under it is sound.
const SoundDish = "Cut a core in the low place and one outside it. Replace insulation that is crushed or wet, else build slope over the low place with tapered boards."

func (in *inspector) pond(i int) finding.Finding {
	l, d := &in.Listed[i], &in.Causes[i]
	p := &in.Ponds.Ponds[l.Pond]
	lead := &d.Causes[0]
	f := blank(lead.Kind, finding.Repair)
	f.Pond, f.Outlet, f.Size = int(l.Pond), int(d.Outlet), p.Volume
	f.What = pondText(lead)
	f.Where = in.Places.Of(in.deepest(p))
	f.Measured = append([]finding.Quantity{
		finding.MM("depth", p.Depth), finding.Plan("area", p.Area), finding.Weight("weight", l.Weight),
	}, without(lead.Facts, "depth")...)
	f.Required = []finding.Quantity{finding.MM("pond listed from", in.Criteria.ListedFrom(p.Area))}
	f.Source = in.cite("pond_depth", in.Criteria.PondDepth != in.usual().PondDepth)
	f.Why = lead.Why
	for k := 1; k < len(d.Causes); k++ {
		f.Also = append(f.Also, d.Causes[k].Kind)
	}
	f.Do, f.Decides = doFor(lead, d)
	if a := in.soundUnder(l.Pond); a != nil && f.Kind == finding.Dish {
		f.Why = f.Why.And(finding.Say("The deck here is sound, answered {0} on {1}.", finding.Called(a.By), finding.Called(a.On)))
		f.Do, f.Decides = finding.Say(SoundDish), finding.Roofer
	}
	f.Geometry = in.outline(l.Pond)
	f.Confidence = in.confidence(l, d)
	f.Severity = in.severity(p, l)
	if p.Undrained {
		f.Kind, f.Also = finding.NoWayOut, kinds(d)
		f.What = finding.Say("Water has no way out here at any level.")
		f.Do = finding.Say("Look for an outlet that the survey missed. If there is none, one must be made.")
		f.Decides, f.Confidence = finding.Engineer, finding.Shown
	}
	in.warn(&f, p, d)
	if f.Severity == finding.Urgent {
		in.alarm(&f, p)
	}
	return f
}

// severity applies the rules for a listed pond: urgent where nothing drains it, where it is over 2 in deep by the depth that
// is not passed with 95 % confidence, or near the top of a curb; else repair. It falls to a note where the water is small and
// near an outlet, and where it rests on assumed elevations alone or is held by the roof at an outlet that nobody shot.
func (in *inspector) severity(p *ponding.Pond, l *Listed) finding.Severity {
	switch {
	case p.Undrained:
		return finding.Urgent
	case in.assumedOnly(p) || in.heldByGuess(p):
		return finding.Note
	case isDeep(in.deepest95(p)) || in.nearSill(p):
		return finding.Urgent
	case p.Area < leastArea && in.nearOutlet(p, l):
		return finding.Note
	default:
		return finding.Repair
	}
}

// nearOutlet reports whether all of the pond's water lies within the criterion of one outlet's footprint.
func (in *inspector) nearOutlet(p *ponding.Pond, l *Listed) bool {
	var outline ponding.Outline
	for o := range in.Surface.Outlets {
		if in.toFootprint(int32(o), in.deepest(p)) > in.Criteria.NearOutlet {
			continue // most outlets, at once
		}
		if outline == nil {
			outline = in.Ponds.Outline(l.Pond)
		}
		if in.within(int32(o), outline) {
			return true
		}
	}
	return false
}

// within reports whether an outline lies within the criterion of outlet o's footprint.
func (in *inspector) within(o int32, outline ponding.Outline) bool {
	for _, poly := range outline {
		for _, q := range poly[0] {
			if in.toFootprint(o, q) > in.Criteria.NearOutlet {
				return false
			}
		}
	}
	return true
}

// toFootprint returns the plan distance of q from the nearest vertex of outlet o's footprint.
func (in *inspector) toFootprint(o int32, q orb.Point) float64 {
	best := math.Inf(1)
	t := in.Surface.Cut
	for _, v := range in.Surface.Outlets[o].Vertices {
		best = math.Min(best, vector.Norm(t.X[v]-q[0], t.Y[v]-q[1]))
	}
	return best
}

// assumedOnly reports whether every facet under the pond has an inferred corner.
func (in *inspector) assumedOnly(p *ponding.Pond) bool {
	t := in.Surface.Cut
	for _, f := range p.Facets {
		inferred := false
		for c := range int32(3) {
			v := t.V[3*f+c]
			inferred = inferred || int(v) < len(t.Assumed) && t.Assumed[v]
		}
		if !inferred {
			return false
		}
	}
	return true
}

// heldByGuess reports whether what holds a pond is an elevation that nobody measured, at an outlet where no spot stands and whose inlet level
// is not known either.
func (in *inspector) heldByGuess(p *ponding.Pond) bool {
	guess := in.Surface.Cut.Assumed
	o := choose.If(p.HeldBy >= 0, p.HeldBy, p.ToOutlet)
	if o < 0 || !in.Surface.Outlets[o].InvertAssumed || p.Lip >= 0 && !guess[p.Lip] {
		return false
	}
	return !slices.ContainsFunc(in.Surface.Outlets[o].Vertices, func(v int32) bool { return !guess[v] })
}

// nearSill reports whether water stands within sillRoom of the top of a curb whose height is known.
func (in *inspector) nearSill(p *ponding.Pond) bool {
	t := in.Surface.Cut
	for _, f := range p.Facets {
		for c := range int32(3) {
			e := 3*f + c
			if t.Twin[e] >= 0 { // a curb is a hole in the roof
				continue
			}
			a, b := t.V[e], t.V[surface.Next(e)]
			room := in.curbHeight(orb.Point{(t.X[a] + t.X[b]) / 2, (t.Y[a] + t.Y[b]) / 2})
			if room > 0 && p.Level-math.Min(t.Z[a], t.Z[b]) > room-sillRoom {
				return true
			}
		}
	}
	return false
}

// curbHeight returns the height of the curb on whose ring q lies, 0 where it is not known.
func (in *inspector) curbHeight(q orb.Point) float64 {
	const reach = 0.05
	for i := range in.Roof.Curbs {
		k := &in.Roof.Curbs[i]
		if k.Height <= 0 {
			continue
		}
		for j := 1; j < len(k.Ring); j++ {
			if planar.DistanceFromSegment(k.Ring[j-1].Plan, k.Ring[j].Plan, q) < reach {
				return float64(k.Height)
			}
		}
	}
	return 0
}

// confidence of a pond's cause: the spots must show the pond, and its lip be measured. Water that somebody saw is likely.
func (in *inspector) confidence(l *Listed, d *cause.Diagnosis) finding.Confidence {
	switch {
	case !in.shown(l.Pond) && l.Seen:
		return finding.Likely
	case !in.shown(l.Pond) || d.LipAssumed:
		return finding.NotResolved
	case d.Uncertain || d.Causes[0].Score < 0.5:
		return finding.Likely
	case len(d.Causes) > 1 && d.Causes[1].Score > 0.8*d.Causes[0].Score:
		return finding.Likely
	default:
		return finding.Shown
	}
}

// alarm says what makes a pond urgent.
func (in *inspector) alarm(f *finding.Finding, p *ponding.Pond) {
	f.Decides = finding.Engineer
	switch {
	case isDeep(p.Depth):
		f.Why = f.Why.And(finding.Say("It is deeper than {0} when full.", finding.MM("deep", deepWater)))
	case isDeep(in.deepest95(p)):
		f.Why = f.Why.And(finding.Say("Its depth is good to {0}: it may be deeper than {1} when full.",
			finding.MM("error of the depth", in.deepest95(p)-p.Depth), finding.MM("deep", deepWater)))
	}
	if in.nearSill(p) {
		f.Why = f.Why.And(finding.Say("Water comes within {0} of the top of a curb.", finding.MM("room", sillRoom)))
		f.Source += "; " + standard.SillSource
	}
}

// warn adds what bears on trust in the finding.
func (in *inspector) warn(f *finding.Finding, p *ponding.Pond, d *cause.Diagnosis) {
	switch l := &in.Listed[in.position[f.Pond]]; {
	case in.shown(l.Pond):
	case l.Seen:
		f.Why = f.Why.And(finding.Say("The survey's error alone could make it, but water was seen here."))
	default:
		f.Why = f.Why.And(finding.Say("The survey's error alone could make it."))
	}
	if d.LipAssumed {
		f.Why = f.Why.And(finding.Say("The lip was not measured: its elevation is taken from spots near it."))
	} else if d.Uncertain {
		f.Why = f.Why.And(finding.Say("The lip or the lowest point depends on how the surface runs between spots; a level taken there would settle it."))
	}
	if names := in.doubts(int(in.position[f.Pond])); len(names) > 0 {
		f.Confidence = finding.NotResolved
		for _, name := range names {
			f.Why = f.Why.And(finding.Say("It rests on a height that does not fit: {0}.", name))
		}
		f.Do = finding.Say(inBookRest+" Shoot it again.", names[0]).And(f.Do)
	}
	if o := p.HeldBy; o >= 0 && in.Surface.Outlets[o].InvertAssumed {
		f.Confidence = finding.NotResolved
		f.Why = f.Why.And(finding.Say("The outlet's inlet level was not measured."))
	}
}

// outline returns the pond's outline as a polygon: its largest part.
func (in *inspector) outline(p int32) orb.Geometry {
	return largest(in.Ponds.Outline(p), in.deepest(&in.Ponds.Ponds[p]))
}

// shown reports whether the spots show pond p.
func (r *Results) shown(p int32) bool { return r.Evidence == nil || r.Evidence.Ponds[p].Shown }

// UrgentDepth is the depth of water over which a pond is urgent [m].
const UrgentDepth = deepWater

// deepest95 returns the depth that pond p does not pass with 95 % confidence [m], as trials bound it; else as the difference of two
// elevations, that of the lip or invert and that of the lowest point.
func (r *Results) deepest95(p *ponding.Pond) float64 {
	if r.Bounds != nil {
		for i := range r.Listed {
			if b := &r.Bounds.Ponds[i]; &r.Ponds.Ponds[r.Listed[i].Pond] == p && b.Trials > 0 {
				return b.Depth.High
			}
		}
	}
	if r.Errors == nil || p.Undrained {
		return p.Depth
	}
	return p.Depth + float64(standard.SureError*math.Sqrt2)*r.Errors.Typical
}

// deepest returns the place of the pond's first pit.
func (in *inspector) deepest(p *ponding.Pond) orb.Point {
	v := p.Pits[0]
	return orb.Point{in.Surface.Cut.X[v], in.Surface.Cut.Y[v]}
}

func without(qs []finding.Quantity, name string) []finding.Quantity {
	return gather.Where(qs, func(q finding.Quantity) bool { return q.Name != name })
}

func kinds(d *cause.Diagnosis) []finding.Kind {
	var out []finding.Kind
	for i := range d.Causes {
		if d.Causes[i].Kind != finding.LowPlace {
			out = append(out, d.Causes[i].Kind)
		}
	}
	return out
}
