package quantity

import (
	"fmt"
	"slices"
)

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
	return read(text, "%.40q is no resistance per thickness: %s; write it like 5.6 per in, or as conductivity like 0.026 W/(m K)", (*scanner).roofing)
}

// roofing takes the resistance of what a roof may be made of.
func (s *scanner) roofing() (v Resistivity, why string) {
	if s.rest == "" {
		return 0, "it is empty"
	}
	if v, why = s.resistivity(); why == "" && (v < leastResistivity || v > greatestResistivity) {
		why = "no roofing material has it, by far"
	}
	return v, why
}

// resistivityUnits are what may follow a resistance per inch, conductivityUnits what may follow a conductivity.
var (
	resistivityUnits  = []string{"per in", "per inch", "/in", `per "`}
	conductivityUnits = []string{"w/(m k)", "w/mk", "w/(mk)", "w/m k"}
)

// resistivity takes a number and its unit, to the end of the text.
func (s *scanner) resistivity() (v Resistivity, why string) {
	r := s.take("r-") || s.take("r ")
	value, why := s.amount()
	switch {
	case why != "":
		return 0, why
	case slices.Contains(resistivityUnits, s.rest):
		return Resistivity(value) * ResistivityPerInch, ""
	case r || !slices.Contains(conductivityUnits, s.rest):
		return 0, fmt.Sprintf("%.40q is no unit of it", s.rest)
	case value == 0:
		return 0, "it is 0"
	}
	return Resistivity(1 / value), ""
}
