// Package quantity reads and writes measured numbers with their units. Inside runnel everything is SI.
//
// A length may be written as surveyors and roofers write it: 12 mm, 0.3 m, 8 in, 2' 3-1/4", 5ft 6 1/4in,
// ½", 66 1/4", with typographic primes, quotes and dashes. A number without a unit takes the unit of its
// file, and is refused where that is unknown: a unit is never guessed. All factors between units stand in
// this package, each once, with its source.
package quantity

// Length is a length in metres.
type Length float64

// Units of length. The international foot is 0.3048 m exactly (NIST Special Publication 811, appendix B,
// recalled); it and the US survey foot (1200/3937 m, retired 31 December 2022, NIST/NOAA Federal Register
// notice 2020, read) are two units.
const (
	Metre        Length = 1
	Millimetre          = Metre / 1000
	Centimetre          = Metre / 100
	Foot         Length = 0.3048
	Inch                = Foot / 12
	USSurveyFoot Length = 1200.0 / 3937.0
)

// Factors to SI. The gallon is 231 cubic inches and the avoirdupois pound 0.45359237 kg, both exact
// (NIST Handbook 44, appendix C, recalled); a pound-force is a pound times standard gravity.
const (
	SquareFoot         = float64(Foot * Foot)                      // m2
	CubicFoot          = SquareFoot * float64(Foot)                // m3
	Gallon             = 231 * float64(Inch*Inch*Inch)             // m3
	Litre              = 0.001                                     // m3
	Pound              = 0.45359237                                // kg
	PoundPerSquareFoot = Pound * 9.80665 / SquareFoot              // Pa
	Kilopascal         = 1000.0                                    // Pa
	RUnit              = 3600 * SquareFoot * 5 / 9 / 1055.05585262 // m2 K/W in 1 ft2 h degF/Btu; the Btu is that of the International Table (NIST SP 811, recalled)
	InchPerHour        = Intensity(float64(Inch) / 3600.0)         // m/s
	MillimetrePerHour  = Intensity(0.001 / 3600.0)                 // m/s
	InchPerFoot        = Slope(1.0 / 12.0)                         // rise over run
)

// Slope is rise over plan run.
type Slope float64

// Intensity is a rate of rain in metres per second.
type Intensity float64
