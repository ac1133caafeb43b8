package finding

// Causes of a pond (a pond's finding carries the best supported one; the others stand in Also).
const (
	OutletHigh     Kind = "outlet-high"          // outlet set above the roof around it
	RiseBefore     Kind = "rise-before-outlet"   // ground rises between pond and outlet
	ValleyFlat     Kind = "valley-flat"          // level or back-falling valley
	CricketFlat    Kind = "cricket-flat"         // a cricket's valley is too flat
	CricketMissing Kind = "cricket-missing"      // water stands behind a curb, or along a wall between two outlets
	Dish           Kind = "dish"                 // low between supports
	Camber         Kind = "camber"               // low at supports, high between
	LevelArea      Kind = "level-area"           // no slope built
	EdgeHigh       Kind = "edge-high"            // perimeter left high
	Step           Kind = "step"                 // a step on a line
	OutletOnHigh   Kind = "outlet-at-high-point" // outlet at a local high
	RidgeLine      Kind = "ridge-on-line"        // a straight ridge: something laid on the roof, or spots over the plane of the rest
	LowPlace       Kind = "low-place"            // a pond whose cause the shape does not tell
)

// Findings that need no pond.
const (
	PlaneFlat         Kind = "plane-flat"         // a plane under the slope criterion
	NoWayOut          Kind = "no-way-out"         // area with no way out at any level
	OutletsUnsurveyed Kind = "outlets-unsurveyed" // no outlet was surveyed, and nothing says that there is none
	NoOverflow        Kind = "no-overflow"        // walled roof, no second way out
	TravelLong        Kind = "travel-long"        // water travels farther than the criterion
	InvertUnknown     Kind = "invert-unknown"     // an outlet's invert was assumed
	WallFlat          Kind = "wall-flat"          // a wall onto which the roof falls and along which it does not
	OutletUnused      Kind = "outlet-unused"      // an outlet to which no water runs
	StainDiffers      Kind = "stain-differs"      // seen water and computed ponds disagree
	SurveyThin        Kind = "survey-thin"        // a verdict rests on few or assumed points
	RimBelowSpot      Kind = "rim-below-spot"     // an inlet below the spot beside it
	SillBelowRoof     Kind = "sill-below-roof"    // a sill below the roof before it
	OffRoof           Kind = "off-roof"           // a sill or core that does not lie on the roof
	CornersHigh       Kind = "corners-high"       // corners of the outline that stand as the tops of walls do
	SpotOdd           Kind = "spot-odd"           // a measured point that does not fit those round it
)

// Findings on what the storm asks of outlets and structure.
const (
	OutletSmall    Kind = "outlet-small"    // more comes to an outlet than it takes
	OutletUnsized  Kind = "outlet-unsized"  // an outlet whose sizes nobody stated
	OutletSingle   Kind = "outlet-single"   // walls all round and one way out
	HeadUntested   Kind = "head-untested"   // a head outside what was tested
	ScupperFull    Kind = "scupper-full"    // water stands over the top of a scupper's opening
	OverflowHigh   Kind = "overflow-high"   // an overflow far above its primary
	OverflowLow    Kind = "overflow-low"    // an overflow that takes water before its primary
	OverflowSmall  Kind = "overflow-small"  // an overflow smaller than a rule on its size asks
	LoadOverLimit  Kind = "load-over-limit" // more rain load than the stated limit
	BaySusceptible Kind = "bay-susceptible" // bays that may sag further under water
	SillLow        Kind = "sill-low"        // water reaches a sill, or nearly
)

// Findings from cores.
const (
	InsulationWet    Kind = "insulation-wet"     // a wet layer: to be taken out, never covered
	InsulationThin   Kind = "insulation-thin"    // compressed, shrunk or missing insulation
	DeckLow          Kind = "deck-low"           // the deck is low under a pond
	DeckSoft         Kind = "deck-soft"          // the deck is soft, rotten or rusted
	TaperAgainstDeck Kind = "taper-against-deck" // insulation takes away the fall of the deck, or the deck that of the insulation
	CoreOdd          Kind = "core-odd"           // a core that does not agree with its neighbours
)
