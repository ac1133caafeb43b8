package quantity

import "fmt"

// maxLength is the largest length that is taken for one [m]: coordinates of any national grid are smaller.
const maxLength = 1e8

// lengthUnits are the units a length may carry.
var lengthUnits = map[string]Length{
	"m": Metre, "metre": Metre, "metres": Metre, "meter": Metre, "meters": Metre,
	"cm": Centimetre, "mm": Millimetre, "millimetre": Millimetre, "millimetres": Millimetre, "millimeter": Millimetre, "millimeters": Millimetre,
	"ft": Foot, "foot": Foot, "feet": Foot, "'": Foot,
	"ft-us": USSurveyFoot, "us-ft": USSurveyFoot, "usft": USSurveyFoot,
	"in": Inch, "inch": Inch, "inches": Inch, `"`: Inch,
}

// ParseLength reads a length. A number without a unit is in bare, and refused where that is Unstated.
// After feet stand inches under 12. The error says what is wrong with the text, without its place.
func ParseLength(text string, bare Unit) (Length, error) {
	l, _, err := ReadLength(text, bare)
	return l, err
}

// ReadLength is ParseLength, and says whether the length was written in feet or inches.
func ReadLength(text string, bare Unit) (l Length, imperial bool, err error) {
	fail := func(why string) (Length, bool, error) {
		return 0, false, fmt.Errorf(`%q is not a length: %s; write it like 12 mm, 0.3 m, 8 in or 2' 3-1/4"`, clip(text), why)
	}
	if len(text) > maxText {
		return fail("it is too long")
	}
	s := &scanner{plain(text)}
	if s.rest == "" {
		return fail("it is empty")
	}
	sign := Length(1)
	if s.take("-") {
		sign = -1
	} else {
		s.take("+")
	}
	s.skip()
	l, imperial, why := s.length(bare)
	if why != "" {
		return fail(why)
	}
	if l > maxLength {
		return fail("it is too large")
	}
	if l == 0 {
		sign = 1 // no negative zero
	}
	return sign * l, imperial, nil
}

// length takes an unsigned length to the end of the text.
func (s *scanner) length(bare Unit) (l Length, imperial bool, why string) {
	value, whole, why := s.mixed()
	if why != "" {
		return 0, false, why
	}
	s.skip()
	if s.rest == "" {
		if bare == Unstated {
			return 0, false, "it has no unit"
		}
		return Length(value * bare.Metres()), bare.Imperial(), ""
	}
	unit, why := s.unit()
	if why != "" {
		return 0, false, why
	}
	l = Length(value * float64(unit))
	imperial = unit == Foot || unit == Inch || unit == USSurveyFoot
	s.skip()
	switch {
	case s.rest == "":
		return l, imperial, ""
	case unit != Foot:
		return 0, false, fmt.Sprintf("%.40q follows the unit", s.rest)
	case !whole:
		return 0, false, "feet with a fraction cannot have inches after them"
	}
	inches, why := s.inches()
	return l + inches, true, why
}

// unit takes a unit sign or word.
func (s *scanner) unit() (Length, string) {
	for _, sign := range []string{"'", `"`} {
		if s.take(sign) {
			return lengthUnits[sign], ""
		}
	}
	all := s.rest
	word := s.word()
	if unit, ok := lengthUnits[word]; ok {
		return unit, ""
	}
	return 0, fmt.Sprintf("%.40q is no unit", all)
}

// inches takes the inches after feet, to the end of the text.
func (s *scanner) inches() (Length, string) {
	if s.take("-") {
		s.skip()
	}
	value, _, why := s.mixed()
	if why != "" {
		return 0, why
	}
	s.skip()
	if s.rest != "" {
		unit, why := s.unit()
		if why != "" {
			return 0, why
		}
		if unit != Inch {
			return 0, "after feet only inches can follow"
		}
		if s.rest != "" {
			return 0, fmt.Sprintf("%.40q follows the inches", s.rest)
		}
	}
	if value >= 12 {
		return 0, "inches after feet must be under 12"
	}
	return Length(value * float64(Inch)), ""
}
