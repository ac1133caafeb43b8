// Package drainage compares what the design rain brings to each outlet with what the outlet takes.
//
// The area of an outlet is that of its catchment with every pond full, plus its share of the walls that shed
// rain onto the roof and of what roofs above let onto it. Primary outlets are compared at the primary rate
// with every outlet at work. Overflows are compared at the overflow rate with every primary outlet blocked:
// the water of a blocked outlet follows the surface to where it can leave, so an overflow may take more than
// its neighbour, or none.
//
// An outlet whose sizes nobody stated has no capacity; it is named and skipped, never guessed.
package drainage

import (
	"runnel/analysis/capacity"
	"runnel/analysis/catchment"
	"runnel/analysis/flow"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// Outlet is one outlet of the surface: what reaches it and what it takes.
type Outlet struct {
	Rating  *capacity.Rating // nil where it has none
	Missing error            // why it has none; nil for an edge, which takes what comes, and where there is a Rating

	Rate   float64 // of rain, for its duty [m/s]; 0 where none was stated
	Area   float64 // of roof that drains to it at work for its duty [m2]
	Walls  float64 // of walls, by the rule for walls [m2]
	Above  float64 // of roofs that discharge onto this one [m2]
	Demand float64 // flow at that rate from those areas, shared by their laws among outlets that hold one water [m3/s]

	Takes   bool    // the outlet takes the demand at some head
	Head    float64 // at which it takes the demand, or as much as it takes at all [m]
	Clogged float64 // the same with the strainer half clogged; 0 where there is none, -1 where it takes the demand at no head [m]
	Range   error   // the head lies outside what was tested; nil where it does not, or where there is no Rating
}

// Drainage is the drainage of one roof under its design rain.
type Drainage struct {
	Primary, Overflow float64  // rates [m/s]; 0 where none was stated
	WallRule          string   // one of standard.WallRules
	Outlets           []Outlet // by outlet of the surface
	Blocked           *Blocked // with every primary outlet blocked; nil where the roof has none that can be
}

// Blocked is the roof with some outlets blocked.
type Blocked struct {
	Surface    *surface.Surface // with the outlets that work
	Of         []int32          // per outlet of it: its index in the whole surface
	Ponds      *ponding.Ponds
	Flow       *flow.Network         // nil where no rate is stated for overflows
	Catchments *catchment.Catchments // likewise
}

// Input is what drainage is computed from.
type Input struct {
	Roof       *roof.Roof
	Criteria   standard.Criteria
	Surface    *surface.Surface
	Ponds      *ponding.Ponds
	Flow       *flow.Network
	Catchments *catchment.Catchments
	Above      []Above  // what roofs above let onto this one
	Blocked    *Blocked // as Block has it
}

// Above is an area that lets its rain onto the roof at a place.
type Above struct {
	X, Y float64 // [m]
	Area float64 // [m2]
	Name string  // of the roof and outlet above
}

// Of compares the design rain with the outlets. Without rates it still rates every outlet. The error is a
// *fault.Error where an invariant broke, and one of capacity where a method or a rule is unknown.
func Of(in *Input) (*Drainage, error) {
	d := &Drainage{
		Primary: in.Criteria.RainPrimary, Overflow: in.Criteria.RainOverflow,
		WallRule: rule(in.Roof), Outlets: make([]Outlet, len(in.Surface.Outlets)), Blocked: in.Blocked,
	}
	for i := range d.Outlets {
		d.Outlets[i].Rating, d.Outlets[i].Missing = rate(in.Roof, &in.Surface.Outlets[i], in.Criteria.Practice)
	}
	if err := d.gather(in); err != nil {
		return nil, err
	}
	for i := range d.Outlets {
		d.Outlets[i].compare()
	}
	return d, nil
}

// rule returns the rule for walls in force.
func rule(r *roof.Roof) string {
	if r.WallRunoff != "" {
		return r.WallRunoff
	}
	return standard.WallRules()[0].Name
}

// compare finds the head at which the outlet takes its demand.
func (o *Outlet) compare() {
	if o.Rating == nil || o.Demand <= 0 {
		return
	}
	head, err := o.Rating.Head(o.Demand)
	o.Takes = err == nil
	if !o.Takes {
		head, _ = o.Rating.Head(o.Rating.Most())
	}
	o.Head, o.Range = head, o.Rating.Check(head)
	if c := o.Rating.Clogged; c != nil {
		if o.Clogged, err = c.Head(o.Demand); err != nil {
			o.Clogged = -1
		}
	}
}
