package standard

import "runnel/analysis/quantity"

// Factors of the rain load, R = factor (ds + dh), as documents print them.
const (
	RainLoadInch       = 5.2    // psf for an inch of water
	RainLoadMillimetre = 0.0098 // kPa for a millimetre of water
)

// RainLoadSource is where the rain load stands. runnel weighs water by WaterDensity and Gravity: 5.202 psf an inch
// and 0.00980665 kPa a millimetre, which differ from the printed factors by 0.05 % and 0.07 %; ASTM D5957 uses 5.19
// psf an inch, 0.2 % less.
var RainLoadSource = Source{"International Building Code, section 1611.1; ASCE 7-05, equation 8-1, ASCE 7-10 and 7-16, equation 8.3-1: R = 5.2 (ds + dh) psf and inches, 0.0098 (ds + dh) kPa and millimetres; local code governs", true}

// PondingHeadSource is what a later edition adds.
var PondingHeadSource = Source{"ASCE 7-22, equation 8.2-1, adds a ponding head dp for the sag of the roof under the water, which is not computed here", true}

// AtLeast is said beside every depth and load that is computed from a survey.
const AtLeast = "Each depth and load is an \"at least\": depths are on the surveyed shape, taken as rigid; sag under the water and snow are not included."

// FreeEdgeHead is why no head is added over an edge that is open along its whole length (read).
var FreeEdgeHead = Source{"ASCE 7-05 and 7-10, commentary of chapter 8: dh is 0 where the secondary system is overflow along a whole roof edge", true}

// Slopes below which a bay may be susceptible to ponding: rise over run.
const (
	BaySlope         = 1.0 / 48 // 1/4 in per ft
	BaySlopeParallel = 1.0 / 12 // 1 in per ft, where the secondary members run along the edge that water leaves over
	BaySpanRatio     = 16.0     // span over spacing of those members beyond which BaySlopeParallel counts
)

// Sources of the bays that may be susceptible to ponding.
var (
	baySource         = Source{"ASCE 7-10, section 8.4: bays that slope less than 1/4 in per ft; International Building Code to 2018, section 1611.2", true}
	BaySquareSource   = Source{"ASCE 7-16, section 8.4: 1/4 in per ft where the secondary members stand square to the free draining edge", true}
	BayParallelSource = Source{"ASCE 7-16, section 8.4: under 1 in per ft where the secondary members run along the free draining edge, with a ratio of span to spacing over 16 for 1 in per ft", false}
	BayWaterSource    = Source{"ASCE 7-16, section 8.4: any bay in which water stands with the primary system blocked and the secondary at work", false}
)

// LoadBand is the step of the depth bands in which a load is mapped [m], where results are in US units and in SI.
const (
	LoadBand       = float64(quantity.Inch)
	LoadBandMetric = 25 * float64(quantity.Millimetre)
)

// RoofLiveLoad is the live load that an ordinary flat roof is designed for at least [Pa]: what a load of water is compared with where
// nothing is known of the roof that carries it.
const RoofLiveLoad = 20 * quantity.PoundPerSquareFoot

// RoofLiveLoadSource is where it stands.
var RoofLiveLoadSource = Source{"ASCE 7-16, table 4.3-1: ordinary flat roofs, 20 psf (0.96 kPa)", false}

// What standing water weighs.
const (
	// WaterDensity is the density of water [kg/m3]. 1000 kg/m3 is the round figure of engineering; with
	// Gravity it gives 5.202 psf per inch of depth, the factor of the published tables of the weight of
	// water on roofs (1,000 ft2 at 1 in: 5,202 lb; read). ASTM D5957-98(2021) uses 5.19 psf per inch at
	// 22 degrees C, building codes 5.2 (both read): the three differ by 0.2 %.
	WaterDensity = 1000.0

	// Gravity is standard gravity [m/s2]: 3rd General Conference on Weights and Measures, 1901, exact by
	// definition (recalled).
	Gravity = 9.80665
)
