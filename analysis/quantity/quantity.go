// Package quantity reads and writes measured numbers with their units. Inside runnel everything is SI.
package quantity

// Length is a length in metres.
type Length float64

// Units of length. The international foot and the US survey foot (1200/3937 m, retired 31 December 2022,
// NIST/NOAA Federal Register notice 2020; read) are two units.
const (
	Metre        Length = 1
	Millimetre          = Metre / 1000
	Foot         Length = 0.3048
	Inch                = Foot / 12
	USSurveyFoot Length = 1200.0 / 3937.0
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
