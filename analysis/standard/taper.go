package standard

import "runnel/analysis/quantity"

// Figures for corrective design. A user's own win.
const (
	OverlayThickness = float64(quantity.Inch) / 2 // least thickness of an overlay on an existing surface [m]
	DeckThickness    = float64(quantity.Inch)     // least thickness of insulation on a deck [m]
	FlashingHeight   = 8 * float64(quantity.Inch) // of walls, curbs and sills above the finished surface [m]
	SumpWidth        = 4 * float64(quantity.Foot) // of a sump in the insulation round a drain [m]
	SumpWidest       = 8 * float64(quantity.Foot)
	SumpSteepest     = 1.0 / 12 // rise over run of the sides of a sump where the roof round it is steep: 1 in per ft
	SumpRate         = 1.0 / 24 // rise over run: 1/2 in per ft
	CricketTimes     = 2.0      // rate of a cricket's material over the slope of the field
	SecondLayerLoad  = 3 * quantity.PoundPerSquareFoot
	GravityShare     = 0.05

	SumpRing       = 6 * float64(quantity.Inch)  // level round the bowl of an outlet in a sump [m]
	SumpEdge       = 12 * float64(quantity.Inch) // tapered edge strip at the rim of a sump [m]
	Board          = 4 * float64(quantity.Foot)  // side of a board of insulation; half a board is the narrowest strip that is laid [m]
	StripIn        = 6 * float64(quantity.Inch)  // membrane opened beyond the insulation that is changed [m]
	InsulationLeft = 3 * float64(quantity.Inch)  // thickness at an outlet from which a sump is asked for before cores tell more [m]
	LocalShare     = 0.05                        // of a roof that a local mend opens at most, as a rule
	LocalArea      = 15.0                        // and what it may open in any case [m2]
	ToMeasure      = 2 * LocalArea               // of a taper that is cut to measure at most [m2]; a larger one is laid in stock boards
	ThinFeather    = 0.005                       // a wide fill thinner than this on average is no mend [m]
	WideFeather    = 10.0                        // area from which a fill is wide [m2]
	OutletClear    = 2 * float64(quantity.Foot)  // of new outlets from walls, curbs and other outlets [m]
	EdgeClear      = 6 * float64(quantity.Foot)  // of new outlets from edges that people can fall over [m]
	MidBay         = 25 * float64(quantity.Foot) // from an open edge from which a new drain is thought of [m]
	NewDrain       = 4 * float64(quantity.Inch)  // diameter of a drain that nobody has sized yet [m]

	TwoRoofs   = 2          // coverings that lie on each other from which TwoRoofsSource asks to take them off
	DryAfter   = 48.0       // hours after rain in which ponds are to dry
	DryingRate = 0.005 / 24 // of water in drying weather, as depth [m/h]
	StainLeast = 0.005      // depth of water that was seen and that nobody measured [m]

	LevelWithin    = 0.003 // low places that lack no more are left to the bedding of the boards [m]
	LevellerWeight = 4.4e3 // of what fills low places under boards, load per thickness [Pa/m]

	NewScupperHeight = 4 * float64(quantity.Inch) // of the opening of a scupper that nobody has sized yet [m]
	InletTolerance   = float64(quantity.Inch) / 2 // to which an inlet is set [m]
)

// iebcRoofing is the clause on roofing that adds load; its number moved with the editions.
const iebcRoofing = "International Existing Building Code, addition or replacement of roofing: 2009 section 606.2, 2012 and 2015 section 707.2, 2018 and 2021 section 706.2"

// Sources of the figures.
var (
	OverlayThicknessSource = practice("1/2 in is the least edge that tapered boards are made with", true)
	DeckThicknessSource    = Source{"energy code of Washington State, C402.2.1.1: at least 1 in at the lowest point, gutter edge, drain or scupper; other codes may ask otherwise", true}
	FlashingHeightSource   = practice("base flashings, curbs and sills at least 8 in above the finished roof; many warranties ask for it", true)
	SumpSource             = practice("4 by 4 ft, tapered evenly round the drain; 8 by 8 ft where insulation is thick; 1 in over 2 ft at 1/2 in per ft", true)
	CricketTimesSource     = practice("a cricket's material rises at twice the slope of the field; the slope of its valley is to be looked at separately", true)
	SecondLayerSource      = Source{iebcRoofing + ": a second layer of roof covering of 3 psf or less over a single existing layer is exempt from a check of the members", true}
	GravityShareSource     = Source{iebcRoofing + ": members whose force rises by 5 % or less are exempt; by design gravity load in later editions (from memory)", true}
	TwoRoofsSource         = Source{"International Building Code, 2012, section 1510.3, International Existing Building Code, 2018, section 705.3.1.1: no re-cover over a roof that is soaked or deteriorated, nor where two or more coverings lie already", true}
	SumpRingSource         = practice("clamping ring and membrane lie flat 6 in round the bowl", false)
	SumpEdgeSource         = practice("tapered edge strips of 6 to 18 in at board steps and at the rims of sumps", false)
	BoardSource            = practice("4 by 4 ft boards are usual for tapered insulation", true)
	StripInSource          = practice("membrane is lapped about 6 in beyond the insulation that is changed", false)
	InsulationLeftSource   = Source{"own choice: 3 in leave 1 in under a sump that is 2 in deep", false}
	LocalSource            = Source{"own choice: what a crew of two opens and closes in a day", false}
	LevelWithinSource      = Source{"own choice: what a bed of adhesive takes up; flatness of 3 mm under boards", false}
	LevellerWeightSource   = Source{"own choice: 450 kg/m3; light fills of bound perlite or foamed mortar weigh 300 to 600 kg/m3 (from memory), mortar four times that", false}
	FeatherSource          = Source{"own choice: no board or compound is spread over that much roof so thin", false}
	DryingRateSource       = Source{"open water loses about 5 mm a day in mild drying weather (pan evaporation, from memory); water that stood twice as long as it takes to dry is asked about", false}
	EdgeClearSource        = Source{"United States rules for construction, 29 CFR 1926.502(f): a warning line stands at least 6 ft from the edge (from memory)", true}
	MidBaySource           = Source{"own choice: nearer to an open edge a channel or taper to it is shorter than a leader", false}
	NewOutletSource        = practice("a roof drain of 4 in; a scupper of the width that is assumed elsewhere and 4 in high, the least that codes ask of an overflow; sized for the rain before it is ordered", true)
	OutletClearSource      = practice("room for a sump, the clamping ring and flashing", false)
)

// NotAStatement is said beside every added load.
const NotAStatement = "this compares with one clause's figure and is not a statement that the structure carries it"
