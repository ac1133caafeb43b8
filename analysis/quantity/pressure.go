package quantity

import "fmt"

// Pressure is a load on an area in pascals.
type Pressure float64

// pressureUnits are the units a load may carry.
var pressureUnits = map[string]float64{
	"psf": PoundPerSquareFoot, "lb/ft2": PoundPerSquareFoot, "lb/sq ft": PoundPerSquareFoot,
	"kpa": Kilopascal, "kn/m2": Kilopascal, "pa": 1,
}

// maxPressure is a load beyond which a number was more likely written in another unit [Pa]: some 10 m of water.
const maxPressure = 1e5

// ParsePressure reads a load on an area: "25 psf", "1.2 kPa". A unit is required. It is never negative. The
// error says what is wrong with the text, without its place.
func ParsePressure(text string) (Pressure, error) {
	fail := func(why string) (Pressure, error) {
		return 0, fmt.Errorf("%.40q is not a load: %s; write it like 25 psf or 1.2 kPa", clip(text), why)
	}
	if len(text) > maxText {
		return fail("it is too long")
	}
	s := &scanner{plain(text)}
	value, _, why := s.mixed()
	if why != "" {
		return fail(why)
	}
	s.skip()
	if s.rest == "" {
		return fail("it has no unit")
	}
	unit, ok := pressureUnits[s.rest]
	if !ok {
		return fail(fmt.Sprintf("%.40q is no unit", s.rest))
	}
	p := Pressure(value * unit)
	if p > maxPressure {
		return fail("it is over 100 kPa")
	}
	return p, nil
}
