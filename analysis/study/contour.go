package study

import (
	"runnel/analysis/contour"
	"runnel/analysis/quantity"
)

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
