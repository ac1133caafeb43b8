package correction

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// interim is what is done before any surface is changed: water that threatens something is taken off, and a source that no rain feeds is stopped.
func (d *designer) interim() (changes []Change, questions []Question, flags []Limit) {
	changes, questions = d.dewatered()
	for i := range d.roof.Stains {
		if c, q, l, ok := d.fed(&d.roof.Stains[i]); ok && !same(changes, &c) {
			changes, questions, flags = append(changes, c), append(questions, q), append(flags, l)
		}
	}
	keep := func(c Change) bool { return !d.in.Steering.allows(c.Kind) }
	if slices.ContainsFunc(changes, keep) {
		changes = slices.DeleteFunc(changes, keep)
	}
	return changes, questions, flags
}

// dewatered takes water off ponds that threaten something while people may go onto the roof: where it comes near a sill, or lies over insulation that is wet.
func (d *designer) dewatered() (changes []Change, questions []Question) {
	if d.in.Study.KeepOff.Is() {
		return nil, nil
	}
	for i := range d.ponds {
		p := &d.ponds[i]
		why := ""
		if c := d.damaged(p); c != nil && layerIs(c, "wet") {
			why = "it lies over wet insulation"
		}
		if d.nearSill(p) {
			why = "it stands near a sill"
		}
		if why == "" {
			continue
		}
		changes = append(changes, Change{
			Kind: Dewater, Finding: p.finding, Pond: p.id, At: p.pit, Decides: finding.Roofer,
			What: finding.Say("Until it is mended, take the water off " + p.id + " with a pump or a siphon when it stands there: " + why),
		})
	}
	if len(changes) > 0 {
		questions = []Question{{
			Ask: finding.Say("Where may the water be let off, and is there power with ground-fault protection?"), Where: "beside " + changes[0].Pond, At: changes[0].At, Decides: finding.Roofer,
			If:   finding.Say("It runs to a drain or a place where it cannot freeze over a way"),
			Then: finding.Say("Take it off. Nobody reaches into a drain under water: suction holds"),
		}}
	}
	return changes, questions
}

// nearSill reports whether a pond's water comes to a sill that a finding names, within reach of it.
func (d *designer) nearSill(p *pond) bool {
	for i := range d.in.Study.Findings {
		f := &d.in.Study.Findings[i]
		if f.Kind == finding.SillLow && f.Severity >= finding.Repair && f.Geometry != nil && planar.DistanceFrom(p.place, f.Geometry.Bound().Center()) < beside {
			return true
		}
	}
	return false
}

// fed says that water was seen for longer after rain than a pond that deep can last in drying weather: something else feeds it.
func (d *designer) fed(s *roof.Stain) (c Change, q Question, l Limit, ok bool) {
	ring := make(orb.Ring, len(s.Ring))
	for i := range s.Ring {
		ring[i] = s.Ring[i].Plan
	}
	at, _ := planar.CentroidArea(ring)
	depth, where := math.Max(float64(s.Depth), standard.StainLeast), "where water was seen"
	for i := range d.ponds {
		if p := &d.ponds[i]; planar.MultiPolygonContains(p.place, at) || planar.RingContains(ring, p.pit) {
			depth, where = math.Max(depth, p.depth), "at "+p.id
			c.Pond, c.Finding = p.id, p.finding
			break
		}
	}
	dries := float64(s.HoursSinceRain * standard.DryingRate)
	if s.HoursSinceRain < standard.DryAfter || dries < 2*depth {
		return c, q, l, false
	}
	unit := ""
	for i := range d.roof.Curbs {
		if k := &d.roof.Curbs[i]; near2(vector.Nearest(plan(k.Ring), at), at) < CoreReach*CoreReach && named(k.Label, k.ID) != "" {
			unit = ": the condensate of " + named(k.Label, k.ID) + " first"
			break
		}
	}
	c.Kind, c.At, c.Decides = RemoveSource, at, finding.Mechanical
	c.What = finding.Say("Find what feeds the water "+where+" in dry weather and stop it"+unit+". It stood there {0} hours after rain", finding.Number("hours", int(s.HoursSinceRain)))
	q = Question{
		Ask: finding.Say("Does the place get wet again in dry weather once it is mopped up?"), Where: where, At: at, Decides: finding.Roofer,
		If: finding.Say("It gets wet"), Then: finding.Say("Lead condensate or the leader from above to an outlet before anything is built. It stays dry: rain alone feeds it"),
	}
	l = Limit{
		Name: "water seen longer than it lasts", Required: finding.MM("dries in that time", dries), Available: finding.MM("deep when full", depth),
		Where: c.Pond, At: at, Decides: finding.Mechanical, Source: standard.DryingRateSource.Text,
	}
	return c, q, l, true
}

// buckled reports whether cores show that the boards of a rise came up: one on it is dry and no thicker than the others by a part of the rise. Layers
// laid on the roof would make it thicker.
func (d *designer) buckled(rise []int32, high float64) bool {
	var on *roof.Core
	var others []float64
	for i := range d.roof.Cores {
		c := &d.roof.Cores[i]
		if len(c.Layers) == 0 {
			continue
		}
		if !d.standsOn(c.Plan, rise) {
			others = append(others, thicknessOf(c))
		} else if on == nil || thicknessOf(c) < thicknessOf(on) {
			on = c
		}
	}
	if on == nil || len(others) < 2 || layerIs(on, "wet") {
		return false
	}
	slices.Sort(others)
	return thicknessOf(on) < others[len(others)/2]+0.3*high
}

// standsOn reports whether a place is on or beside one of some vertices.
func (d *designer) standsOn(q orb.Point, list []int32) bool {
	const reach = 0.3 // [m]
	return slices.ContainsFunc(list, func(v int32) bool { return near2(orb.Point{d.s.TIN.X[v], d.s.TIN.Y[v]}, q) < reach*reach })
}

func thicknessOf(c *roof.Core) float64 {
	return gather.Sum(c.Layers, func(x roof.Layer) float64 { return float64(x.Thickness) })
}
