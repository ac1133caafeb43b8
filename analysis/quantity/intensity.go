package quantity

import (
	"fmt"
	"strings"
)

// hours are the ways to write the hour.
var hours = map[string]bool{"h": true, "hr": true, "hour": true}

// areal are the ways to write a flow per area, without blanks and brackets [m/s].
var areal = map[string]float64{
	"l/sha": 1e-7, "l/s/ha": 1e-7, "lpersperha": 1e-7, "lpersha": 1e-7,
	"l/sm2": 1e-3, "l/s/m2": 1e-3, "lpersperm2": 1e-3, "lpersm2": 1e-3,
}

// ParseIntensity reads a rate of rain per hour: "4 in/h", "1-1/2 in per hour", "25 mm/h", or a flow per area: "300 l/(s ha)", "0.021 l/(s m2)".
// 1 l/(s ha) is 0.36 mm/h. A unit is required.
func ParseIntensity(text string) (Intensity, error) {
	fail := func(why string) (Intensity, error) {
		return 0, fmt.Errorf("%q is not a rate of rain: %s; write it like 4 in/h, 100 mm/h or 300 l/(s ha)", clip(text), why)
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
	if size, ok := areal[bare(s.rest)]; ok {
		return perHour(value*size, fail)
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
	return perHour(value*float64(unit)/3600, fail)
}

// bare takes blanks, brackets and dots out of a unit of flow per area.
func bare(unit string) string {
	return strings.NewReplacer(" ", "", "(", "", ")", "", "*", "", "·", "", "²", "2", "litres", "l", "liters", "l", "litre", "l", "liter", "l").Replace(unit)
}

// perHour returns a rate [m/s] that rain can have.
func perHour(rate float64, fail func(string) (Intensity, error)) (Intensity, error) {
	if rate > 10.0/3600 {
		return fail("it is more than 10 m an hour")
	}
	return Intensity(rate), nil
}
