package cause

import (
	"math"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
)

// Lap is what the spots about a lip show of a rise that is narrower than they stand apart.
type lap struct {
	ok    bool
	high  float64 // of the lip over the plane through the other spots [m]
	spots int     // spots that stand above that plane
	error float64 // standard deviation of a height over the plane [m]
}

// A lap is looked for among the spots within lapReach of the lip, in spacings; at most lapShare of them may stand high, and one stands high
// from lapSure standard deviations.
const (
	lapReach = 3.2
	lapShare = 0.34
	lapSure  = 3.0
)

// lapOf fits a plane to the spots about the lip, leaving out the highest one by one while they stand above the rest by more than readings can be
// out. It is ok where the rest lie on that plane, and the pond's floor with them.
func (v *view) lapOf() lap {
	lip := v.way.v[v.way.lip]
	s := v.spotsNear(lip, lapReach*v.scale)
	total := len(s)
	e := math.Max(v.noise, leastError)
	for {
		plane, ok := fitPlane(s)
		if !ok || len(s) < 6 || float64(len(s)) < (1-lapShare)*float64(total) {
			return lap{}
		}
		worst, most := -1, lapSure*e
		low := 0.0
		for i, p := range s {
			r := p.z - plane.at(p.x, p.y)
			if low = math.Min(low, r); r > most {
				worst, most = i, r
			}
		}
		if worst < 0 {
			out := lap{high: v.t.Z[lip] - plane.at(0, 0), spots: total - len(s), error: e}
			floor := v.low - plane.at(v.t.X[v.deep]-v.t.X[lip], v.t.Y[v.deep]-v.t.Y[lip])
			out.ok = out.spots > 0 && low > -lapSure*e && floor > -math.Max(lapSure*e, out.high/4)
			return out
		}
		s = append(s[:worst], s[worst+1:]...)
	}
}

// leastError is the error of a height in a plane that even an exact survey has: it is written to the millimetre [m].
const leastError = 0.001

// spotsNear returns the measured vertices within reach of vertex c, as they are joined, with c as origin.
func (v *view) spotsNear(c int32, reach float64) []sample {
	var s []sample
	v.stamp++
	v.mark[c] = v.stamp
	queue := []int32{c}
	for i := 0; i < len(queue) && i < maxReach; i++ {
		u := queue[i]
		x, y := v.t.X[u]-v.t.X[c], v.t.Y[u]-v.t.Y[c]
		if int(u) < len(v.s.TIN.X) && (int(u) >= len(v.t.Assumed) || !v.t.Assumed[u]) {
			s = append(s, sample{x, y, v.t.Z[u], 1})
		}
		v.around(u, func(w int32) {
			if v.mark[w] != v.stamp && vector.Norm(v.t.X[w]-v.t.X[c], v.t.Y[w]-v.t.Y[c]) <= reach {
				v.mark[w] = v.stamp
				queue = append(queue, w)
			}
		})
	}
	return s
}

// lapOnSpots: one spot or a few on the way out stand above the plane of all the others.
//
// Physical reason: laps, an extra layer or a thing on the roof are narrower than the spots of a plain grid stand apart. A spot that hits one
// stands above the plane on which the roof goes on before and beyond; the floor of the water lies on that plane, as a sag's does not.
func lapOnSpots(v *view) (Candidate, bool) {
	if c := &v.crest; v.p.HeldBy >= 0 && !v.overflowHolds() || !c.ok || v.lipOnEdge() || c.rise < rings[1]/2 {
		return Candidate{}, false
	}
	l := v.lapOf()
	if !l.ok {
		return Candidate{}, false
	}
	out := Candidate{
		What:  finding.Say("A narrow rise across the flow holds water back."),
		Mend:  finding.Say("Cut out and flatten laps or extra layers, or move what lies on the roof."),
		Score: 0.93 * ramp(l.high, lapSure*l.error, 2*lapSure*l.error) * ramp(v.gap(), 0.2, 0.6) * v.resolved(v.depth),
		Facts: []finding.Quantity{
			finding.MM("height of the ridge", l.high), finding.Metres("spacing of the spots", v.scale),
		},
	}
	if v.between.ok {
		out.Score *= 1 - float64(0.6*v.resolved(v.between.crown)) // the spots that stand high may be the cricket's own
	}
	out.Why = finding.Say("Where the water leaves, the roof stands {0} above the plane of the spots before and beyond. It is narrower than the spots stand apart, {1}.",
		finding.MM("height of the ridge", l.high), finding.Metres("spacing of the spots", v.scale))
	out.Measure = v.lookForLaps()
	return out, true
}

// lookForLaps asks what makes a lip.
func (v *view) lookForLaps() finding.Text {
	return finding.Say("Lay a straightedge over the lip and feel for laps or an extra layer.")
}
