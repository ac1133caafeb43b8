package standard

import "runnel/analysis/quantity"

// Tapered and flat insulation boards as they are usually stocked. A supplier's own list replaces them.
const (
	BoardLength   = 4 * float64(quantity.Foot)              // along the fall [m]
	BoardWidth    = 4 * float64(quantity.Foot)              // along the level line [m]
	BoardThinEdge = float64(quantity.Inch) / 2              // of the thinnest tapered board [m]
	BoardThickest = 4.5 * float64(quantity.Inch)            // of one layer, flat or tapered [m]
	BoardFillStep = float64(quantity.Inch) / 2              // flat boards come in steps of it [m]
	BoardWaste    = 0.05                                    // of the area, for boards broken and cut off; the user's figure wins
	BoardFoot     = squareFootOfBoard * quantity.SquareFoot // m3
)

// squareFootOfBoard is the thickness of a board foot [m]: one square foot, one inch thick.
const squareFootOfBoard = float64(quantity.Inch)

// CommonPractice begins the source of what is done everywhere and stands nowhere.
const CommonPractice = "common practice, no source: "

// practice is the source of what is commonly done, as it was read or is remembered.
func practice(what string, read bool) Source { return Source{CommonPractice + what, read} }

// BoardRates are the rates of taper that are usually made, rise over run: 1/16, 1/8, 3/16, 1/4, 3/8 and 1/2 in per ft.
var BoardRates = []float64{1.0 / 192, 1.0 / 96, 1.0 / 64, 1.0 / 48, 1.0 / 32, 1.0 / 24}

// Sources of the figures of boards.
var (
	BoardRatesSource    = practice("boards are usually made at 1/8 to 1/2 in per ft, some at 1/16", true)
	BoardSizeSource     = practice("4 by 4 ft is the usual size of tapered polyiso", true)
	BoardThinSource     = practice("1/2 in is the least edge that boards are made with", true)
	BoardThickestSource = practice("4 to 4-1/2 in in one layer, beyond it two layers with staggered joints", false)
	BoardWasteSource    = practice("3 to 5 % one- and two-way, 7 to 10 % with four-way mitres; 5 to 10 % in general estimating (read)", false)
)
