// Package assembly says from core cuts what the roof is made of between deck and membrane, and whether its slope is in the
// structure or in the insulation.
//
// A core gives the thickness of the assembly at one place, and the deck's elevation as the surface less that thickness. Where
// three cores or more that are not on one line lie on one plane of the surface, planes are fitted by weighted least squares
// to their thickness and deck elevations, and the two gradients are compared as vectors. In units of the surface's own gradient g,
// the thickness gradient is 0 where the structure slopes and g where the insulation tapers. It lies in the circle over those two
// points where both add up, and outside where one works against the other (Thales: there the two are at an obtuse angle). A verdict is
// passed only where the whole region of error (three standard errors) is on its side.
//
// Where a plane has fewer cores, the cores of a catchment, then of the roof, are taken together: thickness is fitted against
// the elevation of the surface, t = a + k z. k is 0 where the structure slopes and 1 where the insulation tapers, whatever way
// the planes face; a misfit beyond the error of the cores is no verdict.
//
// One odd core is found by leaving each out in turn, and is left out where the others agree without it. A core that reached a flute
// of the deck reads too thick by up to the flute's depth, and is taken with that doubt.
//
// Nothing is said about strength.
package assembly

import (
	"github.com/paulmach/orb"

	"runnel/analysis/catchment"
	"runnel/analysis/finding"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/surface"
)

// Input is what Of reads; nothing of it is changed.
type Input struct {
	Roof       *roof.Roof
	Surface    *surface.Surface
	Slopes     *slope.Slopes
	Ponds      *ponding.Ponds
	Listed     []int32               // the ponds that are listed, indices into Ponds.Ponds
	Catchments *catchment.Catchments // may be nil: then cores are not grouped by catchment
	PerMetre   map[string]float64    // the user's own thermal resistance per thickness, by material as read or as in the table [m K/W]
	Method     Method                // of the R that is compared with limits; empty: LeastR
}

// Result is what the cores of one roof say.
type Result struct {
	Cores   []Core   // one for each of Roof.Cores, in its order
	Regions []Region // planes by index, then catchments, then the whole roof; only those with a core
	Ponds   []Pond   // one for each of Input.Listed, in its order
	Wet     []Wet    // wet and compressed layers, by core, top first
	Load    Load
	R       Resistance
	Unknown []Unknown // materials whose R or weight is not known, by first core

	finder *finder
}

// Flag is what is to be known of a core; a closed list.
type Flag string

// The flags.
const (
	OffRoof        Flag = "off the roof"                       // outside the outline or in a curb, and no elevation of its own
	NoLayers       Flag = "no layers given"                    // the thickness is not known
	NoThickness    Flag = "a layer has no thickness"           // the sum of the layers is too small
	InFlute        Flag = "reached a flute of the deck"        // as stated: reads too thick by up to the flute's depth
	FluteUnsaid    Flag = "may have reached a flute"           // stands out by a step that a flute would explain; ask
	Odd            Flag = "does not agree with its neighbours" // left out of the fits
	TubeCut        Flag = "tube cutter presses foam together"
	CutterUnsaid   Flag = "cutter not stated" // taken as a tube
	LayerWet       Flag = "wet layer"
	LayerPressed   Flag = "compressed layer"
	DeckSoft       Flag = "deck soft, rotten or rusted"
	LevelsDisagree Flag = "its elevation is not that of the surface" // the surface is used
)

// Core is one core with what follows from it.
type Core struct {
	ID           string // as read
	Plan         orb.Point
	Surface      float64 // elevation of the membrane [m]; meaningful when HasSurface
	HasSurface   bool
	Thickness    float64 // of the whole assembly [m]; meaningful when HasThickness
	HasThickness bool
	Sigma        float64 // standard error of Thickness [m]
	Deck         float64 // elevation of the deck [m]; meaningful when HasDeck
	DeckSigma    float64 // standard error of Deck [m]
	HasDeck      bool
	DeckType     string  // as read
	R            float64 // of the layers, without air films [m2 K/W]; meaningful when RKnown
	RKnown       bool
	Load         float64 // of the layers [Pa]; what is known of it where LoadKnown is false
	LoadKnown    bool
	Plane        int32   // index into Slopes.Planes, -1 off the roof
	Pond         int32   // position in Result.Ponds of the pond it lies in, -1 none
	Layers       []Layer // top first
	Flags        []Flag

	mayBeFlute bool // nobody said that it did not reach a flute, and the deck may have them
}

