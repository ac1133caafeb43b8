package change

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/surface"
)

// Verdict says how a finished place stands to what was set out.
type Verdict string

// Verdicts on a place.
const (
	Within      Verdict = "within"
	Outside     Verdict = "outside"
	NotResolved Verdict = "not resolved" // the error of the survey reaches over the limit
	NotMeasured Verdict = "not measured" // no spot stands near
)

// Wanted is a place that was set out.
type Wanted struct {
	Plan orb.Point // in the planned roof's frame [m]
	Z    float64   // as set out [m]
}

// Place is a place that was set out, with what was built.
type Place struct {
	Built   float64 // elevation there [m]
	Off     float64 // built less wanted [m]
	Error   float64 // standard error of Off [m]
	Verdict Verdict
}

// near is how far the nearest measured corner of the mesh may be for a place to count as measured [m]. Common practice, no source.
const near = 0.5

// Accept compares the finished roof with what was set out: within, where the difference with its error (SureError standard errors, one in twenty) is under the
// limit; outside, where it is over it with as much certainty.
func Accept(planned, built *study.Study, places []Wanted, limit float64) []Place {
	t := built.Surface.TIN
	find := surface.NewLocator(t)
	out := make([]Place, len(places))
	for i, w := range places {
		p := built.Roof.Frame.ToLocal(planned.Roof.Frame.ToFile(w.Plan))
		f, ok := find.Locate(p[0], p[1])
		if !ok {
			out[i].Verdict = NotMeasured
			continue
		}
		part, away, measured := weights(t, f, p)
		if away > near || !measured {
			out[i].Verdict = NotMeasured
			continue
		}
		variance := 0.0
		for k, weight := range part {
			sigma := built.Errors.Sigma[t.V[3*f+int32(k)]]
			variance += float64(float64(weight*weight) * float64(sigma*sigma))
		}
		out[i] = Place{Built: t.Height(f, p[0], p[1]), Error: math.Sqrt(variance)}
		out[i].Off = out[i].Built - w.Z
		reach := standard.SureError * out[i].Error
		switch off := math.Abs(out[i].Off); {
		case off+reach <= limit:
			out[i].Verdict = Within
		case off-reach > limit:
			out[i].Verdict = Outside
		default:
			out[i].Verdict = NotResolved
		}
	}
	return out
}
