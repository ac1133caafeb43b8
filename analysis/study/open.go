package study

import (
	"github.com/paulmach/orb"

	"runnel/analysis/inspection"
	"runnel/analysis/roof"
)

// lowPlaces says of a roof whose outlets nobody surveyed which low places hold water even if it could leave over every edge: what its shape
// alone tells, as of a laser scan, which sees no outlets. The roof is studied once more with every edge free. r is the roof as measured.
// It is nil for a roof that has outlets or open edges, or that is known to have none.
func (s *Study) lowPlaces(r *roof.Roof, o Options) (*inspection.LowPlaces, error) {
	if len(s.Surface.Outlets) > 0 || s.Roof.Outline.NoOutlets {
		return nil, nil
	}
	open := *r
	open.Outline.Edge, open.Outline.EdgeAssumed, open.Edges = roof.Free, false, nil
	o.Narrow, o.Storm, o.Above, o.Step, o.Clock = true, nil, nil, nil, nil
	t, err := Run(&open, o)
	if err != nil {
		return nil, err
	}
	low := &inspection.LowPlaces{Count: len(t.Listed)}
	for i := range t.Listed {
		p := &t.Ponds.Ponds[t.Listed[i].Pond]
		low.Area += p.Area
		low.Volume += p.Volume
		if p.Depth > low.Depth {
			low.Depth = p.Depth
			low.Deepest = orb.Point{t.Surface.Cut.X[p.Pits[0]], t.Surface.Cut.Y[p.Pits[0]]}
		}
	}
	return low, nil
}
