package surface

import (
	"cmp"
	"fmt"

	"runnel/analysis/atonce"
	"runnel/analysis/halt"
	"runnel/analysis/roof"
	"runnel/analysis/surface/settle"
)

// Options say how a surface is built.
type Options struct {
	Tolerance float64    // factor on every plan tolerance; 0 means 1
	Halt      *halt.Line // looked at in long loops; stays with the TIN
}

// Build makes the surface of a measured roof.
//
// Contradictions in the measurement are settled by fixed rules or refused: what stands at the same place, lies on a
// line, crosses, has no elevation or lies outside. What was moved, merged, inferred or left out stands in
// Warnings. The error is a *roof.Refusal when the input cannot be used, and a *fault.Error when an
// invariant of the result broke.
func Build(r *roof.Roof, o Options) (*Surface, error) {
	g, err := settle.Of(r, o.Tolerance, o.Halt)
	if err != nil {
		return nil, fmt.Errorf("surface: %w", err)
	}
	s, err := on(g, r, o.Halt)
	if err != nil {
		return nil, fmt.Errorf("surface: %w", err)
	}
	return s, nil
}

// on makes the surface of the settled measurement and lays the outlets onto it.
func on(g *settle.Ground, r *roof.Roof, line *halt.Line) (*Surface, error) {
	s := &Surface{TIN: assemble(g, line), Folds: g.Folds, Scatter: g.Scatter}
	line.Ask()
	var unproved, unlaid error
	atonce.Do(func() { unproved = s.TIN.check(g.Turned, g.Net) }, func() {
		s.measure()
		unlaid = s.layOutlets(g, r)
	})
	if err := cmp.Or(unproved, unlaid); err != nil {
		return nil, err
	}
	line.Ask()
	noteSpikes(g, s.TIN)
	s.Warnings = g.Sentences()
	return s, nil
}
