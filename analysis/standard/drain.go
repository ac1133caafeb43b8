package standard

// DrainRow is a roof drain of one size.
type DrainRow struct {
	DiameterInches float64
	HeadFlow
}

// DrainRows are the drains of DrainSource.
var DrainRows = []DrainRow{
	{4, HeadFlow{[]float64{1, 2, 2.5}, []float64{80, 170, 180}}},
	{6, HeadFlow{[]float64{1, 2, 2.5, 3, 3.5}, []float64{100, 190, 270, 380, 540}}},
	{8, HeadFlow{[]float64{1, 2, 2.5, 3, 3.5, 4, 4.5}, []float64{125, 230, 340, 560, 850, 1100, 1170}}},
}

// Coefficients of the law of an outlet in a level roof, millimetres and litres a second: a weir over its rim up to a
// head of half its diameter, Q = k D h^1.5 / 7500, and an orifice above, Q = k D^2 h^0.5 / 15000.
const (
	OutletWeir     = 7500
	OutletOrifice  = 15000
	OutletOpen     = 1.0 // k of an outlet without a strainer
	OutletStrained = 0.5 // k of an outlet with a strainer, clean
	HalfClogged    = 0.5 // share of its flow that an outlet is left with when its strainer is half clogged; own choice
)

// Sources of the laws of drains.
var (
	DrainSource       = Source{"ASCE 7-05 and 7-10, commentary, Table C8-1: roof drains of 4, 6 and 8 in", false}
	OutletSource      = Source{"EN 12056-3, section 7: outlets of flat roofs without a strainer, k = 1", false}
	StrainerSource    = Source{"EN 12056-3, section 7: outlets of flat roofs with a strainer, k = 0.5", false}
	HalfCloggedSource = Source{"own choice, no source: half of the flow", false}
)
