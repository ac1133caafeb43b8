package study

import (
	"runnel/analysis/drainage"
	"runnel/analysis/rainload"
)

// water compares the design rain with the outlets, and says how deep water stands with every primary outlet blocked.
func (s *Study) water(above []drainage.Above) error {
	in := &drainage.Input{
		Roof: s.Roof, Criteria: s.Criteria, Surface: s.Surface, Ponds: s.Ponds, Flow: s.Flow, Catchments: s.Catchments,
		Above: above, Blocked: s.blockedRoof,
	}
	var err error
	if s.Drainage, err = drainage.Of(in); err != nil {
		return err
	}
	b := s.Drainage.Blocked
	if b == nil {
		return nil
	}
	inflow, err := s.Drainage.Inflow(in)
	if err != nil {
		return err
	}
	load := rainload.Input{TIN: b.Surface.Cut, Outlets: b.Surface.Outlets, Ponds: b.Ponds, Inflow: inflow}
	for _, o := range b.Of {
		var law rainload.Law
		if r := s.Drainage.Outlets[o].Rating; r != nil {
			law = r.Flow
		}
		load.Laws = append(load.Laws, law)
	}
	s.RainLoad, err = rainload.Of(load)
	return err
}

// laws returns the flow of each outlet of the surface at a head [m3/s]; nil for an edge, which takes what comes, and for
// an outlet whose sizes nobody stated.
func (s *Study) laws() []func(head float64) float64 {
	out := make([]func(float64) float64, len(s.Surface.Outlets))
	for i := range out {
		if r := s.Drainage.Outlets[i].Rating; r != nil {
			out[i] = r.Flow
		}
	}
	return out
}
