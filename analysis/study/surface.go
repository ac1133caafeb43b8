package study

import (
	"fmt"

	"runnel/analysis/contour"
	"runnel/analysis/evidence"
	"runnel/analysis/halt"
	"runnel/analysis/mean"
	"runnel/analysis/quantity"
	"runnel/analysis/surface"
)

// build makes the surface: of the points as surveyed or, where they are denser than their errors support, of their means.
// From there on the means are the roof's spots.
func (s *Study) build(o Options) error {
	how := surface.Options{Tolerance: o.Tolerance, Halt: halt.Of(o.Context)}
	built, err := surface.Build(s.Roof, how)
	if err != nil {
		return err
	}
	s.Surface, s.Errors = built, evidence.ErrorsOf(built, s.Roof)
	if s.errorsFrom != nil {
		s.Errors.Source = *s.errorsFrom
	}
	brought, means := mean.Of(built, s.Roof, s.Errors)
	if means == nil {
		return nil
	}
	if s.Surface, err = surface.Build(brought, how); err != nil {
		return fmt.Errorf("means of dense points: %w", err)
	}
	s.Surface.Warnings = built.Warnings // on the points as surveyed
	s.Roof, s.Means, s.Errors = brought, means, evidence.ErrorsOf(s.Surface, brought)
	s.Errors.Source = means.Errors
	return nil
}

// refuseContours refuses an interval of contours that cannot be drawn, before anything else is done; where only findings are asked for too, so that a
// roof is not checked for one file and refused for another.
func (s *Study) refuseContours(o Options) error {
	if o.Narrow {
		return nil
	}
	return contour.Refuse(s.Surface.TIN, quantity.Length(s.Criteria.Contour))
}

// contours draws the contours. That is done once water is traced, which takes the most memory.
func (s *Study) contours(o Options) (err error) {
	if !o.Narrow && !o.FindingsOnly {
		s.Contours, err = contour.Of(s.Surface.TIN, quantity.Length(s.Criteria.Contour))
	}
	return err
}
