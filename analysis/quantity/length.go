package quantity

import (
	"fmt"

	"runnel/analysis/textfile"
)

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
		return 0, false, fmt.Errorf(`%q is not a length: %s; write it like 12 mm, 0.3 m, 8 in or 2' 3-1/4"`, textfile.Clip(text, maxText), why)
	}
	if len(text) > maxText {
		return fail("it is too long")
	}
	s := &scanner{rest: plain(text)}
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
	l, imperial = s.length(bare)
	if l > maxLength {
		s.refuse("it is too large")
	}
	if s.why != "" {
		return fail(s.why)
	}
	if l == 0 {
		sign = 1 // no negative zero
	}
	return sign * l, imperial, nil
}

// length takes an unsigned length to the end of the text.
func (s *scanner) length(bare Unit) (l Length, imperial bool) {
	value, whole := s.mixed()
	s.skip()
	if s.rest == "" {
		if bare == Unstated {
			s.refuse("it has no unit")
		}
		return Length(value * bare.Metres()), bare.Imperial()
	}
	unit := s.unit()
	l = Length(value * float64(unit))
	s.skip()
	switch {
	case unit != Foot:
		s.end("unit")
	case s.rest == "":
	case !whole:
		s.refuse("feet with a fraction cannot have inches after them")
	default:
		l += s.inches()
	}
	return l, unit == Foot || unit == Inch || unit == USSurveyFoot
}

// unit takes a unit sign or word.
func (s *scanner) unit() Length {
	for _, sign := range []string{"'", `"`} {
		if s.take(sign) {
			return lengthUnits[sign]
		}
	}
	all := s.rest
	unit, ok := lengthUnits[s.word()]
	if !ok {
		s.refuse("%.40q is no unit", all)
	}
	return unit
}

// inches takes the inches after feet, to the end of the text.
func (s *scanner) inches() Length {
	if s.take("-") {
		s.skip()
	}
	value, _ := s.mixed()
	s.skip()
	if s.rest != "" {
		if s.unit() != Inch {
			s.refuse("after feet only inches can follow")
		}
		s.end("inches")
	}
	if value >= 12 {
		s.refuse("inches after feet must be under 12")
	}
	return Length(value * float64(Inch))
}
