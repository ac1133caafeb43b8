package tape

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/roof"
)

// Height is one height that was read, the mean where its place was read several times.
type Height struct {
	What     string    // "inlet of RD-1"; the id of a spot
	Plan     orb.Point // [m]
	Z, Sigma float64   // [m]
	Inlet    bool      // from which an outlet takes water, not of the roof
}

// ProbeName says what a reading was taken for; empty for that of an inlet, which is the outlet's.
func ProbeName(q *roof.Probe) string {
	switch q.Kind {
	case roof.LowProbe:
		return "lowest place of P" + q.Of
	case roof.LipProbe:
		return "lip of P" + q.Of
	case roof.BeforeProbe:
		return strings.TrimSpace("before " + q.Of)
	case roof.InletProbe:
	}
	return ""
}

// Readings returns the heights that were read at places: inlets, then readings for ponds, then spots.
func (s *Survey) Readings() []Height {
	var out []Height
	for i := range s.Roof.Outlets {
		if o := &s.Roof.Outlets[i]; o.HasInvert {
			out = append(out, Height{Inlet: true, What: "inlet of " + o.Label, Plan: o.Plan, Z: o.Invert, Sigma: s.Sigma / math.Sqrt(float64(max(1, s.inlets(o.Label))))})
		}
	}
	for i := range s.Roof.Tape.Probes {
		q := &s.Roof.Tape.Probes[i]
		if name := ProbeName(q); name != "" && s.first(i) {
			r := s.mean(q)
			out = append(out, Height{What: name, Plan: q.Plan, Z: r.Z, Sigma: r.Sigma})
		}
	}
	for i := range s.Roof.Spots {
		p := &s.Roof.Spots[i]
		sigma := choose.If(p.Sigma > 0, float64(p.Sigma), s.Sigma)
		out = append(out, Height{What: p.ID, Plan: p.Plan, Z: p.Z, Sigma: sigma})
	}
	return out
}
