// Package catchment draws the areas whose water reaches one outlet, dry and with every pond full.
//
// Dry, water ends in the first outlet or depression on its way. Full, every pond stands at its lip and
// passes on what reaches it, from pond to pond until an outlet takes it. Both views group the labels of a
// flow.Network; the boundaries between groups come from it as loose pieces that match exactly, and are
// joined to rings here by walking: no areas are cut or united, so neighbours share their points and
// neither gaps nor overlaps can arise.
package catchment

import (
	"cmp"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/atonce"
	"runnel/analysis/fault"
	"runnel/analysis/flow"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/ponding"
	"runnel/analysis/surface"
)

// Catchment is an area that drains to one end.
type Catchment struct {
	Outlet                int32   // index into surface.Outlets; -1 when it ends in a pond (dry) or nowhere
	Pond                  int32   // index into ponding.Ponds.Ponds; -1 when it ends in an outlet. Of the unlisted ponds, which share one catchment, the first
	Area                  float64 // [m2]
	Outline               orb.MultiPolygon
	TravelMax, TravelMean float64 // of outlets: longest, and mean by area [m]; over dry roof alone, or with every pond full
	Indeterminate         float64 // area of it whose direction is a convention [m2]
}

// Path is a way that water takes.
type Path struct {
	Outlet     int32
	Full       bool
	Line       orb.LineString
	Elevations []float64 // one per vertex of Line: of the surface, or of the water where the path crosses a full pond
	Travel     float64   // plan length [m]
	Drop       float64   // [m]
}

// Share is what one of several outlets with equal inverts takes from a pond that they hold together.
type Share struct {
	Pond, Outlet int32
	Area         float64 // of the pond's basin [m2]
	Part         float64 // of all that the pond's outlets take from it, 0 to 1
}

// Catchments is both views of one surface.
type Catchments struct {
	Dry, Full []Catchment      // by outlet, then pond; those without area are left out
	Longest   []Path           // by outlet: its longest dry way, then its longest with ponds full where that is longer
	Undrained float64          // area with no way out at any level [m2]
	Undrawn   orb.MultiPolygon // that area
	Shares    []Share          // by pond, then outlet
}

// beside is the number of vertices of a surface up to which the dry flow and the travel with ponds full are traced side by side; on larger ones
// either needs much memory.
const beside = 300_000

// Trace finds the dry flow over a surface, its catchments, how far water travels over them, and the longest ways.
//
// p is its ponds with all outlets working. listed returns of each pond whether it is one of those that are listed; the others share one dry
// catchment. It is asked when the dry catchments are drawn, so that it may still be found out beside the flow. nil lists every pond.
//
// Checked in every run: the areas of either view add up to the net roof area (relative 1e-9), and every
// outline has the area of its catchment. The error is a *fault.Error.
func Trace(s *surface.Surface, p *ponding.Ponds, listed func() []bool) (n *flow.Network, c *Catchments, err error) {
	g := &grouping{s: s, ponds: p, listed: listed}
	trace := func() (err error) {
		g.n, err = flow.Trace(s, flow.Options{LabelsOnly: p.Standing()})
		return err
	}
	if !p.Standing() || len(s.Cut.X) > beside {
		if err := trace(); err != nil {
			return nil, nil, err
		}
		trace = func() error { return nil }
	}
	c, err = g.catchments(trace)
	return g.n, c, err
}

// catchments draws the catchments and, side by side, measures travel. What is traced first for the drawing is the dry flow, where it is not known.
func (g *grouping) catchments(trace func() error) (*Catchments, error) {
	c, v := &Catchments{}, (*travels)(nil)
	full, err := g.begin()
	if err != nil {
		return nil, err
	}
	dry := g.n
	var drawing, travelling error
	atonce.Do(func() {
		if drawing = trace(); drawing == nil {
			drawing = g.draws(c, full)
		}
	}, func() { v, travelling = g.newTravels(dry) })
	if err := cmp.Or(drawing, travelling); err != nil {
		return nil, err
	}
	return c, v.measure(c)
}

// Areas is Trace over a known dry flow without what drawings and travel need: Outline and Undrawn stay nil, TravelMax and TravelMean 0, Longest empty.
func Areas(s *surface.Surface, n *flow.Network, p *ponding.Ponds, listed []bool) (*Catchments, error) {
	g, c := &grouping{s: s, n: n, ponds: p, listed: func() []bool { return listed }, areasOnly: true}, &Catchments{}
	full, err := g.begin()
	if err != nil {
		return nil, err
	}
	return c, g.draws(c, full)
}

// Full draws the catchments with every pond full alone: Dry stays empty, and so does what travel needs.
func Full(s *surface.Surface, n *flow.Network, p *ponding.Ponds) (*Catchments, error) {
	g, c := &grouping{s: s, n: n, ponds: p}, &Catchments{}
	full, err := g.begin()
	if err != nil {
		return nil, err
	}
	if full == nil {
		full = n
	}
	if err = g.full(c, full); err != nil {
		return nil, err
	}
	return c, covers(s, "full", c.Full, c.Undrained)
}

// begin finds where the water of every pond goes, and the network with every pond full where that is another than the dry one; else nil.
func (g *grouping) begin() (full *flow.Network, err error) {
	g.findHolders()
	if err := g.cascade(); err != nil {
		return nil, err
	}
	g.s.Cut.Halt.Ask()
	return g.overFull()
}

// draws fills in the catchments of either view.
func (g *grouping) draws(c *Catchments, full *flow.Network) (err error) {
	if c.Dry, err = g.dry(); err != nil {
		return err
	}
	g.s.Cut.Halt.Ask()
	if full == nil {
		full = g.n
	}
	c.Shares = g.shares(full)
	if err = g.full(c, full); err != nil {
		return err
	}
	g.s.Cut.Halt.Ask()
	return c.check(g.s)
}

// check proves that either view covers the roof once.
func (c *Catchments) check(s *surface.Surface) error {
	return cmp.Or(covers(s, "dry", c.Dry, 0), covers(s, "full", c.Full, c.Undrained))
}

// covers proves that the catchments of a view, and what stands apart [m2], cover the roof once.
func covers(s *surface.Surface, view string, list []Catchment, apart float64) error {
	sum := apart
	for i := range list {
		sum += list[i].Area
	}
	if !(math.Abs(sum-s.Area) <= 1e-9*s.Area) {
		return fault.New("catchments", "%s catchments add up to %.9f m2, not to the net roof area of %.9f m2", view, sum, s.Area)
	}
	return nil
}

// checkOutline proves that an outline has the area that its labels add up to.
func checkOutline(m orb.MultiPolygon, area, roof float64) error {
	drawn := 0.0
	for _, polygon := range m {
		for _, ring := range polygon {
			drawn += vector.Area(ring)
		}
	}
	if !(math.Abs(drawn-area) <= 1e-9*roof) {
		return fault.New("catchments", "an outline holds %.9f m2, its catchment has %.9f m2", drawn, area)
	}
	return nil
}

// Leading reports whether Longest[i] is the longest way of its outlet with ponds full: the dry one where ponds make none
// longer.
func (c *Catchments) Leading(i int) bool {
	return c.Longest[i].Full || i+1 == len(c.Longest) || c.Longest[i+1].Outlet != c.Longest[i].Outlet
}
