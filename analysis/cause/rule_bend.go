package cause

import (
	"math"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
)

// dish: the roof is bent down over a stretch of metres, on all sides of the pond.
//
// Physical reason: a deck that sags between its supports is a smooth bowl in a roof that otherwise runs on:
// its lip lies where the roof was meant to be and its floor below, it is about as long as it is wide, ground
// rises all round it and curves upwards both ways, and the rise to the lip is no narrow dam.
func dish(v *view) (Candidate, bool) {
	b := &v.basin
	if !b.ok || v.p.HeldBy >= 0 && v.heldClose() {
		return Candidate{}, false
	}
	bowl := 0.0
	if b.big > 0 {
		bowl = ramp(b.small/b.big, -0.1, 0.15)
	}
	round := ramp(v.long/math.Max(v.wide, 1e-9), 4, 2)
	free := 1 - ramp((v.shore.curb+v.shore.wall+v.shore.open)/math.Max(v.long, 1e-9), 0.3, 1)
	roofHolds := choose.If(v.lipAtOutlet(), 0.25, 1.0)
	out := Candidate{
		Score: 0.9 * ramp(v.crest.hump, 0.5, 0.25) * round * (0.6 + float64(0.4*bowl)) * (0.3 + float64(0.7*free)) * roofHolds *
			ramp(v.crest.rise, 0.2, shortRise/2) * ramp(v.alongNamed(), 1, 0.5) * (1 - math.Max(v.upValley(), v.trough*v.offCurb())/2) * v.resolved(v.depth),
		Facts: []finding.Quantity{
			finding.MM("sag below a plane", v.sag()), finding.Metres("length", v.long), finding.Metres("width", v.wide),
			finding.Part("depth held by a rise", v.crest.hump),
		},
	}
	out.Why = finding.Say("Here the roof is about {0} below a plane, and it rises on every side of the water.",
		finding.MM("sag below a plane", v.sag()))
	out.Measure = finding.Say("Take levels on the deck from below, or cut a core in the low place and one outside it. A core as thick as its neighbour means the deck sags.")
	return out, true
}

// lipAtOutlet reports whether the water's lip is the ground at a drain or scupper itself. Physical reason: it is
// then the outlet that stands high, however the roof round it came to be lower.
func (v *view) lipAtOutlet() bool {
	return v.way.end >= 0 && !v.edgeOutlet(v.way.end) && v.gap() < rings[0]/2
}

// sag returns how far the deepest place lies below the plane through the ground about the pond.
func (v *view) sag() float64 {
	b := &v.basin
	x, y := v.t.X[v.deep]-v.centre[0], v.t.Y[v.deep]-v.centre[1]
	return math.Max(0, b.plane.c+float64(b.plane.gx*x)+float64(b.plane.gy*y)-v.low)
}

// heldClose reports whether the outlet that holds the water stands in its deep part.
func (v *view) heldClose() bool {
	o := &v.s.Outlets[v.p.HeldBy]
	return v.p.Level-o.Low > v.depth/2
}

// alongNamed is alongValley for a valley that was measured as one: a fold in the roof is no bowl.
func (v *view) alongNamed() float64 {
	if v.valley.line == nil || !v.valley.line.Named {
		return 0
	}
	return v.alongValley()
}

// camber: the roof is low along a line of supports and arched beyond it.
//
// Physical reason: prestressed and cambered members stand up in mid-span and are held down at their
// bearings. Water stands in a trough along the bearing line, and its way out goes across, over the back of
// the next span: going down the way, the ground curves downwards over metres, and the pond is long across
// that way.
func camber(v *view) (Candidate, bool) {
	if v.p.HeldBy >= 0 || !v.crest.ok {
		return Candidate{}, false
	}
	n := v.crest.across
	back := v.backOf(n)
	if !back.ok {
		return Candidate{}, false
	}
	across := math.Abs(float64(v.axis[0]*n[1]) - float64(v.axis[1]*n[0])) // 1 where the pond lies square to its way out
	out := Candidate{
		Score: 0.9 * ramp(back.arched, 0.25, 0.6) * ramp(v.long/math.Max(v.wide, 1e-9), 1.5, 3) * ramp(across, 0.6, 0.85) *
			ramp(v.crest.rise, shortRise/2, longRise) * v.resolved(back.height) * (1 - v.alongNamed()),
		Facts: []finding.Quantity{
			finding.MM("height of the arch", back.height), finding.Metres("span of the arch", back.span),
			finding.Metres("length of the pond", v.long), finding.Metres("width of the pond", v.wide),
		},
	}
	out.Why = finding.Say("The water lies along a line, and beyond it the roof is arched: about {0} high over {1}.",
		finding.MM("height of the arch", back.height), finding.Metres("span of the arch", back.span))
	out.Measure = finding.Say("Find the supports from below and take levels on the deck over them and at mid-span. Compare with the line of the pond.")
	return out, true
}

