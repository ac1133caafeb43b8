package tape

import (
	"math"

	"github.com/paulmach/orb/planar"

	"runnel/analysis/assembly"
	"runnel/analysis/finding"
	"runnel/analysis/hold"
	"runnel/analysis/inspection"
	"runnel/analysis/offset"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// Survey is a roof of tier A or B with what can be said of it.
type Survey struct {
	Roof     *roof.Roof
	Tier     Tier
	Criteria standard.Criteria
	Area     float64       // inside the outline, curbs taken off [m2]
	Walls    []offset.Wall // in the order of their numbers
	Exits    []Exit
	Ponds    []Pond // worst first
	Slopes   []Slope
	Cores    *assembly.Result  // what each core says by itself
	Findings []finding.Finding // worst first
	KeepOff  inspection.KeepOff
	Cautions []inspection.Caution
	Next     []Spot  // that would answer the next question, in walking order
	Sigma    float64 // standard error of a height that states none [m]
	Stated   bool    // somebody stated it
	Heights  int     // that were read
}

// Slope is a slope as a level and the gap under its end gave it.
type Slope struct {
	Gap   *roof.Gap
	Slope float64 // rise over run, downwards to Toward
	Error float64 // its standard error
	Where finding.Text
}

// What a ruler and a level add to errors [m]. Common practice, no source: a ruler in water or under a level is read to 1/16 in; a good
// spirit level is level to 0.5 mm in a metre.
const (
	RulerError = float64(quantity.Inch) / 16
	levelError = 0.0005
)

// Of returns what can be said of a roof of tier A or B.
func Of(r *roof.Roof, c standard.Criteria) *Survey {
	s := &Survey{Roof: r, Tier: TierOf(r), Criteria: c}
	ring := roof.PlanOf(r.Outline.Rings[0])
	s.Area = math.Abs(planar.Area(ring))
	for i := range r.Curbs {
		s.Area -= math.Abs(planar.Area(roof.PlanOf(r.Curbs[i].Ring)))
	}
	s.Walls = offset.Walls(ring, r.Tape.Clockwise)
	s.Sigma, s.Stated = SigmaOf(r)
	s.Exits = s.exits()
	s.Ponds = s.ponds()
	for i := range r.Tape.Gaps {
		s.Slopes = append(s.Slopes, s.slope(&r.Tape.Gaps[i]))
	}
	s.Cores = assembly.Read(r)
	results := s.results()
	s.KeepOff = inspection.KeepOffOf(results)
	s.Cautions = s.cautions()
	s.Findings = s.findings()
	s.Heights = s.heights()
	s.Next = s.next()
	return s
}

// heights counts the heights that were read.
func (s *Survey) heights() int {
	n := len(heightsOf(s.Roof))
	for i := range s.Roof.Tape.Probes {
		if s.Roof.Tape.Probes[i].Kind != roof.InletProbe { // counted with its outlet
			n++
		}
	}
	for i := range s.Roof.Outlets {
		if s.Roof.Outlets[i].HasInvert {
			n++
		}
	}
	for i := range s.Roof.Tape.Waters {
		w := &s.Roof.Tape.Waters[i]
		for k := range w.Edge {
			if w.Edge[k].HasZ {
				n++
			}
		}
		if w.HasLevel {
			n++
		}
	}
	return n
}

// slope returns the slope that a level and a gap give.
func (s *Survey) slope(g *roof.Gap) Slope {
	return Slope{Gap: g, Slope: float64(g.Gap) / float64(g.Level), Error: GapError(g), Where: s.Where(g.Plan)}
}

// GapError returns the standard error of a slope by level and gap: the gap's and the level's own error over its length.
func GapError(g *roof.Gap) float64 {
	length := float64(g.Level)
	bubble := float64(levelError * length)
	return math.Sqrt(float64(RulerError*RulerError)+float64(bubble*bubble)) / length
}

// results are those of the roof with the water that was seen, for the rules that are the same on every roof.
func (s *Survey) results() *inspection.Results {
	r := *s.Roof
	r.Stains = Stains(s.Roof)
	results := &inspection.Results{Roof: &r, Criteria: s.Criteria, Cores: s.Cores.Findings()}
	for i := range s.Ponds {
		if d := &s.Ponds[i].Holding.Depth; d.Answer == hold.Yes {
			results.Full = append(results.Full, inspection.FullDepth{ID: s.Ponds[i].ID, Depth: d.Value, Depth95: d.Upper()})
		}
	}
	return results
}

// Stains returns the water of a roof that was seen, be it as stain or by chalk.
func Stains(r *roof.Roof) []roof.Stain {
	out := append([]roof.Stain{}, r.Stains...)
	if r.Tape == nil {
		return out
	}
	for i := range r.Tape.Waters {
		w := &r.Tape.Waters[i]
		stain := roof.Stain{Feature: w.Feature, Ring: closed(w), HoursSinceRain: w.HoursSinceRain, Outlets: w.Outlets, Note: w.Note}
		for _, d := range w.Soundings {
			stain.Depth = max(stain.Depth, d.Depth)
		}
		out = append(out, stain)
	}
	return out
}

// closed returns the marks of a water's edge as a closed counter-clockwise ring.
func closed(w *roof.Water) []roof.Position {
	ring, _ := around(w)
	out := make([]roof.Position, len(ring))
	for i := range ring {
		out[i].Plan = ring[i]
	}
	return out
}

// cautions returns those that apply to the roof.
func (s *Survey) cautions() []inspection.Caution {
	var out []inspection.Caution
	if len(s.Ponds) > 0 || s.KeepOff.Is() {
		out = append(out, inspection.DeepPond)
	}
	out = append(out, inspection.Height, inspection.Skylights, inspection.Ice, inspection.Electric)
	if len(s.Ponds) > 0 {
		out = append(out, inspection.Water)
	}
	return append(out, inspection.Structure, inspection.Cores, inspection.LocalCode)
}
