package takeoff

import (
	"cmp"
	"errors"
	"fmt"

	"github.com/paulmach/orb"

	"runnel/analysis/correction"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// counter holds what the steps of Of share.
type counter struct {
	in       *Input
	option   *correction.Option
	design   *taper.Design // nil where the surface stays
	out      *TakeOff
	material *standard.Material
	at       map[int]int // facet: its field
	parts    [][]part    // by field
	locate   *surface.Locator
}

// part is a convex piece of a field.
type part struct {
	on    []orb.Point
	t     []float64 // thickness of new insulation, at on; leveller under it does not count [m]
	old   []float64 // of what is on the deck now, where it is known; nil where not [m]
	gone  []float64 // of what comes out of that where the field is laid from the deck up; nil: nothing is known to [m]
	above []float64 // of the new surface above the old [m]
}

// Of takes off one option. It fails where the option is none, the stock is none or the material is not in the table.
func Of(in *Input) (*TakeOff, error) {
	if in.Option < 0 || in.Option >= len(in.Result.Options) || !in.Result.Options[in.Option].Possible {
		return nil, errors.New("take-off: there is no such option")
	}
	c := &counter{in: in, option: &in.Result.Options[in.Option], at: map[int]int{}}
	c.design = c.option.Design
	name := cmp.Or(in.Material, "polyiso")
	var ok bool
	if c.material, ok = standard.FindMaterial(name); !ok || !c.material.Insulates() && in.PerMetre == 0 {
		return nil, fmt.Errorf("take-off: %q is no insulation of the table of materials", name)
	}
	c.out = &TakeOff{Material: c.material.Name, Stock: in.Stock, Waste: in.Waste}
	if c.design != nil {
		c.gather()
		if err := c.lay(); err != nil {
			return nil, fmt.Errorf("take-off: %w", err)
		}
		c.level()
		c.measured()
		c.sums()
	}
	c.thermal()
	c.items()
	c.words()
	return c.out, nil
}
