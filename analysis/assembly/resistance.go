package assembly

import (
	"math"

	"runnel/analysis/quantity"
)

// Method is a way to say one R for an assembly whose thickness varies. The texts disagree; the user picks one by name and all are shown.
type Method string

// The methods. Each is described with its source in Methods.
const (
	LeastR           Method = "thinnest"
	LeastPlusInch    Method = "thinnest-plus-inch"
	WithinInch       Method = "within-an-inch"
	AreaU            Method = "area-weighted-u"
	AverageThickness Method = "average-thickness"
	AverageTable     Method = "average-table"
)

// Resistance is the thermal resistance of the roof by every method. R is of the layers, without air films; U is with them.
// A dry, sound assembly is taken: wet layers resist less.
type Resistance struct {
	Known  bool    // false: too few cores or an unknown material; then only the cores' own R stand, and Why says so
	Why    string  // what is missing
	Area   float64 // plan area that the thickness is known over [m2]
	Share  float64 // the same as a share of the roof
	Films  float64 // air films [m2 K/W]
	Chosen Method  // of Rows, as asked for

	Mean, Least, Greatest float64 // thickness [m]
	LeastR, GreatestR     float64 // at one point [m2 K/W]
	PerMetre              float64 // resistance per thickness of what varies [m K/W]

	Rows []ResistanceRow // one for each of Methods, in its order; nil where not Known
}

// LostLeast is the loss of resistance from which it is said that a roof loses any [m2 K/W]: rounding stays below it. Own choice.
const LostLeast = 0.05 * quantity.RUnit

// At returns the resistance where what stays of the assembly has a thickness [m]: it goes with the thickness from that of the thinnest place on, and is never below 0 [m2 K/W].
func (r *Resistance) At(thickness float64) float64 {
	return math.Max(0, r.LeastR+float64(r.PerMetre*(thickness-r.Least)))
}

// ResistanceRow is the outcome of one method.
type ResistanceRow struct {
	Method  Method
	R       float64 // [m2 K/W]; meaningful when OK
	U       float64 // [W/(m2 K)]; meaningful when OK
	OK      bool
	Why     string // why the method does not apply; empty when OK
	Source  string
	Meaning string // what it does, one sentence
}

// Load is the dead load of the assembly from membrane to deck, dry.
type Load struct {
	Known    bool    // every core with layers has a known load
	Mean     float64 // of the cores [Pa]; of what is known where Known is false
	Greatest float64 // [Pa]
	Cores    int     // that it rests on
}
