package correction

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/study"
	"runnel/analysis/surface"
)

// flatChanged returns the plan area [m2] that an option changes on planes under the criterion, itself under it, and that lay on no such plane before, and a place on
// the largest. Elsewhere the roof is as it was found, however the spots round about it are joined to planes now; and a plane drawn over the two sides of a
// channel or a sump falls less than either. all is the area of those planes as a whole.
func (d *designer) flatChanged(s *study.Study) (area, all float64, at orb.Point) {
	t := s.Surface.TIN
	for i := range s.Slopes.Planes {
		p := &s.Slopes.Planes[i]
		if !failing(p) {
			continue
		}
		sum, touched := 0.0, false
		for _, f := range p.Facets {
			q, z := t.Middle(f)
			if !d.changedAt(q, z) {
				continue
			}
			touched = true
			if vector.Norm(t.DX[f], t.DY[f]) < s.Criteria.MinSlope && !d.flatBefore(q) {
				a, b, c := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
				sum += vector.Turn(orb.Point{t.X[a], t.Y[a]}, orb.Point{t.X[b], t.Y[b]}, orb.Point{t.X[c], t.Y[c]}) / 2
			}
		}
		if touched {
			all += p.Area
		}
		if area == 0 && sum > 0 { // planes come the largest first
			at = p.Outline.Bound().Center()
		}
		area += sum
	}
	return area, all, at
}

// changedAt reports whether a corrected surface at elevation z leaves the surface as found at a place.
func (d *designer) changedAt(q orb.Point, z float64) bool {
	const same = 0.001 // [m]
	was, on := d.Locate.HeightAt(q[0], q[1])
	return !on || math.Abs(z-was) > same
}

// flatBefore reports whether the roof as found lay on a plane under the criterion at a place.
func (d *designer) flatBefore(q orb.Point) bool {
	f, on := d.Locate.Locate(q[0], q[1])
	if !on {
		return false
	}
	p := d.Study.Slopes.Plane[f]
	return p >= 0 && d.Study.Slopes.Planes[p].BelowMin
}

// flatValleys returns the length of the named valleys under the criterion that an option makes or moves [m], and the middle of the longest: those beside which
// it changes the surface and beside which the roof as found had none.
func (d *designer) flatValleys(s *study.Study) (length float64, at orb.Point) {
	most := 0.0
	var where *surface.Locator
	for i := range s.Slopes.Valleys {
		v := &s.Slopes.Valleys[i]
		if !v.BelowMin || !v.Resolved || !v.Named || inBowl(s, v.Plan) {
			continue
		}
		if where == nil {
			where = surface.NewLocator(s.Surface.TIN)
		}
		own := 0.0
		for k := 1; k < len(v.Plan); k++ {
			a, b := v.Plan[k-1], v.Plan[k]
			l := mend.LineLength(orb.LineString{a, b})
			n := int(l/valleyStep) + 1
			for j := range n {
				t := (float64(j) + 0.5) / float64(n)
				q := orb.Point{a[0] + float64(t*(b[0]-a[0])), a[1] + float64(t*(b[1]-a[1]))}
				if d.changedBeside(where, q) && !d.flatValleyAt(q) {
					own += l / float64(n)
				}
			}
		}
		if length += own; own > most {
			most, at = own, v.Plan.Bound().Center()
		}
	}
	return length, at
}

// valleyStep is how far apart places on a valley are looked at, and how far beside it [m].
const valleyStep = 0.25

// changedBeside reports whether a corrected surface leaves the surface as found at a place or a step to any side of it.
func (d *designer) changedBeside(where *surface.Locator, q orb.Point) bool {
	for _, c := range [5]orb.Point{q, {q[0] + valleyStep, q[1]}, {q[0] - valleyStep, q[1]}, {q[0], q[1] + valleyStep}, {q[0], q[1] - valleyStep}} {
		if z, on := where.HeightAt(c[0], c[1]); on && d.changedAt(c, z) {
			return true
		}
	}
	return false
}

// flatValleyAt reports whether the roof as found has a valley under the criterion beside a place.
func (d *designer) flatValleyAt(q orb.Point) bool {
	for i := range d.Study.Slopes.Valleys {
		v := &d.Study.Slopes.Valleys[i]
		if v.BelowMin && v.Resolved && vector.DistanceSquared(vector.Nearest(v.Plan, q), q) < beside*beside {
			return true
		}
	}
	return false
}
