package standard

import "strings"

// Source is where a figure stands.
type Source struct {
	Text string // document, edition, section; "common practice, no source" where so
	Read bool   // true when the text was read for this project, false when it was recalled
}

// Mark says of a source whether it was read: "read", "from memory", or nothing where it is no document.
func (s Source) Mark() string {
	switch {
	case strings.Contains(s.Text, "no source") || strings.Contains(s.Text, "own choice") || strings.HasPrefix(s.Text, "stated by"):
		return ""
	case s.Read:
		return "read"
	}
	return "from memory"
}

// Names of figures that Cite knows besides the names of criteria.
const (
	MinSlopeNewName  = "min_slope_new"
	BowlName         = "bowl"
	ScupperWidthName = "scupper_width"
)

// sources has one entry for each default.
var sources = map[string]Source{
	MinSlopeNewName: {
		"International Building Code, section 1507: design slope of at least 1/4 in 12 for built-up, modified bitumen, thermoset, thermoplastic, spray foam and liquid-applied roofs; local code governs", true,
	},
	"min_slope": {
		"International Building Code, section 1507: 1/8 in 12 is the least slope for any membrane (coal tar); a low-slope roof that is re-covered or replaced and drains within 48 h is exempt from 1/4 in 12 (2012 section 1510.1, 2015 and 2018 section 1511.1, 2021 section 1512.1); local code governs", true,
	},
	"min_valley_slope": {
		"common practice, no code figure found: 1/8 in per ft for the valleys of crickets on planes of 1/4 in per ft", true,
	},
	"pond_depth": {
		"common practice, no source: listed from 1/4 in, or from 1/8 in over 100 sq ft or more", false,
	},
	"near_outlet":   {"common practice, no source", false},
	"contour":       {"common practice, no source", false},
	"max_travel":    {"stated by the user", false},
	"rain_primary":  {"stated by the user", false},
	"rain_overflow": {"stated by the user", false},

	"overflow_height": {"stated by the user, as the engineer of the roof gives it; else 2 in, as the rules on overflows say", true},
	BowlName:          {"assumed, no source: the strainer of a common roof drain is about 12 in across", false},
	ScupperWidthName:  {"assumed, no source: 8 in", false},
}

// Cite returns the source of a default by the name of its criterion, and false for an unknown name.
func Cite(name string) (Source, bool) {
	s, ok := sources[name]
	return s, ok
}
