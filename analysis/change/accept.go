package change

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/quantity"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/analysis/tape"
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
func Accept(planned, built *study.Study, places []Wanted, limit quantity.Length) []Place {
	t := built.Surface.TIN
	find := surface.NewLocator(t)
	out := make([]Place, len(places))
	for i, w := range places {
		p := built.Roof.Frame.From(planned.Roof.Frame, w.Plan)
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
		out[i].judge(w.Z, limit)
	}
	return out
}

// judge compares what was built with what was set out.
func (p *Place) judge(wanted float64, limit quantity.Length) {
	p.Off = p.Built - wanted
	reach := standard.SureError * p.Error
	switch off, most := math.Abs(p.Off), float64(limit); {
	case off+reach <= most:
		p.Verdict = Within
	case off-reach > most:
		p.Verdict = Outside
	default:
		p.Verdict = NotResolved
	}
}

// AcceptInlet compares the inlet of the finished roof's outlet at a place with what was set out. Its level is as good as the survey's spots are.
func AcceptInlet(planned, built *study.Study, w Wanted, limit quantity.Length) Place {
	p := built.Roof.Frame.From(planned.Roof.Frame, w.Plan)
	best, away := -1, near
	for i := range built.Surface.Outlets {
		o := &built.Surface.Outlets[i]
		dx, dy := o.Plan[0]-p[0], o.Plan[1]-p[1]
		if d := math.Sqrt(float64(dx*dx) + float64(dy*dy)); d <= away && !o.InvertAssumed {
			best, away = i, d
		}
	}
	if best < 0 {
		return Place{Verdict: NotMeasured}
	}
	out := Place{Built: built.Surface.Outlets[best].Invert, Error: built.Errors.Typical}
	out.judge(w.Z, limit)
	return out
}

// AcceptReadings compares heights that were read on the finished roof, none of them an inlet's, with what was set out: each with the planned surface at its own
// place, for the place of the set-out sheet that it stands nearest to.
func AcceptReadings(planned *study.Study, built *tape.Survey, places []Wanted, limit quantity.Length) []Place {
	find := surface.NewLocator(planned.Surface.Cut)
	out := make([]Place, len(places))
	for i, w := range places {
		p := built.Roof.Frame.From(planned.Roof.Frame, w.Plan)
		out[i].Verdict = NotMeasured
		away := near
		for _, h := range built.Readings() {
			q := planned.Roof.Frame.From(built.Roof.Frame, h.Plan)
			z, ok := find.HeightAt(q[0], q[1])
			if d := planar.Distance(h.Plan, p); ok && d <= away && !h.Inlet {
				away = d
				out[i] = Place{Built: w.Z + h.Z - z, Error: h.Sigma}
				out[i].judge(w.Z, limit)
			}
		}
	}
	return out
}

// AcceptReadInlet compares an inlet that was read on the finished roof with what was set out.
func AcceptReadInlet(planned *study.Study, built *tape.Survey, w Wanted, limit quantity.Length) Place {
	p := built.Roof.Frame.From(planned.Roof.Frame, w.Plan)
	out, away := Place{Verdict: NotMeasured}, near
	for _, h := range built.Readings() {
		if d := planar.Distance(h.Plan, p); h.Inlet && d <= away {
			away = d
			out = Place{Built: h.Z, Error: h.Sigma}
			out.judge(w.Z, limit)
		}
	}
	return out
}
