package quantity

import (
	"fmt"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/textfile"
)

// Unit is a unit of length that a file may be in.
type Unit uint8

// Units that a file may state. Unstated is none.
const (
	Unstated Unit = iota
	Metres
	Feet
	USSurveyFeet
	Inches
	Millimetres
)

// UnitNames lists what ParseUnit reads, for messages.
const UnitNames = "m, ft, ft-us, in, mm"

// unitWords are the ways to write a unit of a file.
var unitWords = map[string]Unit{
	"m": Metres, "metre": Metres, "metres": Metres, "meter": Metres, "meters": Metres,
	"ft": Feet, "foot": Feet, "feet": Feet, "ift": Feet,
	"ft-us": USSurveyFeet, "us-ft": USSurveyFeet, "usft": USSurveyFeet, "ftus": USSurveyFeet, "sft": USSurveyFeet,
	"us-survey-ft": USSurveyFeet, "us-survey-foot": USSurveyFeet, "us-survey-feet": USSurveyFeet,
	"in": Inches, "inch": Inches, "inches": Inches,
	"mm": Millimetres, "millimetre": Millimetres, "millimetres": Millimetres, "millimeter": Millimetres, "millimeters": Millimetres,
}

// ParseUnit reads a unit by name: m, ft, ft-us, in, mm, or the word written out, in any case; blanks and
// underscores count as hyphens.
func ParseUnit(text string) (Unit, error) {
	key := strings.NewReplacer(" ", "-", "_", "-").Replace(strings.ToLower(strings.TrimSpace(text)))
	if u, ok := unitWords[key]; ok {
		return u, nil
	}
	return Unstated, fmt.Errorf("unknown unit %q: use one of %s", textfile.Clip(text, maxText), UnitNames)
}

// Metres returns the unit's length in metres, 0 for Unstated.
func (u Unit) Metres() float64 {
	return float64(choose.At([]Length{0, Metre, Foot, USSurveyFoot, Inch, Millimetre}, u))
}

// String returns the unit's name as ParseUnit reads it, empty for Unstated.
func (u Unit) String() string { return choose.At([]string{"", "m", "ft", "ft-us", "in", "mm"}, u) }

// Imperial reports whether the unit is of feet or inches.
func (u Unit) Imperial() bool { return u == Feet || u == USSurveyFeet || u == Inches }
