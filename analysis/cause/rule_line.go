package cause

import (
	"math"

	"runnel/analysis/finding"
)

// straightDam says how far the crest is a narrow straight line: a thing laid on the roof, a welded lap, a
// step of boards. Physical reason: such things are long for their width, a local hump is about as long as it
// is wide. Full at five times as long as wide, and where it rises within a foot on either side; what rises over
// two feet or more is thicker roof, not a thing on it.
func (v *view) straightDam() float64 {
	c := &v.crest
	if !c.ok || c.height <= 0 {
		return 0
	}
	width := 2 * math.Max(c.rise, crestLeast)
	return ramp(c.length/width, 2, 5) * ramp(c.rise, rings[1], rings[0]) * ramp(c.length, 0.8, 1.6)
}

// beyondShare returns how much of the crest's height over the pond's side is lost again beyond it.
func (v *view) beyondShare() float64 {
	c := &v.crest
	if !c.beyond || c.up <= 0 {
		return 0
	}
	return c.down / c.up
}

// ridgeOnLine: a straight ridge stands across the flow, the same roof before and beyond it.
//
// Physical reason: a conduit, a cable, a walkway strip or a membrane wrinkle lies on a roof that goes on
// unchanged: the ground before carried on to the crest and the ground beyond carried back to it meet.
func ridgeOnLine(v *view) (Candidate, bool) {
	c := &v.crest
	if v.p.HeldBy >= 0 && !v.overflowHolds() || !c.ok || !c.beyond || v.lipOnEdge() {
		return Candidate{}, false
	}
	out := Candidate{
		Score: 0.95 * v.straightDam() * ramp(v.beyondShare(), 0.25, 0.6) * v.resolved(c.height) * ramp(v.gap(), 0.2, 0.6),
		Facts: []finding.Quantity{
			finding.MM("height of the ridge", math.Min(c.up, c.down)), finding.Metres("length of the ridge", c.length),
			finding.Metres("half its width", c.rise),
		},
	}
	out.Why = finding.Say("A straight ridge stands across the flow, {0} high and at least {1} long. The roof is the same before and beyond it.",
		finding.MM("height of the ridge", math.Min(c.up, c.down)), finding.Metres("length of the ridge", c.length))
	out.Measure = finding.Say("Look for something laid on the roof, a wrinkle or a welded strip. Feel whether it is under the membrane.")
	return out, true
}

// step: the roof steps up on a straight line across its fall and goes on at that height.
//
// Physical reason: boards of unequal thickness or a change of fill meet on a line: a constant height
// difference, with the same fall before and beyond, and no falling back: carried back to the line, the
// ground beyond meets the crest.
func step(v *view) (Candidate, bool) {
	c := &v.crest
	if v.p.HeldBy >= 0 && !v.overflowHolds() || !c.ok || !c.beyond || v.lipOnEdge() {
		return Candidate{}, false
	}
	height := c.up - c.down
	out := Candidate{
		Score: 0.95 * v.straightDam() * ramp(v.beyondShare(), 0.6, 0.25) * v.resolved(height) * ramp(v.gap(), 0.2, 0.6),
		Facts: []finding.Quantity{
			finding.MM("height of the step", height), finding.Metres("length of the step", c.length),
			finding.Metres("width of the step", c.rise),
		},
	}
	out.Why = finding.Say("The roof steps up {1} across the slope, along a straight line at least {0} long.",
		finding.Metres("length of the step", c.length), finding.MM("height of the step", height))
	out.Measure = finding.Say("Measure whether the step keeps its height and lies on a line of boards. A core on each side shows the change of thickness.")
	return out, true
}
