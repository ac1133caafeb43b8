package quantity

import (
	"fmt"
	"strings"
)

// maxBareSlope is the steepest slope that a number alone may stand for. A larger one is more likely a
// rate in inches per foot, or a percentage, whose unit was left out.
const maxBareSlope = 0.2

// ParseSlope reads a slope: "1/4 in per ft", `1/4"/ft`, "20 mm/m", "1/4:12", "1:80", "1 in 80", "2%" or, as
// rise over run and not over 0.2, "0.02". A fraction alone, "1/8", is refused: it may be inches to the foot. It is never negative.
func ParseSlope(text string) (Slope, error) {
	return read(text, "%.40q is not a slope: %s; write it like 1/4 in per ft, 2 %%, 1:80 or 0.02", func(s *scanner) (Slope, string) {
		if s.rest == "" {
			return 0, "it is empty"
		}
		rise, _, why := s.mixed()
		if why != "" {
			return 0, why
		}
		if s.skip(); s.rest == "" && strings.Contains(text, "/") {
			return 0, "a fraction alone may be inches to the foot or rise over run"
		}
		slope, why := s.slope(rise)
		if why == "" && slope > 100 {
			why = "it is steeper than any roof"
		}
		return Slope(slope), why
	})
}

// slope takes what follows the rise, to the end of the text.
func (s *scanner) slope(rise float64) (value float64, why string) {
	switch {
	case s.rest == "" && rise > maxBareSlope:
		return 0, "a number alone is rise over run, at most 0.2"
	case s.rest == "":
		return rise, ""
	case s.rest == "%" || s.rest == "percent":
		return rise / 100, ""
	case s.take(":"):
		return s.ratio(rise)
	}
	back := s.rest
	if s.take("in ") {
		if v, why := s.ratio(rise); why == "" {
			return v, ""
		}
	}
	s.rest = back
	unit, why := s.unit()
	if why != "" {
		return 0, why
	}
	if !s.per() {
		return 0, "the run is missing"
	}
	run, why := s.unit()
	if why == "" && strings.TrimSpace(s.rest) != "" {
		why = fmt.Sprintf("%.40q follows the run", s.rest)
	}
	return rise * float64(unit) / float64(run), why
}

// ratio takes the run of a ratio, to the end of the text.
func (s *scanner) ratio(rise float64) (value float64, why string) {
	s.skip()
	run, _, why := s.mixed()
	switch {
	case why != "":
		return 0, why
	case s.rest != "":
		return 0, fmt.Sprintf("%.40q follows the run", s.rest)
	case run == 0:
		return 0, "the run is 0"
	}
	return rise / run, ""
}
