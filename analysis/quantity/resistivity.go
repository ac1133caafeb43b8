package quantity

import "slices"

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
func (s *scanner) roofing() Resistivity {
	if s.rest == "" {
		s.refuse("it is empty")
	}
	v := s.resistivity()
	if v < leastResistivity || v > greatestResistivity {
		s.refuse("no roofing material has it, by far")
	}
	return v
}

// resistivityUnits are what may follow a resistance per inch, conductivityUnits what may follow a conductivity.
var (
	resistivityUnits  = []string{"per in", "per inch", "/in", `per "`}
	conductivityUnits = []string{"w/(m k)", "w/mk", "w/(mk)", "w/m k"}
)

// resistivity takes a number and its unit, to the end of the text.
func (s *scanner) resistivity() Resistivity {
	r := s.take("r-") || s.take("r ")
	value := s.amount()
	switch {
	case slices.Contains(resistivityUnits, s.rest):
		return Resistivity(value) * ResistivityPerInch
	case r || !slices.Contains(conductivityUnits, s.rest):
		s.refuse("%.40q is no unit of it", s.rest)
	case value == 0:
		s.refuse("it is 0")
	}
	return Resistivity(1 / value)
}

// Resistance is thermal resistance in m2 K/W.
type Resistance float64

// Bounds of what a roof may be asked to have, own choice: a bare deck lies below, no roof insulation of a building above.
const (
	leastResistance    = Resistance(0.05)
	greatestResistance = Resistance(50)
)

// resistanceUnits are what may follow a resistance in SI.
var resistanceUnits = []string{"m2k/w", "m2 k/w", "m²k/w", "m² k/w", "m2*k/w", "m2.k/w"}

// ParseResistance reads a thermal resistance: "R-25" or "R 25", in ft2 h degF/Btu, or "4.4 m2K/W". A number without either is refused.
func ParseResistance(text string) (Resistance, error) {
	return read(text, "%.40q is no thermal resistance: %s; write it like R-25 or 4.4 m2K/W", (*scanner).resistance)
}

// resistance takes a number with its R or its unit, to the end of the text.
func (s *scanner) resistance() Resistance {
	if s.rest == "" {
		s.refuse("it is empty")
	}
	us := s.take("r-") || s.take("r ") || s.take("r")
	value, _ := s.mixed()
	s.skip()
	v := Resistance(value)
	switch {
	case us && s.rest == "":
		v = Resistance(value * RUnit)
	case us || !slices.Contains(resistanceUnits, s.rest):
		s.refuse("it says neither R nor a unit that is known")
	}
	if v < leastResistance || v > greatestResistance {
		s.refuse("no roof has it")
	}
	return v
}
