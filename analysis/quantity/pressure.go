package quantity

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
	return read(text, "%.40q is not a load: %s; write it like 25 psf or 1.2 kPa", counted((*scanner).pressure))
}

// pressure takes the unit of a load, to the end of the text.
func (s *scanner) pressure(value float64) Pressure {
	unit, ok := pressureUnits[s.rest]
	if !ok {
		s.refuse("%.40q is no unit", s.rest)
	}
	p := Pressure(value * unit)
	if p > maxPressure {
		s.refuse("it is over 100 kPa")
	}
	return p
}
