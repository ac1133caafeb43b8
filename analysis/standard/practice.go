package standard

import "fmt"

// Practice is the body of rules that gives the limits and sources where nobody states others.
type Practice uint8

// Practices.
const (
	US Practice = iota // model codes of the United States
	EU                 // British, German and European standards
)

// practiceNames are the names of the practices, in their order.
var practiceNames = [...]string{"us", "eu"}

// String returns the name.
func (p Practice) String() string { return practiceNames[p] }

// ParsePractice returns the practice of a name; the empty one is US. An unknown name is an error that lists the known ones.
func ParsePractice(name string) (Practice, error) {
	switch name {
	case "", "us":
		return US, nil
	case "eu":
		return EU, nil
	}
	return US, fmt.Errorf("unknown practice %q: use us or eu", name)
}

// Default criteria by European practice. Their sources are in CiteIn.
const (
	MinSlopeNewEU    = 1.0 / 40  // design fall
	MinSlopeFoundEU  = 1.0 / 80  // finished fall
	MinValleySlopeEU = 1.0 / 100 // planned
)

// DefaultsOf returns the criteria of a practice that hold where nobody states others.
func DefaultsOf(p Practice) Criteria {
	c := Defaults()
	c.Practice = p
	if p == EU {
		c.MinSlope, c.MinSlopeNew, c.MinValleySlope = MinSlopeFoundEU, MinSlopeNewEU, MinValleySlopeEU
	}
	return c
}

// europe has the sources of what European practice gives.
var europe = map[string]Source{
	MinSlopeNewName: {
		"BS 6229:2018: all surfaces, gutter beds too, are designed to fall at 1:40 so that 1:80 is reached as built; DIN 18531-1:2017 plans for 2 %; national rules govern", true,
	},
	"min_slope": {
		"BS 6229:2018: finished fall of 1:80, gutter beds too; DIN 18531-1:2017: 2 % planned, puddles are to be expected up to about 5 %; national rules govern", true,
	},
	"min_valley_slope": {
		"DIN 18531-1:2017, as practised: valleys and cross falls planned at 1 %", true,
	},
}

// CiteIn returns the source of a default of a practice by the name of its criterion, and false for an unknown name.
func CiteIn(p Practice, name string) (Source, bool) {
	if s, ok := europe[name]; ok && p == EU {
		return s, true
	}
	return Cite(name)
}

// Beside returns what European practice gives for a criterion, for readers of metric results by US practice; empty where it gives nothing of its own.
func Beside(name string) string { return beside[name] }

// beside says in one line what europe says.
var beside = map[string]string{
	"min_slope":        "in Europe 1:80 as built (BS 6229:2018, read), 2 % as planned (DIN 18531-1, read)",
	MinSlopeNewName:    "in Europe 1:40 by design (BS 6229:2018, read), 2 % as planned (DIN 18531-1, read)",
	"min_valley_slope": "in Germany 1 % as planned (DIN 18531-1, read)",
}

// Arrangement are the rules of one practice on the ways out of a roof.
type Arrangement struct {
	Present, Separate, Opening, Two Rule
	Heights                         []Rule            // of the overflow over the primary
	Variants                        []OverflowVariant // on the size of an overflow, the one that is compared with first
	RainLoad                        Source
	Sag                             string // what is said of the sag of the roof under the water
	Bay                             Source // of bays that may be susceptible to ponding
}

// ArrangementOf returns the rules of a practice.
func ArrangementOf(p Practice) Arrangement {
	if p == EU {
		return arrangementEU
	}
	return Arrangement{OverflowPresent, OverflowSeparate, OverflowOpening, TwoOutlets, OverflowHeights, OverflowVariants, RainLoadSource, PondingHeadSource.Text, baySource}
}

var arrangementEU = Arrangement{
	Present: Rule{
		"an emergency overflow for every roof area, and for every low point that the structure makes",
		Source{"DIN 1986-100:2016, section 5.3.1, with EN 12056-3", true},
	},
	Separate: Rule{
		"the overflow is not joined to the drains; it discharges freely onto ground that may flood without harm",
		Source{"DIN 1986-100:2016, section 5.9", true},
	},
	Opening: Rule{
		"the opening of an overflow is at least 100 mm high and wide",
		Source{"no European figure found; International Building Code, 2021, section 1502.3: 4 in", true},
	},
	Two: Rule{
		"a roof that walls enclose has two ways out or more",
		practice("two drains; DIN 1986-100:2016, section 5.3.1, asks for one drain and one overflow at each low point (read)", true),
	},
	Heights: []Rule{
		{
			"the overflow starts above the head that the drains need, and what the roof carries up to it is checked; no one figure",
			Source{"EN 12056-3 and DIN 1986-100:2016", false},
		},
		{
			"2 in (51 mm) above the low point: that figure is compared with",
			Source{"International Residential Code, section R903.4.1", true},
		},
	},
	Variants: []OverflowVariant{{OverflowByFlow, Rule{
		"the overflow is sized for the rain of five minutes in a hundred years",
		Source{"DIN 1986-100:2016, section 5.9", true},
	}}},
	Sag:      "The sag of the roof under the water is not computed here",
	Bay:      Source{"no European figure found; " + baySource.Text, true},
	RainLoad: Source{"weight of static and hydraulic head at 9.81 kN/m3; EN 1991-1-1, Table A.10, counts fresh water at 10 kN/m3", false},
}
