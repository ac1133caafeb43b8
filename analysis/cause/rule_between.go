package cause

import (
	"math"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// Between is the strip of roof from one outlet to the next, where a cricket belongs.
type between struct {
	ok     bool
	a, b   int32      // the outlets, lower index first
	length float64    // from one to the other [m]
	along  [2]float64 // unit vector from a to b
	off    float64    // distance of the deepest water from the line through both [m]
	crown  float64    // highest ground on that line, over the higher of both ends [m]
	at     float64    // where the crown is, from a [m]
	tilt   float64    // fall from one end to the other [m/m]
}

// farOff is how far from the line through two outlets water may lie that a cricket between them would have turned, as a share of the distance
// of the outlets: a cricket is up to half as wide as long (recalled), and half of its length goes to each outlet.
const farOff = 0.3

// betweenOutlets returns the nearest pair of drains or scuppers of primary duty that the pond's deepest water lies between.
func (v *view) betweenOutlets() between {
	var best between
	for a := range v.s.Outlets {
		for b := a + 1; b < len(v.s.Outlets); b++ {
			if w, ok := v.strip(int32(a), int32(b)); ok && (!best.ok || w.length < best.length) {
				best = w
			}
		}
	}
	if best.ok {
		best.ok = v.profile(&best)
	}
	return best
}

// strip returns the strip from outlet a to outlet b without its heights, and whether the deepest water lies beside it.
func (v *view) strip(a, b int32) (between, bool) {
	p, q := &v.s.Outlets[a], &v.s.Outlets[b]
	if p.Type == roof.EdgeOutlet || q.Type == roof.EdgeOutlet || !v.primary(a) || !v.primary(b) {
		return between{}, false
	}
	dx, dy := q.Plan[0]-p.Plan[0], q.Plan[1]-p.Plan[1]
	length := vector.Norm(dx, dy)
	if length < 2*longRise || length > mostBetween {
		return between{}, false
	}
	w := between{ok: true, a: a, b: b, length: length, along: [2]float64{dx / length, dy / length}}
	x, y := v.t.X[v.deep]-p.Plan[0], v.t.Y[v.deep]-p.Plan[1]
	u := float64(x*w.along[0]) + float64(y*w.along[1])
	w.off = math.Abs(float64(y*w.along[0]) - float64(x*w.along[1]))
	return w, u > shortRise && u < length-shortRise && w.off <= farOff*length
}

// mostBetween is the longest distance of outlets between which a text asks for a cricket [m]: two outlets 100 ft apart.
const mostBetween = 30.48

// fromWall is how far off the line through two scuppers their wall's foot is read [m].
const fromWall = 0.02

// profile reads the ground from outlet to outlet; false where it does not lie open.
func (v *view) profile(w *between) bool {
	p := &v.s.Outlets[w.a]
	if len(p.Vertices) == 0 { // its footprint lies within another's
		return false
	}
	left := [2]float64{-w.along[1], w.along[0]}
	side := fromWall
	if x, y := v.centre[0]-p.Plan[0], v.centre[1]-p.Plan[1]; float64(x*left[0])+float64(y*left[1]) < 0 {
		side = -side
	}
	v.probe.start(p.Vertices[0])
	var first, last float64
	n := int(math.Ceil(w.length / crestStep))
	top := math.Inf(-1)
	for k := 0; k <= n; k++ {
		d := w.length * float64(k) / float64(n)
		h, ok := v.probe.height(p.Plan[0]+float64(w.along[0]*d)+float64(left[0]*side), p.Plan[1]+float64(w.along[1]*d)+float64(left[1]*side))
		if !ok {
			return false
		}
		if k == 0 {
			first = h
		}
		if last = h; h > top {
			top, w.at = h, d
		}
	}
	w.crown = top - math.Max(first, last)
	w.tilt = math.Abs(first-last) / w.length
	return true
}

// heldHigh reports whether the water stands to an outlet that is itself high over the roof at it, by a third of the depth.
func (v *view) heldHigh() bool {
	if v.p.HeldBy < 0 || v.overflowHolds() {
		return false
	}
	o := &v.s.Outlets[v.p.HeldBy]
	return o.Invert-o.Low > v.depth/3
}

// crownSlope returns the slope from the crown down to the nearer outlet: no valley of that cricket is steeper, also where no spot stands on the
// crown itself.
func (w *between) crownSlope() float64 {
	return w.crown / math.Max(math.Min(w.at, w.length-w.at), shortRise)
}

// levelWall: water stands along a wall whose foot is level from one outlet to the next.
//
// Physical reason: the field runs square onto the wall, and along a level foot nothing leads the water to an outlet: whatever the foot hangs
// or swells stands under water. The deepest place lies at the wall, the water lies along it for far more than it reaches into the field, and
// the foot has no crown between the outlets, as a cricket would give it.
func levelWall(v *view) (Candidate, bool) {
	w := &v.between
	if !w.ok || v.shore.wall == 0 || v.heldHigh() {
		return Candidate{}, false
	}
	square := math.Abs(float64(w.along[0]*v.shore.wallIn[0]) + float64(w.along[1]*v.shore.wallIn[1]))
	least := v.c.MinValleySlope * w.length / 2 // a cricket's crown, were its valleys just steep enough
	stretch := v.extent(w.along)
	hang := 2 * v.depth / w.length // a foot that falls more than this from the outlets to its middle was not built level
	out := Candidate{
		What: finding.Say("Water stands along a wall that has no cricket between its outlets."),
		Mend: finding.Say("Build a cricket along the wall between the outlets. Check the flashing height that is left."),
		Score: 0.9 * ramp(square, 0.3, 0.1) * ramp(w.crown, least/2, least/4) * ramp(w.tilt, v.c.MinValleySlope, v.c.MinValleySlope/2) *
			ramp(hang, v.c.MinValleySlope, v.c.MinValleySlope/2) * ramp(v.shore.wall/math.Max(stretch, 1e-9), 0.4, 0.7) * ramp(w.off, v.scale, v.scale/2) *
			ramp(stretch/w.length, 0.15, 0.3) * ramp(stretch/math.Max(v.extent(v.shore.wallIn), 1e-9), 1.5, 3) * v.resolved(v.depth),
		Facts: []finding.Quantity{
			finding.Metres("wall under water", v.shore.wall), finding.Metres("from outlet to outlet", w.length),
			finding.MM("highest foot between them", math.Max(0, w.crown)),
		},
	}
	out.Why = finding.Say("Water stands along {0} of the wall between {1} and {2}, and the roof at the wall rises only {3} between them: nothing turns the water to either.",
		finding.Metres("wall under water", v.shore.wall), v.called(w.a), v.called(w.b), finding.MM("highest foot between them", math.Max(0, w.crown)))
	out.Measure = v.lookForCricket()
	return out, true
}

// crownLow: water stands at a cricket between two outlets whose crown is so low that its valleys cannot fall enough.
//
// Physical reason: a cricket's valley runs from an outlet to the crown's end, farther than the outlet lies from the crown and no higher than
// the crown: so it falls less than the line from the crown to the outlet, which spots show without any coded fold.
func crownLow(v *view) (Candidate, bool) {
	w := &v.between
	if !w.ok || v.heldHigh() || v.valley.line != nil && v.isCricket(v.valley.line) {
		return Candidate{}, false
	}
	middle := ramp(math.Min(w.at, w.length-w.at)/w.length, 0.2, 0.33)
	out := Candidate{
		What: finding.Say("The cricket between two outlets is too low or too narrow, and water stands in its valley."),
		Mend: finding.Say("Make the cricket wider: a wider cricket has a steeper valley."),
		Score: 0.85 * ramp(w.crownSlope(), 1.25*v.c.MinValleySlope, v.c.MinValleySlope) * middle * v.resolved(w.crown) * v.resolved(v.depth) *
			ramp(w.off, farOff*w.length, farOff*w.length/2) * ramp(v.extent(w.along)/w.length, 0.1, 0.2),
		Facts: []finding.Quantity{
			finding.MM("height of the cricket", w.crown), finding.Metres("from outlet to outlet", w.length),
			finding.Fall("slope from its crown to the outlet", w.crownSlope()),
		},
	}
	out.Why = finding.Say("The roof rises only {0} between {1} and {2}, {3}. Its valleys are flatter still.",
		finding.MM("height of the cricket", w.crown), v.called(w.a), v.called(w.b), finding.Fall("slope from its crown to the outlet", w.crownSlope()))
	out.Measure = v.lookForCricket()
	return out, true
}

// called names outlet o.
func (v *view) called(o int32) finding.Quantity { return finding.Called(v.s.Outlets[o].Label) }

// lookForCricket asks for the cricket between two outlets.
func (v *view) lookForCricket() finding.Text {
	return finding.Say("Look for a cricket between {0} and {1}: take levels every {2} from one to the other, and on the cricket's edges. Measure its width against its length.",
		v.called(v.between.a), v.called(v.between.b), finding.Metres("spacing", 1.5))
}
