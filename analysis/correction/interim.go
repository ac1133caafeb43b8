package correction

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// interim is what is done before any surface is changed: water that threatens something is taken off, and a source that no rain feeds is stopped.
func (d *designer) interim() (changes []mend.Change, questions []mend.Question, flags []Limit) {
	changes, questions = d.dewatered()
	for i := range d.Roof.Stains {
		if c, q, l, ok := d.fed(&d.Roof.Stains[i]); ok && !same(changes, &c) {
			changes, questions, flags = append(changes, c), append(questions, q), append(flags, l)
		}
	}
	keep := func(c mend.Change) bool { return !d.Steering.Allows(c.Kind) }
	if slices.ContainsFunc(changes, keep) {
		changes = slices.DeleteFunc(changes, keep)
	}
	return changes, questions, flags
}

// dewatered takes water off ponds that threaten something while people may go onto the roof: where it comes near a sill, or lies over insulation that is wet.
func (d *designer) dewatered() (changes []mend.Change, questions []mend.Question) {
	if d.Study.KeepOff.Is() {
		return nil, nil
	}
	for i := range d.Ponds {
		p := &d.Ponds[i]
		why := ""
		if c := d.Damaged(p); c != nil && mend.LayerIs(c, "wet") {
			why = "it lies over wet insulation"
		}
		if d.nearSill(p) {
			why = "it stands near a sill"
		}
		if why == "" {
			continue
		}
		changes = append(changes, mend.Change{
			Kind: mend.Dewater, Finding: p.Finding, Pond: p.ID, At: p.Pit, Decides: finding.Roofer,
			What: finding.Say("Until it is mended, take the water off " + p.ID + " with a pump or a siphon when it stands there: " + why),
		})
	}
	if len(changes) > 0 {
		questions = []mend.Question{{
			Ask: finding.Say("Where may the water be let off, and is there power with ground-fault protection?"), Where: "beside " + changes[0].Pond, At: changes[0].At, Decides: finding.Roofer,
			If:   finding.Say("It runs to a drain or a place where it cannot freeze over a way"),
			Then: finding.Say("Take it off. Nobody reaches into a drain under water: suction holds"),
		}}
	}
	return changes, questions
}

// nearSill reports whether a pond's water comes to a sill that a finding names, within reach of it.
func (d *designer) nearSill(p *mend.Pond) bool {
	for i := range d.Study.Findings {
		f := &d.Study.Findings[i]
		if f.Kind == finding.SillLow && f.Severity >= finding.Repair && f.Geometry != nil && planar.DistanceFrom(p.Place, f.Geometry.Bound().Center()) < beside {
			return true
		}
	}
	return false
}

// fed says that water was seen for longer after rain than a pond that deep can last in drying weather: something else feeds it.
func (d *designer) fed(s *roof.Stain) (c mend.Change, q mend.Question, l Limit, ok bool) {
	ring := make(orb.Ring, len(s.Ring))
	for i := range s.Ring {
		ring[i] = s.Ring[i].Plan
	}
	at, _ := planar.CentroidArea(ring)
	depth, where := math.Max(float64(s.Depth), standard.StainLeast), "where water was seen"
	for i := range d.Ponds {
		if p := &d.Ponds[i]; planar.MultiPolygonContains(p.Place, at) || planar.RingContains(ring, p.Pit) {
			depth, where = math.Max(depth, p.Depth), "at "+p.ID
			c.Pond, c.Finding = p.ID, p.Finding
			break
		}
	}
	dries := float64(s.HoursSinceRain * standard.DryingRate)
	if s.HoursSinceRain < standard.DryAfter || dries < 2*depth {
		return c, q, l, false
	}
	unit := ""
	for i := range d.Roof.Curbs {
		if k := &d.Roof.Curbs[i]; vector.DistanceSquared(vector.Nearest(mend.Plan(k.Ring), at), at) < mend.CoreReach*mend.CoreReach && mend.Named(k.Label, k.ID) != "" {
			unit = ": the condensate of " + mend.Named(k.Label, k.ID) + " first"
			break
		}
	}
	c.Kind, c.At, c.Decides = mend.RemoveSource, at, finding.Mechanical
	c.What = finding.Say("Find what feeds the water "+where+" in dry weather and stop it"+unit+". It stood there {0} hours after rain", finding.Number("hours", int(s.HoursSinceRain)))
	q = mend.Question{
		Ask: finding.Say("Does the place get wet again in dry weather once it is mopped up?"), Where: where, At: at, Decides: finding.Roofer,
		If: finding.Say("It gets wet"), Then: finding.Say("Lead condensate or the leader from above to an outlet before anything is built. It stays dry: rain alone feeds it"),
	}
	l = Limit{
		Name: "water seen longer than it lasts", Required: finding.MM("dries in that time", dries), Available: finding.MM("deep when full", depth),
		Where: c.Pond, At: at, Decides: finding.Mechanical, Source: standard.DryingRateSource.Text,
	}
	return c, q, l, true
}
