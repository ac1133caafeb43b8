package surface

import (
	"fmt"

	"runnel/analysis/halt"
	"runnel/analysis/roof"
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
	d := newDraft(r, o)
	if err := d.settle(); err != nil {
		return nil, fmt.Errorf("surface: %w", err)
	}
	s, err := d.surface()
	if err != nil {
		return nil, fmt.Errorf("surface: %w", err)
	}
	return s, nil
}

// settle turns the roof into nodes and chains without contradictions, every node with an elevation.
func (d *draft) settle() error {
	groups := [][]func(){
		{d.checkNumbers},
		{d.placeOutline, d.placeCurbs},
		{d.placeEdges, d.placeBreaklines},
		{d.placeSpots},
		{d.checkEdges, d.findCrossings},
		{d.elevateBreaklines, d.elevateOutline},
		{d.elevateCurbs},
	}
	for _, g := range groups {
		for _, step := range g {
			step()
			d.line.Ask()
		}
		if err := d.refusal.Err(); err != nil {
			return err
		}
		if d.broken != nil {
			return d.broken
		}
	}
	return nil
}

// surface triangulates the settled draft and lays the outlets onto it.
func (d *draft) surface() (*Surface, error) {
	m, nodes, net, err := d.triangulate()
	if err != nil {
		return nil, err
	}
	d.line.Ask()
	folds := d.findFolds(m, nodes)
	if folds > 0 {
		if m, nodes, net, err = d.triangulate(); err != nil {
			return nil, err
		}
	}
	turned := d.turnArtefacts(m, nodes)
	d.line.Ask()
	s := &Surface{TIN: d.assemble(m, nodes), Folds: folds}
	d.line.Ask()
	if err := s.TIN.check(turned, net); err != nil {
		return nil, err
	}
	d.line.Ask()
	s.measure()
	if err := s.layOutlets(d); err != nil {
		return nil, err
	}
	d.line.Ask()
	d.noteSpikes(s.TIN)
	s.Warnings = d.sentences()
	return s, nil
}
