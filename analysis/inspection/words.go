package inspection

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/cause"
	"runnel/analysis/finding"
)

// pondText says in one sentence what holds a pond.
func pondText(k finding.Kind) finding.Text {
	return finding.Say(map[finding.Kind]string{
		finding.OutletHigh:     "The outlet is set above the roof around it and holds water.",
		finding.RiseBefore:     "A rise in the roof before the outlet holds water back.",
		finding.ValleyFlat:     "The valley is level or falls back, and water stands in it.",
		finding.CricketFlat:    "The valley at the cricket is too flat, and water stands in it.",
		finding.CricketMissing: "Water stands behind a curb that has no cricket to turn it.",
		finding.Dish:           "The roof is bent down like a dish and holds water.",
		finding.Camber:         "The roof is low along a line and arched beyond it; water stands along the line.",
		finding.LevelArea:      "The roof here has next to no slope, and water stands on it.",
		finding.EdgeHigh:       "The edge is higher than the roof before it and holds water back.",
		finding.Step:           "The roof steps up across its fall and holds water back.",
		finding.OutletOnHigh:   "The outlet stands on a local high of the roof; water stands lower than it.",
		finding.RidgeLine:      "A straight ridge across the flow holds water back.",
		finding.LowPlace:       "Water stands in a low place.",
	}[k])
}

// mends says what would likely mend a cause and who decides on it. Raising or re-sloping goes by the
// corrections that the trade knows for each cause; whatever touches deck or framing is an engineer's.
var mends = map[finding.Kind]struct{ text, decides string }{
	finding.OutletHigh:     {"Clear the strainer and look whether the rim can be lowered or the drain reset in a sump.", finding.Plumber},
	finding.RiseBefore:     {"Cut out and flatten the rise, or take out the extra layers, and patch.", finding.Roofer},
	finding.ValleyFlat:     {"Build fall into the valley with tapered boards or crickets.", finding.Roofer},
	finding.CricketFlat:    {"Make the cricket wider: its valley gets its fall from the angle it makes with the low line.", finding.Roofer},
	finding.CricketMissing: {"Build a cricket on the uphill side of the curb. Check the flashing height that is left.", finding.Roofer},
	finding.Dish:           {"Have an engineer look at the deck from below before anything is filled: fill adds weight.", finding.Engineer},
	finding.Camber:         {"Have an engineer say how the members lie. Then build fall over the low line, or add an outlet on it.", finding.Engineer},
	finding.LevelArea:      {"Slope must be built over the area: tapered boards, or more outlets.", finding.Owner},
	finding.EdgeHigh:       {"Lower the edge: blocking, gravel stop or edge strip.", finding.Roofer},
	finding.Step:           {"Ease the step with a tapered edge strip, or take the thicker layer down.", finding.Roofer},
	finding.OutletOnHigh:   {"An outlet belongs where the roof is lowest: move it or add one there. Check the structure first.", finding.Engineer},
	finding.RidgeLine:      {"Find what makes the ridge. Move it, or cut a way through it.", finding.Roofer},
	finding.LowPlace:       {"Shoot more spots here before any work.", finding.Roofer},
}

// doFor returns what to do next about a pond, and who decides: measure what tells the causes apart where
// more than one holds, then mend.
func doFor(k finding.Kind, measure finding.Text, d *cause.Diagnosis) (finding.Text, string) {
	m := mends[k]
	if k == finding.LowPlace || len(d.Causes) > 1 {
		return measure.And(finding.Say(m.text)), m.decides
	}
	return finding.Say(m.text), m.decides
}

// placeText says where p lies: by its distance and direction from the outlet that it concerns, else from the
// nearest one.
func (in *inspector) placeText(p orb.Point, outlet int32) finding.Text {
	if outlet < 0 {
		outlet = in.nearest(p)
	}
	if outlet < 0 {
		return in.fromCorner(p)
	}
	o := &in.Surface.Outlets[outlet]
	q := o.Plan
	if o.Line != nil {
		q = nearestOn(o.Line, p)
	}
	return awayFrom(label(o.Label), q, p)
}

// awayFrom says "12 ft north-east of NAME".
func awayFrom(name string, from, p orb.Point) finding.Text {
	d := norm(p[0]-from[0], p[1]-from[1])
	if d < 0.15 {
		return finding.Say("at " + name)
	}
	return finding.Say("{0} "+compass(p[0]-from[0], p[1]-from[1])+" of "+name, finding.Metres("distance", d))
}

// fromCorner places p by the outline's south-west corner.
func (in *inspector) fromCorner(p orb.Point) finding.Text {
	rings := in.Roof.Outline.Rings
	if len(rings) == 0 || len(rings[0]) == 0 {
		return finding.Say("on the roof")
	}
	best := rings[0][0].Plan
	for _, q := range rings[0] {
		if q.Plan[0]+q.Plan[1] < best[0]+best[1] {
			best = q.Plan
		}
	}
	return awayFrom("the roof's south-west corner", best, p)
}

// nearest returns the outlet nearest to p, -1 where there is none.
func (in *inspector) nearest(p orb.Point) int32 {
	best, at := math.Inf(1), int32(-1)
	for o := range in.Surface.Outlets {
		if d := in.toFootprint(int32(o), p); d < best {
			best, at = d, int32(o)
		}
	}
	return at
}

// compass names the direction (dx, dy) by the nearest of eight; y is north.
func compass(dx, dy float64) string {
	const tan = 0.41421356237309503 // of 22.5 degrees: half of one eighth
	east, north := math.Abs(dx) > tan*math.Abs(dy), math.Abs(dy) > tan*math.Abs(dx)
	words := [2]string{"north", "east"}
	if dy < 0 {
		words[0] = "south"
	}
	if dx < 0 {
		words[1] = "west"
	}
	switch {
	case east && north:
		return words[0] + "-" + words[1]
	case north:
		return words[0]
	default:
		return words[1]
	}
}

// norm returns the length of a vector. The products are rounded one by one, so that the length is the same on
// every machine.
func norm(x, y float64) float64 { return math.Sqrt(float64(x*x) + float64(y*y)) }

// label makes a name from site safe to stand in a text's format.
func label(s string) string {
	return strings.NewReplacer("{", "(", "}", ")").Replace(s)
}

// nearestOn returns the place on a line nearest to p.
func nearestOn(line orb.LineString, p orb.Point) orb.Point {
	best, at := math.Inf(1), p
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		ux, uy := b[0]-a[0], b[1]-a[1]
		k := 0.0
		if l := float64(ux*ux) + float64(uy*uy); l > 0 {
			k = math.Min(1, math.Max(0, (float64((p[0]-a[0])*ux)+float64((p[1]-a[1])*uy))/l))
		}
		q := orb.Point{a[0] + float64(k*ux), a[1] + float64(k*uy)}
		if d := norm(q[0]-p[0], q[1]-p[1]); d < best {
			best, at = d, q
		}
	}
	return at
}
