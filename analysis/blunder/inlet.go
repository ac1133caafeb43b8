package blunder

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// How far an inlet may stand off the roof at it [m]. Drains are set within an inch or two of the roof or let down in a sump, sills of primary scuppers stand a
// few inches up; the domes of strainers are 4 to 8 in high. Common practice, no source.
const (
	proudSlip  = 0.1  // over the roof, from here on a slip that explains it is believed
	proudMost  = 0.25 // over the roof, from here on without one
	sunkMost   = 0.25 // under the roof
	strainer   = 0.2  // the height of a dome, at most
	inletFall  = 0.02 // rise over run: how the roof between the outlet and the nearest point may run otherwise than is thought
	inletPlay  = 0.05 // off the roof, either way: where an inlet stands that was read right
	sightReach = 1.0  // water that was seen so near to an inlet speaks for its level
)

// inlets returns the outlets whose measured inlet level stands so far off the roof at them that it was likely misread, in the order of the outlets. Overflows
// are left out: they stand high on purpose. So are inlets at which water was seen.
func (f *finder) inlets() []Odd {
	var out []Odd
	for i := range f.s.Outlets {
		o := &f.s.Outlets[i]
		if o.Type == roof.EdgeOutlet || o.InvertAssumed || o.Duty == roof.Overflow || o.Source < 0 || f.kept[f.r.Outlets[o.Source].Called()] || f.seenAt(o) {
			continue
		}
		odd := Odd{Vertex: -1, Spot: -1, Inlet: true, Outlet: int32(i), Plan: o.Plan, Z: o.Invert, Expected: o.Low, Error: f.noise * math.Sqrt2}
		odd.Score = math.Abs(odd.Off()) / odd.Error
		if f.misread(o, &odd) {
			out = append(out, odd)
		}
	}
	return out
}

// misread reports whether an inlet stands too far off, and notes the slips that would explain it.
func (f *finder) misread(o *surface.Outlet, odd *Odd) bool {
	play := inletFall * f.nearestTo(o.Plan, -1)
	off := odd.Off()
	if odd.Score < threshold || math.Abs(off) < proudSlip+play {
		return false
	}
	if off < 0 {
		if -off < sunkMost+play {
			return false
		}
		odd.Slips = f.inletSlips(o, odd)
		return true
	}
	off -= float64(f.r.Outlets[o.Source].DamHeight)
	odd.Slips = f.inletSlips(o, odd)
	return off >= proudMost+play || off >= proudSlip+play && len(odd.Slips) > 0
}

// inletSlips returns the slips that explain an inlet's level, the likeliest first.
func (f *finder) inletSlips(o *surface.Outlet, odd *Odd) []Slip {
	b := f.bookedAs(odd, f.r.Outlets[o.Source].Origin.File)
	swapped, off := b.transposed(), odd.Off()
	b.play = inletPlay / b.unit.Metres()
	return fitting([]fit{
		{Zero, b.number == 0},
		{OtherUnit, b.otherUnit()},
		{Foot, b.whole(quantity.Foot)},
		{Metre, b.metric() && b.whole(quantity.Metre)},
		{Transposed, swapped},
		{OnStrainer, o.Type == roof.Drain && off > 0 && off <= strainer},
		{InBowl, o.Type == roof.Drain && off < 0},
	})
}

// seenAt reports whether somebody saw water stand at an outlet.
func (f *finder) seenAt(o *surface.Outlet) bool {
	for i := range f.r.Stains {
		ring := roof.PlanOf(f.r.Stains[i].Ring)
		if planar.RingContains(ring, o.Plan) || planar.DistanceFrom(orb.LineString(ring), o.Plan) <= sightReach {
			return true
		}
	}
	return false
}
