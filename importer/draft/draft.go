// Package draft holds what one file says of a roof, before the files are joined: plan coordinates as the
// file has them, elevations and lengths in metres.
package draft

import (
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// Setting says how the numbers of a file are to be understood.
type Setting struct {
	Unit       quantity.Unit // of bare lengths and elevations, and of plan coordinates unless Geographic
	Geographic bool          // plan coordinates are longitude and latitude
	Many       bool          // the file may hold several outlines
}

// Draft is the content of one file. Positions are in the file's own plan coordinates.
type Draft struct {
	Outlines   []Outline
	Polygons   int // polygons without a role that could not be told to be the outline
	Edges      []roof.Edge
	Spots      []roof.Spot
	Breaklines []roof.Breakline
	Curbs      []roof.Curb
	Outlets    []Outlet
	Cores      []roof.Core
	Stains     []roof.Stain
	Sills      []roof.Sill
	Controls   []roof.Control // plan coordinates in the site grid, whatever the file's frame

	Answers []roof.Answer

	Tape  *roof.Tape // nil for none
	Visit *Visit     // nil for none

	Imperial bool     // a length carried feet or inches of its own
	Unknown  []string // codes that are not known, each with the number of its points, in the order of the alphabet
	Warnings []string // whole sentences
}

// Outline is an outline with what its properties say of the whole roof.
type Outline struct {
	roof.Outline
	Name, Building, Surveyed string
	Criteria                 standard.Overrides
	Sigma                    quantity.Length // standard error of elevations that state none
	WallRunoff               string
	Structure                roof.Structure
	Visit                    roof.Visit
}

// Visit is what was noted on a visit, with its date.
type Visit struct {
	roof.Visit
	Surveyed string // date as written
}

// Visit0 returns the visit of a draft, made when first asked for.
func (d *Draft) Visit0() *Visit {
	if d.Visit == nil {
		d.Visit = &Visit{}
	}
	return d.Visit
}

// Outlet is an outlet whose type the file may have left open.
type Outlet struct {
	roof.Outlet
	TypeOpen bool // an overflow that is a scupper at the outline, else a drain
}
