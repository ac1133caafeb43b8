// Package takeoff counts what a correction takes: boards by their two thicknesses, what no board fits, edge strips,
// outlets, cuts, weight, thermal resistance and, where the user gives prices, cost.
//
// A plane of the new surface is laid in boards where what lies under it is a plane too, within a tolerance, so that
// its thickness is a plane, and where the taper of that thickness is a rate that the supplier has. Where it is not, its
// volume is counted and the reason stands beside it: it is built up or cut to measure. Nothing is left out: the parts add up to
// the volume of the design.
//
// Beside the quantities stand what they allow for, what they leave out, the other options, and who has to approve. Nothing here
// says that a structure carries the work.
package takeoff

import (
	"github.com/paulmach/orb"

	"runnel/analysis/board"
	"runnel/analysis/correction"
	"runnel/analysis/finding"
	"runnel/analysis/study"
	"runnel/analysis/taper"
)

// Tolerance is how far the thickness of a field may be off its boards [m]; common practice, no source: what a thin layer of adhesive or
// the membrane takes up.
const Tolerance = 0.003

// Input is what Of reads; nothing of it is changed.
type Input struct {
	Study    *study.Study // of the roof as surveyed
	Result   *correction.Result
	Option   int // index into Result.Options
	Stock    board.Stock
	Waste    float64 // share of boards that are ordered on top, 0 to 1
	Material string  // of the new insulation, as the table of materials names it; empty: polyiso
	PerMetre float64 // the user's own thermal resistance per thickness [m K/W]; 0: the table's
	Prices   *Prices // nil: no cost
}

// Use is what a field or a part of the quantities is for; a closed list.
type Use string

// The uses, in the order in which they are listed.
const (
	Taper   Use = "taper"
	Cricket Use = "cricket"
	Sump    Use = "sump"
	Rise    Use = "rise taken off"
	Edge    Use = "lowered edge"
	Patch   Use = "replaced patch"
	Retaper Use = "re-tapered section"
	Fill    Use = "small taper"
)

// TakeOff is the quantities of one option.
type TakeOff struct {
	Material string // name in the table of materials
	Stock    board.Stock
	Waste    float64

	Fields   []Field       // by facet of the design
	Boards   *board.Layout // of the fields that are laid, in the order of Laid; nil where none is
	Laid     []int         // for each field of Boards: its index into Fields
	Measured []Measured    // what no board fits
	Strips   []Strip       // tapered edge strips, thinner than the thinnest board

	Leveller taper.Leveller // under boards laid on the old surface: its flat boards stand in the schedule, the rest is apart from Volume

	Area      float64   // plan area on which the new surface differs from the old by correction.Seen or more; of new boards on the deck all of it [m2]
	Covered   float64   // of it, under new insulation [m2]
	Volume    float64   // new insulation in place, without waste and without leveller [m3]
	Cut       float64   // taken down [m3]
	Average   float64   // thickness of the new insulation where it is laid [m]
	Greatest  float64   // [m]
	At        orb.Point // where it is; of a cut alone where that is deepest
	Deepest   float64   // cut [m]
	CutAt     orb.Point // where it is
	HighestAt orb.Point // where the new surface comes to stand highest above the old
	Highest   float64   // that the new surface comes to stand above the old; where the roof is replaced, above the deck [m]
	CutLine   float64   // length in which new meets old [m]
	Mitres    float64   // length of valleys and hips between fields that are laid; boards are cut on both sides [m]

	Mass         float64 // of the new insulation [kg]
	Load         float64 // average over the area [Pa]
	GreatestLoad float64 // [Pa]

	Thermal Thermal
	Items   []Item
	Cost    float64 // sum of the items that have a price
	Priced  bool
	Money   string // currency

	Allowances []finding.Text
	Exclusions []finding.Text
	Approvals  []Approval
}

// Field is one plane of the design that is new.
type Field struct {
	Facet     int // index into Design.Facets
	Use       Use
	Area      float64 // on which it differs from the old surface, as TakeOff.Area [m2]
	Volume    float64 // of new insulation [m3]
	Cut       float64 // taken down [m3]
	Thinnest  float64 // of the new insulation; a cut is below 0 [m]
	Thickest  float64 // [m]
	Mesh      bool    // a facet of the survey with corners moved: it follows the roof and is no plane that a crew sets out
	OnDeck    bool    // the thickness is above the deck: what lies there comes out
	Thickness float64 // of its plane where it is least [m]
	Rate      float64 // taper in stock that it is laid with; 0: flat
	Laid      bool
	Why       finding.Text // why not
}

// Measured is a patch of insulation that is built up or cut to measure: fields that touch and have one reason.
type Measured struct {
	Mesh     bool  // it follows the roof
	Fields   []int // indices into TakeOff.Fields
	Use      Use
	Area     float64 // [m2]
	Volume   float64 // of new insulation [m3]
	Cut      float64 // [m3]
	Thinnest float64 // [m]
	Thickest float64 // [m]
	Why      finding.Text
}

// Strip is a run of tapered edge strip along a border of a field where the insulation is thinner than the thinnest board.
type Strip struct {
	Field  int
	Length float64 // across its fall [m]
	Wide   float64 // along its fall, on average [m]
	From   float64 // thickness at its thin and its thick edge [m]
	To     float64
	Area   float64 // [m2]
	Volume float64 // [m3]
}

// Resistance is the thermal resistance over the roof, without air films, dry and sound [m2 K/W].
type Resistance struct {
	Known    bool
	Why      string  // what is missing
	Least    float64 // at the thinnest place
	Average  float64 // of the average thickness
	True     float64 // from the area-weighted U
	U        float64 // area-weighted, with air films [W/(m2 K)]
	Greatest float64
}

// Thermal compares the roof before and after.
type Thermal struct {
	Before, After Resistance   // of the whole roof, from membrane to deck
	New           Resistance   // of the new insulation alone, on its own area
	PerMetre      float64      // of the new insulation [m K/W]
	Own           bool         // the user's own figure
	Source        string       // of PerMetre
	Reduced       bool         // somewhere there is less than before
	Lost          float64      // there [m2 K/W]
	LostFrom      float64      // what is there before [m2 K/W]
	Note          finding.Text // how the methods of saying one R differ
}

// Measure says in what an item is counted.
type Measure uint8

// The measures; the value of an item is in the SI unit named.
const (
	Pieces Measure = iota
	Area           // m2
	Solid          // m3
	Length         // m
)

// Item is one line of the quantities.
type Item struct {
	What    finding.Text
	Measure Measure
	Value   float64
	Note    finding.Text
	Unit    float64 // price of one unit as the user gives it; meaningful when Priced
	Per     string  // name of that price
	Cost    float64
	Priced  bool
	Told    bool // beside what is priced: nobody bids on it
}

// Approval is who has to approve, and why.
type Approval struct {
	Who string
	Why finding.Text
}
