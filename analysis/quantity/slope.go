package quantity

import "strings"

// maxBareSlope is the steepest slope that a number alone may stand for. A larger one is more likely a
// rate in inches per foot, or a percentage, whose unit was left out.
const maxBareSlope = 0.2

// ParseSlope reads a slope: "1/4 in per ft", `1/4"/ft`, "20 mm/m", "1/4:12", "1:80", "1 in 80", "2%" or, as
// rise over run and not over 0.2, "0.02". A fraction alone, "1/8", is refused: it may be inches to the foot. It is never negative.
func ParseSlope(text string) (Slope, error) {
	return read(text, "%.40q is not a slope: %s; write it like 1/4 in per ft, 2 %%, 1:80 or 0.02", func(s *scanner) Slope {
		if s.rest == "" {
			s.refuse("it is empty")
		}
		rise, _ := s.mixed()
		if s.skip(); s.rest == "" && strings.Contains(text, "/") {
			s.refuse("a fraction alone may be inches to the foot or rise over run")
		}
		slope := s.slope(rise)
		if slope > 100 {
			s.refuse("it is steeper than any roof")
		}
		return Slope(slope)
	})
}

// slope takes what follows the rise, to the end of the text.
func (s *scanner) slope(rise float64) float64 {
	switch {
	case s.rest == "":
		if rise > maxBareSlope {
			s.refuse("a number alone is rise over run, at most 0.2")
		}
		return rise
	case s.rest == "%" || s.rest == "percent":
		return rise / 100
	case s.take(":"):
		return s.ratio(rise)
	}
	if in := *s; in.take("in ") {
		if v := in.ratio(rise); in.why == "" {
			return v
		}
	}
	unit := s.unit()
	if !s.per() {
		s.refuse("the run is missing")
	}
	run := s.unit()
	s.end("run")
	return rise * float64(unit) / float64(run)
}

// ratio takes the run of a ratio, to the end of the text.
func (s *scanner) ratio(rise float64) float64 {
	s.skip()
	run, _ := s.mixed()
	if s.end("run"); run == 0 {
		s.refuse("the run is 0")
	}
	return rise / run
}