// Arch is the ground beyond a trough, looked at along the way out.
type arch struct {
	ok     bool
	arched float64 // share of what a straight line leaves that a downward curve takes away
	height float64 // of the curve over its chord [m]
	span   float64 // [m]
}

// backOf fits parabolas to the ground from the trough over the lip and as far again, twice and three times as
// far beyond it, and keeps the highest arch that a parabola explains. Physical reason: on a falling roof the lip
// stands near the upper end of its span, so that most of the arch lies beyond it.
func (v *view) backOf(n [2]float64) arch {
	half := v.toTrough(n)
	if half < shortRise/2 {
		return arch{}
	}
	best := v.archOver(n, half, half)
	for _, k := range [2]float64{2, 3} {
		if a := v.archOver(n, half, k*half); a.ok && a.arched >= wellArched && a.height > best.height {
			best = a
		}
	}
	return best
}

// wellArched is the share of what a straight line leaves that a parabola must explain for a longer stretch to
// be one arch: a plane beyond the arch takes it down.
const wellArched = 0.6

// archOver fits a parabola to the ground from before the crest to beyond it.
func (v *view) archOver(n [2]float64, before, beyond float64) arch {
	c := &v.crest
	span := before + beyond
	line := make([]sample, 0, 33)
	v.probe.start(v.way.v[v.way.lip])
	x0, y0 := c.x-float64(n[0]*before), c.y-float64(n[1]*before)
	for k := range 33 {
		d := span * float64(k) / 32
		if h, ok := v.probe.height(x0+float64(n[0]*d), y0+float64(n[1]*d)); ok {
			line = append(line, sample{x: d, z: h, w: 1})
		}
	}
	if len(line) < 20 {
		return arch{}
	}
	s, q := fitCurve(line)
	a := arch{ok: true, span: span, height: -q.xx * span * span / 8}
	if s > 0 && q.xx < 0 {
		k := q.rms / s
		a.arched = 1 - float64(k*k)
	}
	return a
}

// toTrough returns how far back from the crest the ground falls, before it rises again by more than two
// readings can be out.
func (v *view) toTrough(n [2]float64) float64 {
	c := &v.crest
	v.probe.start(v.way.v[v.way.lip])
	least, at := c.z, 0.0
	for d := 2 * riseStep; d <= crestReach; d += 2 * riseStep {
		h, ok := v.probe.height(c.x-float64(n[0]*d), c.y-float64(n[1]*d))
		if !ok || h > least+float64(2*v.noise) {
			break
		}
		if h < least {
			least, at = h, d
		}
	}
	return at
}

// fitCurve returns the root mean square that a straight line leaves, and the parabola in x.
func fitCurve(line []sample) (straight float64, curve bend) {
	spread := make([]sample, 0, 3*len(line))
	for _, p := range line { // a strip two wide with the same heights, so that the plane fit is a line fit
		for _, y := range [3]float64{-1, 0, 1} {
			spread = append(spread, sample{p.x, y, p.z, 1})
		}
	}
	plane, _ := fitPlane(spread)
	curve, _ = fitBend(spread)
	return plane.rms, curve
}

// levelArea: the roof was built without slope.
//
// Physical reason: on a level deck water stands in wide shallow sheets wherever chance left it a little
// lower, and no single low place is the cause: half of the ground about the pond has less slope than the
// criterion for roofs as found. It stands before what else the shape shows there, because where nothing
// slopes, every outlet is somewhere a little high and every low place looks like a dish.
func levelArea(v *view) (Candidate, bool) {
	b := &v.basin
	if v.p.HeldBy >= 0 && v.heldClose() {
		return Candidate{}, false
	}
	out := Candidate{
		Score: 0.96 * ramp(b.typical, 1.2*v.c.MinSlope, 0.8*v.c.MinSlope) * (1 - v.alongNamed()),
		Facts: []finding.Quantity{
			finding.Fall("typical slope", b.typical), finding.MM("unevenness", b.plane.rms),
		},
	}
	out.Why = finding.Say("Half of the roof round the pond slopes {0} or less, and it is uneven by {1}.",
		finding.Fall("typical slope", b.typical), finding.MM("unevenness", b.plane.rms))
	out.Measure = finding.Say("Take levels on a grid over the area. Cut cores to see whether the slope was to come from the deck or from the insulation.")
	return out, true
}
