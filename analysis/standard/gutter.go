package standard

// Gutters, millimetres and litres a second: the nominal capacity of a level gutter of cross-section A is a
// coefficient times A^1.25, and 0.9 of that is counted on.
const (
	GutterHalfRound = 2.78e-5 // eaves gutter, half round
	GutterBox       = 3.89e-5 // box or valley gutter, rectangular
	GutterCounted   = 0.9
	GutterBend      = 0.85 // factor for a bend in the run
)

// A gutter that is long against its depth carries less: a factor on its capacity by length over depth.
var (
	GutterLengths = []float64{50, 100, 150, 200}
	GutterFactors = []float64{1, 0.93, 0.86, 0.80}
)

// Sources of the laws of gutters.
var (
	GutterSource       = Source{"EN 12056-3, section 5: level gutters, 0.9 of the nominal capacity", false}
	GutterLengthSource = Source{"EN 12056-3 as reprinted in a guide to gutters", true}
)
