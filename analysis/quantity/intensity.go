package quantity

import "fmt"

// hours are the ways to write the hour.
var hours = map[string]bool{"h": true, "hr": true, "hour": true}

// ParseIntensity reads a rate of rain per hour: "4 in/h", "1-1/2 in per hour", "25 mm/h". A unit is required.
func ParseIntensity(text string) (Intensity, error) {
	fail := func(why string) (Intensity, error) {
		return 0, fmt.Errorf("%q is not a rate of rain: %s; write it like 4 in/h or 100 mm/h", clip(text), why)
	}
	if len(text) > maxText {
		return fail("it is too long")
	}
	s := &scanner{plain(text)}
	if s.take("-") {
		return fail("it is negative")
	}
	value, _, why := s.mixed()
	if why != "" {
		return fail(why)
	}
	s.skip()
	if s.rest == "" {
		return fail("it has no unit")
	}
	unit, why := s.unit()
	if why != "" {
		return fail(why)
	}
	s.skip()
	if !s.take("/") && !s.take("per ") {
		return fail("it is not per hour")
	}
	s.skip()
	if !hours[s.rest] {
		return fail("it is not per hour")
	}
	rate := value * float64(unit) / 3600
	if rate > 10.0/3600 {
		return fail("it is more than 10 m an hour")
	}
	return Intensity(rate), nil
}
