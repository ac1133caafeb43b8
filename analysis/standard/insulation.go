package standard

import "runnel/analysis/quantity"

// How well a core gives the thickness of an assembly. A tube of about 2 in presses foam together; a hand cut suits
// measuring better (read in published practice); the figures are common practice, no source.
const (
	TubeError = float64(quantity.Inch) / 4 // standard error of the thickness [m]
	HandError = float64(quantity.Inch) / 8
	// FluteDepth is how much too thick a core reads that goes down into a flute of a steel deck; common practice, no source:
	// the usual roof deck is 1-1/2 in deep.
	FluteDepth = 1.5 * float64(quantity.Inch)
	// CoreSource says where the rules of cores stand.
	CoreSource = "common practice, no source: thickness from a core is good to 1/4 in by tube cutter, 1/8 in by hand cut"
	// ConstantThicknessSource is the rule that an even thickness shows a sloped structure.
	ConstantThicknessSource = "common practice, no source: three inches at the high place and three at the low one mean that the structure slopes"
)

// R-value of what a table of tapered insulation takes along with the insulation: air films inside and out.
const (
	// AirFilms is 0.78 ft2 h degF/Btu [m2 K/W]. Washington State Energy Code, WAC 51-11C-610226, Table A102.2.6 (read); it is the sum of the
	// films of a flat roof of ASHRAE Handbook Fundamentals, 0.61 inside with heat upward and 0.17 outside (recalled).
	AirFilms = 0.78 * quantity.RUnit
	// WetShare is the share of its dry resistance below which insulation counts as wet (recalled).
	WetShare = 0.80
	// WetSource is where it stands, and that such insulation is not covered.
	WetSource = "International Building Code, 2012, section 1510.3, International Existing Building Code, 2018, section 705.3.1.1: no covering over a roof that is soaked or deteriorated"
	// VariesBy is the difference of thickness up to which some codes take an area-weighted U, or the tabulated R [m].
	VariesBy = float64(quantity.Inch)
)

// AverageSteps gives, for tapered roofs of 1/4 in per ft or less with at least R-5 at the thinnest place, the average R that equals
// an even R [ft2 h degF/Btu]. Washington State Energy Code, earlier form of its tables of tapered insulation (read).
var AverageSteps = []struct{ Even, Average float64 }{{10, 12}, {15, 20}, {20, 29}, {25, 39}, {30, 50}}

// Limits of AverageSteps.
const (
	AverageStepsLeast = 5.0 * quantity.RUnit // at the thinnest place [m2 K/W]
	AverageStepsSlope = 1.0 / 48             // taper, rise over run
)

// Sources of the ways to say one R for a tapered assembly.
const (
	LeastRSource           = "International Energy Conservation Code, 2006 and 2009, section 502.2.1: where thickness varies by more than 1 in, the least R counts everywhere"
	WithinInchSource       = "International Energy Conservation Code, 2006 and 2009, section 502.2.1, exception: an area-weighted U where thickness varies by no more than 1 in"
	LeastPlusInchSource    = "International Energy Conservation Code, 2015 and 2018, section C402.2.1, exception for tapered insulation above the deck: the R where the thickness varies by 1 in or less from the thinnest is that of the table (from memory)"
	AreaUSource            = "Washington State Energy Code, WAC 51-11C-610226, Table A102.2.6; ISO 6946, annex on tapered layers (form recalled)"
	AverageThicknessSource = "International Energy Conservation Code, 2021, section C402.1.4.1.1: R of the average thickness (recalled, not found)"
	AverageTableSource     = "Washington State Energy Code, earlier form of its tables of tapered insulation: average R that equals an even R"
)
