package cause

import (
	"math"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// rings are the distances from an outlet at which the membrane is read, as a surveyor is told to shoot it:
// 1, 2 and 4 ft [m].
var rings = [3]float64{0.3048, 0.6096, 1.2192}

// ring returns the mean elevation of the surface on a circle round outlet o. ok is false where less than a
// quarter of the circle lies on the roof.
func (v *view) ring(o int32, radius float64) (mean float64, ok bool) {
	out := &v.s.Outlets[o]
	v.probe.start(out.Vertices[0])
	n := 0
	for k := range turns / 2 {
		u := direction(2 * k)
		if h, inside := v.probe.height(out.Plan[0]+float64(radius*u[0]), out.Plan[1]+float64(radius*u[1])); inside {
			n++
			mean += h
		}
	}
	return mean / float64(max(n, 1)), n >= 6
}

// outletHigh: the water stands to an outlet's invert, and the invert stands above the surface round it.
//
// Physical reason: a rim set high holds the water at its own elevation, on the spot; depth is then the
// invert less the lowest ground. Where the ground at the outlet itself is nearly as high as the invert,
// it is the roof that is high there, see outletOnHigh: so the score is the share of the depth by which
// the invert stands above the ground at the outlet. An overflow is meant to be high; it is named as the
// cause only if the water touches no outlet of primary duty and no other cause holds.
func outletHigh(v *view) (Candidate, bool) {
	o := v.p.HeldBy
	if o < 0 {
		return Candidate{}, false
	}
	out := &v.s.Outlets[o]
	near, ok := v.ring(o, rings[0])
	if !ok {
		near = out.Low
	}
	proud := out.Invert - math.Min(near, out.Low)
	c := Candidate{
		Score: 0.95 * ramp(proud/v.depth, 0, 0.6) * v.resolved(proud),
		Facts: []finding.Quantity{
			finding.Level("invert", out.Invert), finding.MM("invert above the lowest roof", v.depth),
		},
	}
	for i, name := range [3]string{"roof beside it", "roof farther off", "roof farthest off"} {
		if h, ok := v.ring(o, rings[i]); ok {
			c.Facts = append(c.Facts, finding.MM("invert above the "+name, out.Invert-h))
		}
	}
	c.Why = finding.Say("Water stands to the outlet's inlet level. That is {0} above the roof {1} away and {2} above the lowest place.",
		finding.MM("invert above the roof beside it", out.Invert-near), finding.Metres("ring", rings[0]), finding.MM("depth", v.depth))
	c.Scupper = out.Type == roof.Scupper
	c.Measure = finding.Say("Take levels on "+choose.If(c.Scupper, "the scupper's floor", "the outlet's rim")+", and on the membrane {0}, {1} and {2} from it "+
		choose.If(c.Scupper, "along the wall and into the roof.", "in four directions."),
		finding.Metres("ring", rings[0]), finding.Metres("ring", rings[1]), finding.Metres("ring", rings[2]))
	if out.Duty == roof.Overflow {
		c.Score *= 0.4
	}
	return c, true
}

// outletOnHigh: the roof itself rises to the outlet from the ground round it.
//
// Physical reason: a drain at a column or bearing wall stays where it is while the deck round it sags. The
// surface then falls away from the outlet on most sides, over more than the foot or two of a flange: the
// ground at 1 ft lies above the ground at 4 or 8 ft.
func outletOnHigh(v *view) (Candidate, bool) {
	o := v.outlet
	if o < 0 || v.edgeOutlet(o) {
		return Candidate{}, false
	}
	out := &v.s.Outlets[o]
	away, top := v.fallsAway(o)
	if away == 0 {
		return Candidate{}, false
	}
	rise := top - v.low
	hold := math.Max(0, v.p.Level-math.Max(top, out.Invert)) / v.depth // water above the outlet's ground is held by something else
	far := vector.Norm(v.t.X[v.deep]-out.Plan[0], v.t.Y[v.deep]-out.Plan[1])
	c := Candidate{
		Score: 0.95 * ramp(away, 0.3, 0.6) * ramp(rise/v.depth, 0.3, 0.8) * v.resolved(rise) *
			ramp(far, rings[0], rings[1]) * ramp(hold, 0.5, 0.1),
		Facts: []finding.Quantity{
			finding.Level("roof at the outlet", top), finding.MM("roof at the outlet above the lowest water", rise),
			finding.Part("directions in which the roof falls away", away), finding.Metres("lowest water from the outlet", far),
		},
	}
	c.Why = finding.Say("The roof falls away from the outlet: the lowest water lies {0} from it and {1} below the roof at the outlet.",
		finding.Metres("lowest water from the outlet", far), finding.MM("roof at the outlet above the lowest water", rise))
	c.Measure = finding.Say("Take levels on the deck from below at the outlet and at the pond. Look for a column or a wall under the outlet.")
	return c, true
}

// fallsAway returns the share of directions round outlet o in which the roof at 4 or 8 ft lies below the
// roof at the outlet by more than the error of two readings, and the elevation at the outlet.
func (v *view) fallsAway(o int32) (share, top float64) {
	out := &v.s.Outlets[o]
	v.probe.start(out.Vertices[0])
	sum := 0.0
	for _, w := range out.Vertices {
		sum += v.t.Z[w]
	}
	top = sum / float64(len(out.Vertices))
	n, down := 0, 0
	for k := range turns / 2 {
		u := direction(2*k + 1)
		low, inside := math.Inf(1), false
		for _, r := range [2]float64{rings[2], 2 * rings[2]} {
			if h, ok := v.probe.height(out.Plan[0]+float64(r*u[0]), out.Plan[1]+float64(r*u[1])); ok {
				low, inside = math.Min(low, h), true
			}
		}
		if !inside {
			continue
		}
		n++
		if top-low > 2*v.noise {
			down++
		}
	}
	if n < 4 {
		return 0, top
	}
	return float64(down) / float64(n), top
}
