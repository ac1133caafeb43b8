package slope

import (
	"errors"

	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// Of finds slopes, planes, valleys and ridges of a surface.
//
// r gives the types of the breaklines and may be nil: then every breakline is a grade break. Planes are
// compared with c.MinSlope, valleys with c.MinValleySlope; zero compares with nothing. Only s.TIN and
// s.Outlets are read.
func Of(s *surface.Surface, r *roof.Roof, c standard.Criteria) (*Slopes, error) {
	if s == nil || s.TIN == nil || s.TIN.Facets() == 0 {
		return nil, errors.New("slope: the surface has no facets")
	}
	out := &Slopes{}
	g := newGrower(s.TIN)
	out.Noise, out.Tolerance = g.estimate, g.usualTolerance()
	g.facets(out)
	for _, step := range []func(){g.planes, g.merge, g.bridge, g.dissolve, g.settle} {
		step()
		g.t.Halt.Ask()
	}
	g.describe(out, c, s.Spacing)
	g.t.Halt.Ask()
	l := &liner{grower: g, surface: s, roof: r, criteria: c, slopes: out}
	l.lines()
	return out, nil
}
