package cause

import (
	"math"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// cricketFlat: the pond lies along the valley at a cricket's edge.
//
// Physical reason: that valley lies in the field and falls by the field's slope times the sine of the angle
// between it and the low line, whatever the taper of the cricket: a narrow cricket has a flat valley.
func cricketFlat(v *view) (Candidate, bool) {
	l := v.valley.line
	if l == nil || !v.isCricket(l) || v.p.HeldBy >= 0 && !v.overflowHolds() {
		return Candidate{}, false
	}
	along := v.alongValley()
	if along == 0 {
		return Candidate{}, false
	}
	flat := ramp(l.Slope, 2*v.c.MinValleySlope, v.c.MinValleySlope)
	out := Candidate{
		Score: 0.95 * along * math.Max(flat, ramp(l.BackFall/v.depth, 0.3, 0.8)) * v.resolved(v.depth),
	}
	out.Facts, out.Why = v.valleyFacts(l, "cricket's valley")
	out.Measure = finding.Say("Take levels along the cricket's edge from end to end, and measure its width against its length: half as wide as long or less is too narrow.")
	return out, true
}

// cricketMissing: water stands against the uphill side of a curb.
//
// Physical reason: water that runs square onto a curb has no side to run to. It stands in a wedge, deepest
// at the curb and out to depth divided by slope, and leaves round the curb's corners: so the deepest place
// lies at the curb, the curb takes up most of the pond's width, and the field rises away from it.
func cricketMissing(v *view) (Candidate, bool) {
	if v.shore.curb == 0 || v.p.HeldBy >= 0 && !v.overflowHolds() {
		return Candidate{}, false
	}
	t := [2]float64{-v.shore.curbIn[1], v.shore.curbIn[0]}
	width := v.extent(t)
	share := v.shore.curb / math.Max(width, v.shore.curb)
	deep := v.curbDistance()
	upward := v.upFromCurb()
	out := Candidate{
		Score: 0.95 * ramp(share, 0.2, 0.6) * ramp(deep, v.scale/2+v.wide/2, v.wide/4) *
			ramp(upward, 0, v.depth/4) * v.resolved(v.depth),
		Facts: []finding.Quantity{
			finding.Metres("curb under water", v.shore.curb), finding.Metres("width of the pond along the curb", width),
			finding.Metres("deepest water from the curb", deep),
		},
	}
	if l := v.valley.line; l != nil && v.isCricket(l) && v.alongValley() > 0.5 {
		out.Score *= 0.5 // there is a cricket
	}
	out.Why = finding.Say("Water runs onto the curb and stands there: {0} of curb is in the water, and the deepest place lies {1} from it.",
		finding.Metres("curb under water", v.shore.curb), finding.Metres("deepest water from the curb", deep))
	if deep < atCurb {
		out.Why = finding.Say("Water runs onto the curb and stands there: {0} of curb is in the water, which is deepest right at the curb.",
			finding.Metres("curb under water", v.shore.curb))
	}
	out.Measure = finding.Say("Look for a cricket on the curb's uphill side. Take levels along the curb from corner to corner.")
	return out, true
}

// atCurb is the distance under which a text says that a place is at the curb [m].
const atCurb = 0.05

// extent returns the length of the pond's wetted rectangle in direction t.
func (v *view) extent(t [2]float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, f := range v.p.Facets {
		for _, p := range v.wetRing(f, v.p.Level) {
			d := vector.Dot(t, p)
			lo, hi = math.Min(lo, d), math.Max(hi, d)
		}
	}
	return math.Max(0, hi-lo)
}

// curbDistance returns the distance of the deepest vertex from the nearest wetted side of a curb.
func (v *view) curbDistance() float64 {
	best := math.Inf(1)
	for _, f := range v.p.Facets {
		for c := range int32(3) {
			e := 3*f + c
			if v.t.Twin[e] >= 0 || v.t.Flag[e]&surface.CurbEdge == 0 {
				continue
			}
			a, b := v.t.V[e], v.t.V[surface.Next(e)]
			d, _ := apart(v.t.X[v.deep], v.t.Y[v.deep], [2]float64{v.t.X[a], v.t.Y[a]}, [2]float64{v.t.X[b], v.t.Y[b]})
			best = math.Min(best, d)
		}
	}
	return best
}

// upFromCurb returns how far the ground rises from the deepest water away from the curb, over the pond's
// width and a spacing of the spots.
func (v *view) upFromCurb() float64 {
	v.probe.start(v.deep)
	in := v.shore.curbIn
	for _, k := range [3]float64{1, 0.6, 0.3} {
		d := k * (v.wide + v.scale)
		if h, ok := v.probe.height(v.t.X[v.deep]-float64(in[0]*d), v.t.Y[v.deep]-float64(in[1]*d)); ok {
			return h - v.low
		}
	}
	return 0
}
