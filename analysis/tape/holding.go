package tape

import (
	"math"
	"strings"

	"github.com/paulmach/orb/planar"

	"runnel/analysis/choose"
	"runnel/analysis/hold"
	"runnel/analysis/roof"
)

// hold says what holds a pond, from the heights that were read.
func (s *Survey) hold(p *Pond) {
	p.HoldExit = s.holdExit(p)
	w := hold.Way{Low: s.low(p), Lip: s.probe(roof.LipProbe, strings.TrimPrefix(p.ID, "P")), Least: s.Criteria.PondDepth}
	if p.HoldExit < 0 {
		p.Holding = hold.Of(w)
		return
	}
	if o := &s.Roof.Outlets[s.Exits[p.HoldExit].Outlet]; o.HasInvert {
		w.Outlet = hold.Reading{Z: o.Invert, Sigma: s.Sigma / math.Sqrt(float64(max(1, s.inlets(o.Label)))), Known: true}
	}
	for i := range s.Roof.Tape.Probes {
		q := &s.Roof.Tape.Probes[i]
		if q.Kind == roof.BeforeProbe && (strings.EqualFold(q.Of, s.Exits[p.HoldExit].Name) || q.Of == "") && s.first(i) {
			w.Before = append(w.Before, s.mean(q))
			p.Before = append(p.Before, q)
		}
	}
	p.Holding = hold.Of(w)
}

// holdExit returns the outlet that a pond's water should reach: the nearest before which the roof was read, else the nearest. -1 where the
// nearest way off is an edge, or there is none.
func (s *Survey) holdExit(p *Pond) int {
	best, least := -1, 0.0
	for i := range s.Exits {
		e := &s.Exits[i]
		if e.Outlet < 0 || e.Duty != roof.Primary || !s.readBefore(e.Name) {
			continue
		}
		if d := planar.Distance(e.Line[0], p.At); best < 0 || d < least {
			best, least = i, d
		}
	}
	if best < 0 && p.Exit >= 0 && s.Exits[p.Exit].Outlet >= 0 {
		best = p.Exit
	}
	return best
}

func (s *Survey) readBefore(name string) bool {
	for i := range s.Roof.Tape.Probes {
		if q := &s.Roof.Tape.Probes[i]; q.Kind == roof.BeforeProbe && strings.EqualFold(q.Of, name) {
			return true
		}
	}
	return false
}

// low returns the height of a pond's lowest place: as read, else the level of its water less the deepest sounding.
func (s *Survey) low(p *Pond) hold.Reading {
	if low := s.probe(roof.LowProbe, strings.TrimPrefix(p.ID, "P")); low.Known {
		return low
	}
	if !p.Level.Known || p.Depth == 0 {
		return hold.Reading{}
	}
	return hold.Reading{
		Z: p.Level.Z - p.Depth, Known: true,
		Sigma: math.Sqrt(float64(p.Level.Sigma*p.Level.Sigma) + float64(RulerError*RulerError)),
	}
}

// probe returns the lowest reading of a kind for a pond.
func (s *Survey) probe(kind roof.ProbeKind, of string) hold.Reading {
	var best hold.Reading
	for i := range s.Roof.Tape.Probes {
		q := &s.Roof.Tape.Probes[i]
		if q.Kind != kind || q.Of != of {
			continue
		}
		if r := s.mean(q); !best.Known || r.Z < best.Z {
			best = r
		}
	}
	return best
}

// samePlace is within what distance readings of one kind are of one place [m].
const samePlace = 0.05

func same(a, b *roof.Probe) bool {
	return a.Kind == b.Kind && strings.EqualFold(a.Of, b.Of) && planar.Distance(a.Plan, b.Plan) <= samePlace
}

// first reports whether reading i is the first of its place.
func (s *Survey) first(i int) bool {
	for k := range i {
		if same(&s.Roof.Tape.Probes[k], &s.Roof.Tape.Probes[i]) {
			return false
		}
	}
	return true
}

// mean returns the mean of the readings of one place, each with its weight by its error.
func (s *Survey) mean(q *roof.Probe) hold.Reading {
	weights, sum := 0.0, 0.0
	for i := range s.Roof.Tape.Probes {
		p := &s.Roof.Tape.Probes[i]
		if !same(p, q) {
			continue
		}
		sigma := choose.If(p.Sigma > 0, float64(p.Sigma), s.Sigma)
		w := 1 / float64(sigma*sigma)
		weights += w
		sum += float64(w * (p.Z - q.Z))
	}
	return hold.Reading{Z: q.Z + sum/weights, Sigma: 1 / math.Sqrt(weights), Known: true}
}

// inlets returns how often the inlet of an outlet was read by itself.
func (s *Survey) inlets(label string) int {
	n := 0
	for i := range s.Roof.Tape.Probes {
		if q := &s.Roof.Tape.Probes[i]; q.Kind == roof.InletProbe && strings.EqualFold(q.Of, label) {
			n++
		}
	}
	return n
}

// beforeDistance returns how far a reading before the pond's outlet was taken from it [m].
func (s *Survey) beforeDistance(p *Pond, i int) float64 {
	return planar.Distance(p.Before[i].Plan, s.Exits[p.HoldExit].Line[0])
}
