package drainage

import (
	"runnel/analysis/catchment"
	"runnel/analysis/flow"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// primaries says of each outlet whether it is primary and can be blocked: a drain or a scupper.
func primaries(s *surface.Surface) []bool {
	blocked := make([]bool, len(s.Outlets))
	for i := range s.Outlets {
		o := &s.Outlets[i]
		blocked[i] = o.Duty == roof.Primary && o.Type != roof.EdgeOutlet
	}
	return blocked
}

// Block returns the roof with every primary outlet blocked, for Input; nil where it has none that can be. p are its ponds with all outlets working. The error
// is a *fault.Error.
func Block(s *surface.Surface, p *ponding.Ponds, c *standard.Criteria) (*Blocked, error) {
	return block(s, p, primaries(s), c.RainOverflow > 0)
}

// block returns the roof with some of its outlets blocked; nil where none is. blocked has an entry for every
// outlet. Where the water then runs is traced only on request. The error is a *fault.Error.
func block(s *surface.Surface, p *ponding.Ponds, blocked []bool, trace bool) (*Blocked, error) {
	b := &Blocked{}
	less := *s
	less.Outlets = nil
	for i := range s.Outlets {
		if !blocked[i] {
			less.Outlets = append(less.Outlets, s.Outlets[i])
			b.Of = append(b.Of, int32(i))
		}
	}
	if len(less.Outlets) == len(s.Outlets) {
		return nil, nil
	}
	b.Surface = &less
	var err error
	if b.Ponds, err = p.Again(less.Outlets, less.Cut.Z); err != nil {
		return nil, err
	}
	if !trace {
		return b, nil
	}
	if b.Flow, err = flow.Trace(&less, flow.Options{LabelsOnly: true}); err != nil {
		return nil, err
	}
	b.Catchments, err = catchment.Areas(&less, b.Flow, b.Ponds, make([]bool, len(b.Ponds.Ponds)))
	return b, err
}
