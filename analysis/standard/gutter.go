package standard

// Gutters, millimetres and litres a second: the nominal capacity of a level gutter of cross-section A is a
// coefficient times A^1.25, for a box times a factor of its depth too, and 0.9 of that is counted on.
const (
	GutterHalfRound = 2.78e-5 // eaves gutter, half round
	GutterBox       = 3.89e-5 // box or valley gutter
	GutterCounted   = 0.9
	GutterBend      = 0.85 // factor for a bend in the run
)

// A gutter that is long against its depth carries less: a factor on its capacity by length over depth.
var (
	GutterLengths = []float64{50, 100, 150, 200, 250, 300, 350, 400, 450, 500}
	GutterFactors = []float64{1, 0.93, 0.86, 0.80, 0.77, 0.73, 0.70, 0.67, 0.63, 0.60}
)

// GutterLengthRead is the length over depth up to which the factors were read.
const GutterLengthRead = 200

// Sources of the laws of gutters.
var (
	GutterSource       = Source{"EN 12056-3, section 5: level gutters, 0.9 of the nominal capacity", false}
	GutterDepthSource  = Source{"EN 12056-3 takes factors of depth and shape from two figures, which were not read; the factor here is the momentum of a level box of rectangular section that discharges freely (own derivation), at most 1", false}
	GutterLengthSource = Source{"EN 12056-3, Table 6", true}
	GutterLongSource   = Source{"EN 12056-3, Table 6", false}
)