// Layer is one layer of a core with what the tables know of it.
type Layer struct {
	Material  string  // as read
	Name      string  // in the table of materials; empty when it is not there
	Thickness float64 // [m]
	Condition string  // as read
	R         float64 // [m2 K/W]; meaningful when RKnown; that of a dry, sound layer
	RKnown    bool
	Load      float64 // [Pa]; meaningful when LoadKnown; that of a dry layer
	LoadKnown bool

	insulates bool
	sheet     bool // may be without a thickness
}

// Unknown is a material whose R or weight no table gives.
type Unknown struct {
	Material string
	R, Load  bool // which of the two is missing
}

// Verdict says what makes the slope of a region.
type Verdict uint8

// The verdicts.
const (
	NotResolved Verdict = iota
	StructureSlopes
	InsulationTapers
	BothSlope
	TaperFights   // deck and taper fall against each other
	NothingSlopes // the surface is level within error, and so are deck and insulation
)

// RegionKind says what cores were taken together.
type RegionKind uint8

// The kinds of region.
const (
	OnPlane RegionKind = iota
	OnCatchment
	OnRoof
)

// Gradient is an uphill gradient with its covariance, all as rise over run.
type Gradient struct {
	X, Y       float64
	XX, XY, YY float64
	Known      bool
}

// Region is a part of the roof whose cores are taken together.
type Region struct {
	Kind    RegionKind
	Index   int32 // of the plane, or position in Catchments.Full; -1 for the whole roof
	Cores   []int // positions in Result.Cores, ascending; those in ponds included
	Used    []int // those that the fit rests on
	Verdict Verdict

	Surface   Gradient // OnPlane: of the fitted plane of the surface
	Thickness Gradient // OnPlane with a fit: uphill is toward thicker
	Deck      Gradient // OnPlane with a fit

	Share      float64 // part of the surface's fall that the insulation makes: 0 structure, 1 insulation; meaningful when HasShare
	ShareSigma float64
	HasShare   bool

	Mean   float64 // mean thickness of Used [m]
	Spread float64 // greatest less least thickness of Used [m]

	Sentence finding.Text // what the cores say, with its error
	Source   string       // of the rule behind the verdict
	Cannot   finding.Text // what they cannot say; empty when nothing
	Next     []orb.Point  // where further cores would tell most, best first; nil where it is settled
	More     int          // how many of Next would settle it, at the readings so far; -1: more than Next holds

	thickness fit      // OnPlane
	deck      fit      // OnPlane
	line      shareFit // OnCatchment, OnRoof
	fitted    bool
	disagree  bool      // the cores lie farther off the fit than their errors let expect
	odd       []int     // cores that were left out
	origin    orb.Point // of the plan of further cores
	flute     bool      // the verdict would change had one core reached a flute unsaid
}

// PondCause says what is low under a pond.
type PondCause uint8

// The causes.
const (
	PondNotResolved PondCause = iota
	DeckLow
	InsulationThin
	DeckLowAndThin
)

// Pond is what the cores say about one listed pond.
type Pond struct {
	Pond    int32 // index into ponding.Ponds.Ponds
	Inside  []int // positions in Result.Cores
	Outside []int // those that it was compared with
	Cause   PondCause
	Soft    bool // the deck is soft, rotten or rusted in a core inside: urgent

	Drop     float64 // how far the surface at the cores inside is below what the cores outside let expect [m], positive downward
	DeckDrop float64 // the same of the deck
	Thinner  float64 // how much thinner the assembly is there
	Sigma    float64 // standard error of Thinner and DeckDrop [m]
	Compared bool    // Drop, DeckDrop, Thinner and Sigma are meaningful

	Why      Reason // of thin insulation, as far as the layers tell
	Sentence finding.Text
	Next     orb.Point // place of the core to cut next; meaningful when HasNext
	NextWhy  finding.Text
	HasNext  bool
}

// Reason says why insulation is thin; a closed list, empty for no reason.
type Reason string

// The reasons, as they stand in a sentence.
const (
	Compressed Reason = "compressed"
	WetThrough Reason = "wet"
	Missing    Reason = "missing in part"
	Shrunk     Reason = "shrunk, or thinner boards"
)

// Wet is a layer that is wet or compressed: to be taken out, never covered.
type Wet struct {
	Core, Layer int // positions in Result.Cores and in its Layers
	Material    string
	Thickness   float64 // [m]
	Condition   string
}
