package roof

import (
	"cmp"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
)

// OutletType is the kind of outlet. EdgeOutlet stands for a run of gutter or free edge and is made
// by package surface, never read.
type OutletType uint8

// Kinds of outlet.
const (
	Drain OutletType = iota
	Scupper
	EdgeOutlet
)

// Duty says whether an outlet is the normal way out or the one that works when that is blocked.
type Duty uint8

// The two duties.
const (
	Primary Duty = iota
	Overflow
)

// Crest is the shape of a scupper's floor as water meets it.
type Crest uint8

// Shapes of a crest. CrestUnknown is one that nobody stated; SharpCrest falls off behind a thin edge;
// FloorFlush lies level with the roof and runs on through the wall.
const (
	CrestUnknown Crest = iota
	SharpCrest
	FloorFlush
)

// Pipe is the section of a leader: round by its Diameter, or rectangular by Width and Depth. The zero Pipe
// is one that nobody stated.
type Pipe struct {
	Diameter     quantity.Length
	Width, Depth quantity.Length
}

// Known reports whether the size of the pipe was stated.
func (p Pipe) Known() bool { return p.Diameter > 0 || p.Width > 0 && p.Depth > 0 }

// Outlet is a drain or a scupper. Its elevation is its invert, never a surface point. Sizes that were not
// given are 0.
type Outlet struct {
	Feature
	Plan          orb.Point
	Type          OutletType
	Duty          Duty
	Invert        float64 // metres, site datum; meaningful when HasInvert
	HasInvert     bool
	Diameter      quantity.Length // drain: its outlet
	Bowl          quantity.Length // drain: plan diameter over which it takes water (default applied by the importer)
	DamHeight     quantity.Length // drain: overflow dam above the surface
	DamDiameter   quantity.Length // drain: of that dam
	Width         quantity.Length // scupper (default applied by the importer)
	OpeningHeight quantity.Length // scupper
	Crest         Crest           // scupper
	CrestBreadth  quantity.Length // scupper: of its floor along the flow, such as the thickness of the wall
	Label         string

	// What the water runs on through.
	ConductorHead quantity.Length // height of water that the box below a scupper can hold over the mouth of its leader
	Leader        Pipe            // vertical
	Pipe          quantity.Length // inside diameter of the horizontal pipe
	PipeSlope     quantity.Slope  // of the horizontal pipe, rise over run; 0 when not given
	DischargesTo  string          // name of the roof below that the water falls on
	WidthAssumed  bool            // scupper: the width is the default, nobody gave one
}

// Called returns what the file calls the outlet: its label, else its id.
func (o *Outlet) Called() string { return cmp.Or(o.Label, o.ID) }
