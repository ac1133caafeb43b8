package inspection

import (
	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/standard"
)

// LowPlaces are the ponds that the spots would show on a roof whose outlets nobody surveyed if water could leave over every edge: an
// outlet stands in each of them, or water does.
type LowPlaces struct {
	Count        int
	Depth        float64   // of the deepest [m]
	Area, Volume float64   // of all [m2, m3]
	Deepest      orb.Point // where that is
}

// Say says what the shape alone tells.
func (low *LowPlaces) Say() finding.Text {
	deep := finding.MM("depth of low place", low.Depth)
	switch low.Count {
	case 0:
		return finding.Say("Its shape shows no low place that would hold water if it could leave over every edge.")
	case 1:
		return finding.Say("Its shape shows one low place, {0} deep: either an outlet stands in it, or water does.", deep)
	}
	return finding.Say("Its shape shows {0} low places, the deepest {1} deep: either an outlet stands in each of them, or water does.",
		finding.Number("low places", low.Count), deep)
}

// tellLowPlaces adds to the finding on outlets that nobody surveyed what the shape alone tells.
func (in *inspector) tellLowPlaces(f *finding.Finding) {
	low := in.LowPlaces
	if low == nil {
		return
	}
	f.Why = f.Why.And(low.Say())
	if low.Count == 0 {
		return
	}
	f.Where = f.Where.And(finding.Say("and above all its deepest low place,")).And(in.Places.Of(low.Deepest))
	f.Geometry = low.Deepest
	f.Do = f.Do.And(finding.Say("Begin in the low places."))
	f.Measured = append(f.Measured, finding.Number("low places", low.Count), finding.MM("depth of low place", low.Depth),
		finding.Plan("area of low places", low.Area), finding.Weight("water in low places", low.Volume*standard.WaterDensity))
}
