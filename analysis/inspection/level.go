package inspection

import (
	"cmp"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/nearby"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// slack is the least difference of two surveyed levels that counts [m]: half an inch, or three standard errors.
func (in *inspector) slack() float64 { return math.Max(levelTolerance, 3*math.Sqrt2*in.sigma()) }

// atRim is how far from an outlet's place a spot still stands at its rim or floor [m].
const atRim = 0.05

// sunk is how far an inlet may lie below the roof shot at it [m]: 1 in, as deep as a clamping ring sits.
const sunk = float64(quantity.Inch)

// levels returns what does not fit together of the levels of outlets, sills and the roof beside them, and what lies off
// the roof.
func (in *inspector) levels() []finding.Finding {
	var out []finding.Finding
	rims := in.rims()
	for i := range in.Surface.Outlets {
		if f, low := in.rimBelow(i, rims[i]); low {
			out = append(out, f)
		} else if in.drawnOver(i, rims[i]) {
			out = append(out, in.notShot(i))
		}
	}
	locate := in.locate
	for i := range in.Roof.Sills {
		s := &in.Roof.Sills[i]
		name := cmp.Or(s.Label, s.ID)
		if in.offRoof(s.Plan, sillReach) {
			out = append(out, in.astray("sill", name, s.Plan))
		} else if z, ok := in.roofBefore(locate, s.Plan); ok && s.Z < z-in.slack() {
			out = append(out, in.sillBelow(name, s.Plan, s.Z, z))
		}
	}
	for i := range in.Roof.Cores {
		if c := &in.Roof.Cores[i]; in.offRoof(c.Plan, 0) {
			out = append(out, in.astray("core", c.ID, c.Plan))
		}
	}
	return out
}

// rim is the spot nearest to an outlet's place, no farther off than two spacings.
type rim struct {
	far float64 // from it [m]; +Inf where there is none
	z   float64 // [m]
}

// rims finds the spot nearest to each outlet's place, of equals the first.
func (in *inspector) rims() []rim {
	rims, at := make([]rim, len(in.Surface.Outlets)), make([]orb.Point, len(in.Surface.Outlets))
	for i := range rims {
		rims[i].far, at[i] = math.Inf(1), in.Surface.Outlets[i].Plan
	}
	places, reach := nearby.New(at), math.Max(atRim, 2*in.Surface.Spacing)
	for k := range in.Roof.Spots {
		s := &in.Roof.Spots[k]
		if !s.HasZ {
			continue
		}
		places.Each(s.Plan.Bound().Pad(2*reach), func(i int32) {
			if d := vector.Distance(s.Plan, at[i]); d <= reach && d < rims[i].far {
				rims[i] = rim{d, s.Z}
			}
		})
	}
	return rims
}

// rimBelow returns the finding for a drain or scupper whose inlet was given well below the spot at its place.
func (in *inspector) rimBelow(i int, at rim) (f finding.Finding, low bool) {
	o, z := &in.Surface.Outlets[i], at.z
	if o.Source < 0 || o.InvertAssumed {
		return f, false
	}
	if at.far > atRim || z-o.Invert <= math.Max(sunk, in.slack()) {
		return f, false
	}
	f = blank(finding.RimBelowSpot, finding.Note)
	f.Outlet, f.Size, f.Geometry, f.Confidence = i, z-o.Invert, o.Plan, finding.Likely
	f.What = finding.Say("The inlet of {1} was given {0} below the spot beside it.", finding.MM("depth", z-o.Invert), called(o))
	f.Where = finding.Say("at {0}", called(o))
	f.Measured = []finding.Quantity{finding.Level("inlet", o.Invert), finding.Level("spot beside it", z)}
	f.Why = finding.Say("Either a sump falls to the inlet that no spot shows, or one of the two levels is wrong.")
	f.Do = finding.Say("Take both levels again, and shoot the edge of the sump if there is one.")
	return f, true
}

// drawnOver reports whether the roof at an outlet is drawn well above its inlet from points far off, as a wall's foot between two corners is, while the spot
// nearest to it lies lower than that: water that runs to the outlet then seems to stand.
func (in *inspector) drawnOver(i int, near rim) bool {
	o := &in.Surface.Outlets[i]
	return o.Source >= 0 && o.Duty != roof.Overflow && !o.InvertAssumed && near.far > atRim && !math.IsInf(near.far, 1) &&
		o.Low-o.Invert > math.Max(sunk, in.slack()) && o.Low-near.z > in.slack()
}

// notShot is the finding for an outlet at which the roof was not measured, and is drawn above its inlet.
func (in *inspector) notShot(i int) finding.Finding {
	o := &in.Surface.Outlets[i]
	f := blank(finding.RimBelowSpot, finding.Note)
	f.Outlet, f.Size, f.Geometry, f.Confidence = i, o.Low-o.Invert, o.Plan, finding.NotResolved
	f.What = finding.Say("No spot stands at {1}, and the survey draws the roof there {0} above its inlet.", finding.MM("depth", f.Size), called(o))
	f.Where = finding.Say("at {0}", called(o))
	f.Measured = []finding.Quantity{finding.Level("inlet", o.Invert), finding.Level("roof as drawn", o.Low)}
	f.Why = finding.Say("It is drawn straight between points that stand far apart, and the spot nearest to it lies lower. Water that runs to the outlet may be shown as standing.")
	f.Do = finding.Say("Shoot the roof right before the inlet, and the foot of the wall or the low line on both sides of it.")
	return f
}

func (in *inspector) sillBelow(name string, at orb.Point, z, before float64) finding.Finding {
	f := blank(finding.SillBelowRoof, finding.Repair)
	f.Size, f.Geometry, f.Confidence = before-z, at, finding.Likely
	f.What = finding.Say("Sill {1} lies {0} below the roof before it.", finding.MM("depth", before-z), finding.Called(name))
	f.Where = in.Places.Of(at)
	f.Measured = []finding.Quantity{finding.Level("sill", z), finding.Level("roof before it", before)}
	f.Why = finding.Say("Water that only runs past gets in, unless one of the two levels is wrong.")
	f.Do = finding.Say("Take both levels again. If they are right, have the opening closed or raised.")
	return f
}

// astray returns a note for a sill or core that does not lie on the roof.
func (in *inspector) astray(what, name string, at orb.Point) finding.Finding {
	f := blank(finding.OffRoof, finding.Note)
	f.Geometry = at
	f.What = finding.Say("The "+what+" {0} lies off the roof: nothing is said of it.", finding.Called(name))
	f.Where = in.Places.Of(at)
	f.Why = finding.Say("Its place is outside the outline or inside a curb.")
	f.Do = finding.Say("Look up its coordinates: northing and easting may have changed places.")
	return f
}

// offRoof reports whether a place lies more than reach outside the outline or within a curb [m].
func (in *inspector) offRoof(at orb.Point, reach float64) bool {
	const play = 0.05 // a place on the line is neither in nor out
	reach = math.Max(reach, play)
	for i, ring := range in.Roof.Outline.Rings {
		if r := roof.PlanOf(ring); planar.RingContains(r, at) != (i == 0) && planar.DistanceFrom(orb.LineString(r), at) > reach {
			return true
		}
	}
	for i := range in.Roof.Curbs {
		if r := roof.PlanOf(in.Roof.Curbs[i].Ring); planar.RingContains(r, at) && planar.DistanceFrom(orb.LineString(r), at) > reach {
			return true
		}
	}
	return false
}

// roofBefore returns the elevation of the roof at a sill, or at the nearest corner of a facet within reach.
func (in *inspector) roofBefore(locate *surface.Locator, at orb.Point) (z float64, ok bool) {
	t := in.Surface.TIN
	if f, found := locate.Locate(at[0], at[1]); found {
		return t.Height(f, at[0], at[1]), true
	}
	least := sillReach
	for v := range t.X {
		if d := vector.Norm(t.X[v]-at[0], t.Y[v]-at[1]); d <= least {
			least, z, ok = d, t.Z[v], true
		}
	}
	return z, ok
}
