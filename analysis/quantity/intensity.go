package quantity

import "strings"

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
	return read(text, "%q is not a rate of rain: %s; write it like 4 in/h, 100 mm/h or 300 l/(s ha)", counted((*scanner).intensity))
}

// intensity takes the unit of a rate, to the end of the text.
func (s *scanner) intensity(value float64) Intensity {
	size, ok := areal[bare(s.rest)]
	if !ok {
		size = float64(s.unit()) / 3600
		if !s.per() || !hours[s.rest] {
			s.refuse("it is not per hour")
		}
	}
	if value*size > 10.0/3600 {
		s.refuse("it is more than 10 m an hour")
	}
	return Intensity(value * size)
}

// bare takes blanks, brackets and dots out of a unit of flow per area.
func bare(unit string) string {
	return strings.NewReplacer(" ", "", "(", "", ")", "", "*", "", "·", "", "²", "2", "litres", "l", "liters", "l", "litre", "l", "liter", "l").Replace(unit)
}
