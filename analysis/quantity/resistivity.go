package quantity

import "fmt"

// Resistivity is thermal resistance per thickness in m K/W, the inverse of conductivity.
type Resistivity float64

// ResistivityPerInch is 1 ft2 h degF/Btu per inch, "R-1 per inch".
const ResistivityPerInch = Resistivity(RUnit / float64(Inch))

// Bounds of what a roofing material may have, own choice: metals lie below, evacuated panels within.
const (
	leastResistivity    = ResistivityPerInch / 100
	greatestResistivity = ResistivityPerInch * 100
)

// ParseResistivity reads thermal resistance per thickness: "5.6 per in" or "R-5.6 per in", in ft2 h degF/Btu per inch, or a conductivity,
// "0.026 W/(m K)". A number without a unit is refused.
func ParseResistivity(text string) (Resistivity, error) {
	fail := func(why string) (Resistivity, error) {
		return 0, fmt.Errorf("%q is no resistance per thickness: %s; write it like 5.6 per in, or as conductivity like 0.026 W/(m K)", clip(text), why)
	}
	if len(text) > maxText {
		return fail("it is too long")
	}
	s := &scanner{plain(text)}
	if s.rest == "" {
		return fail("it is empty")
	}
	r := s.take("r-") || s.take("r ")
	value, _, why := s.mixed()
	if why != "" {
		return fail(why)
	}
	s.skip()
	var v Resistivity
	switch unit := s.rest; {
	case unit == "":
		return fail("it has no unit")
	case unit == "per in" || unit == "per inch" || unit == "/in" || unit == `per "`:
		v = Resistivity(value) * ResistivityPerInch
	case !r && (unit == "w/(m k)" || unit == "w/mk" || unit == "w/(mk)" || unit == "w/m k"):
		if value == 0 {
			return fail("it is 0")
		}
		v = Resistivity(1 / value)
	default:
		return fail(fmt.Sprintf("%q is no unit of it", unit))
	}
	if v < leastResistivity || v > greatestResistivity {
		return fail("no roofing material has it, by far")
	}
	return v, nil
}
