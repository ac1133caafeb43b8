// Package mend draws what may dry one pond: an outlet set down in a sump, a rise taken off, crickets, small tapers, channels, new outlets,
// and sections of stock boards. It says what each takes and who decides; it runs no analysis.
package mend

import (
	"fmt"

	"github.com/paulmach/orb"

	"runnel/analysis/halt"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// Input is what New reads.
type Input struct {
	Line     *halt.Line // ends the work where somebody asks for it
	Study    *study.Study
	Steering Steering
	// Deck returns the deck's elevation at a place with its standard deviation [m]; nil or false: not known.
	Deck func(p orb.Point) (z, sigma float64, ok bool)
	// Rates are the tapers that the supplier has [rise/run], ascending; nil: only the slope that is asked for is tried.
	Rates []float64
	// Boards says how the supplier's boards come; zeros: the usual ones.
	Boards Boards
}

// Boards are a supplier's boards.
type Boards struct {
	Thin float64 // the thin edge of the thinnest tapered one [m]
	Step float64 // by which flat ones differ [m]
	Area float64 // of one [m2]
}

// Designer holds what mends are made from.
type Designer struct {
	Input
	Roof    *roof.Roof // with the folds that were found on it
	Surface *surface.Surface
	Domain  *domain.Domain
	Base    taper.Base
	Sources []taper.Source
	Ponds   []Pond
	Foam    *standard.Material
	Locate  *surface.Locator
	Star    [][]int32 // per vertex of the TIN: its neighbours

	Slope, Flashing float64
}

// New returns the designer of a roof's mends. It fails where the surface cannot be laid out in plan.
func New(in Input) (*Designer, error) {
	st := in.Study
	d := &Designer{
		Input: in, Roof: Folded(st.Roof, st.Surface.TIN), Surface: st.Surface, Base: taper.Existing(st.Surface.TIN).Prepared(), Sources: taper.Sources(st.Surface),
		Slope: in.Steering.Slope, Flashing: in.Steering.Flashing, Locate: surface.NewLocator(st.Surface.TIN),
	}
	if d.Slope == 0 {
		d.Slope = st.Criteria.MinSlopeNew
	}
	if d.Flashing == 0 {
		d.Flashing = standard.FlashingHeight
	}
	if b := &d.Boards; b.Step == 0 {
		b.Thin, b.Step, b.Area = standard.OverlayThickness, standard.BoardFillStep, standard.BoardLength*standard.BoardWidth
	}
	d.Foam, _ = standard.FindMaterial("polyiso")
	var err error
	if d.Domain, err = domain.New(st.Surface.TIN); err != nil {
		return nil, fmt.Errorf("no plan of the surface: %w", err)
	}
	d.Star = neighbours(st.Surface.TIN)
	for i, l := range st.Listed {
		p := d.pond(l.ID, l.Pond, &st.Causes[i])
		p.index = i
		d.Ponds = append(d.Ponds, p)
	}
	return d, nil
}
