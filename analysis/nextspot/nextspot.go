// Package nextspot says where more spots would tell most.
//
// Every doubt that a few shots can settle is looked up: a height that does not fit, a pond that the survey's error alone could make, a
// lip or lowest point that hangs on how the surface runs between spots, an outlet whose inlet or rim nobody shot, a wide empty gap, a plane
// whose slope cannot be told from the criterion. Each is weighed by the plan area of roof whose verdict hangs on it, times how much
// of that verdict it is: a share between 0 and 1 that stands beside its kind below and is a judgement, not a measurement. The places of the greatest
// weights are taken, none closer to another than a stride, and put in walking order: from the place nearest to the roof's lowest
// x, y always to the nearest, and then loops are undone (2-opt).
package nextspot

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/blunder"
	"runnel/analysis/cause"
	"runnel/analysis/geometry/nearby"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/ponding"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// Kind is the doubt that a place settles.
type Kind uint8

// The kinds, in the order in which they win at one place.
const (
	Again      Kind = iota // a height that does not fit: shoot it again
	Inlet                  // an outlet's inlet, which nobody shot
	Rim                    // the roof at an outlet's rim or a scupper's floor
	Lip                    // where a pond would spill
	Lowest                 // a pond's lowest place
	Gap                    // the middle of a wide gap between spots
	PlaneLow               // the low end of a plane whose slope cannot be told from the criterion
	PlaneHigh              // its high end
	EdgeUnshot             // the foot of an edge whose height was inferred
)

// shares say how much of the verdict on the area that hangs on it each kind settles.
var shares = [...]float64{Again: 1, Inlet: 1, Rim: 0.5, Lip: 0.8, Lowest: 0.7, Gap: 0.3, PlaneLow: 0.1, PlaneHigh: 0.1, EdgeUnshot: 0.05}

// Place is one place to shoot.
type Place struct {
	Plan   orb.Point // local frame
	Kind   Kind
	Pond   int32   // index into ponding.Ponds.Ponds; -1 none
	Outlet int32   // index into surface.Outlets; -1 none
	Plane  int32   // index into slope.Slopes.Planes; -1 none
	Odd    int32   // index into Input.Odd; -1 none
	Weight float64 // area whose verdict hangs on it, times the share of that verdict [m2]
}

// Input is what is known of one roof.
type Input struct {
	Surface    *surface.Surface
	Slopes     *slope.Slopes
	Ponds      *ponding.Ponds
	Listed     []int32           // indices into Ponds.Ponds
	Causes     []cause.Diagnosis // one for each of Listed
	InDoubt    []int32           // indices into Ponds.Ponds of those that the survey's error alone could make
	Odd        []blunder.Odd
	Rests      [][]int32 // for each of Listed, indices into Odd
	Catchments []float64 // area that each outlet takes with ponds full [m2]
	Criteria   standard.Criteria
}

// least is the weight under which a place is not worth the walk [m2].
const least = 0.5

// apart is how close two places to shoot may stand: a stride [m].
const apart = 0.75

// Of returns the places where more spots would tell most, most of them at most, in walking order.
func Of(in *Input, most int) []Place {
	c := &collector{Input: in}
	c.odd()
	c.outlets()
	c.ponds()
	c.gaps()
	c.planes()
	c.edges()
	slices.SortStableFunc(c.places, func(a, b Place) int {
		return cmp.Or(cmp.Compare(b.Weight, a.Weight), cmp.Compare(a.Kind, b.Kind), in.Surface.TIN.Pose.Before(a.Plan, b.Plan))
	})
	var out []Place
	for i := range c.places {
		if len(out) >= most {
			break
		}
		if !slices.ContainsFunc(out, func(p Place) bool { return vector.Distance(p.Plan, c.places[i].Plan) < apart }) {
			out = append(out, c.places[i])
		}
	}
	return walk(out)
}

// collector gathers the places of all doubts.
type collector struct {
	*Input
	places []Place
}

// alike rounds a weight or a length, so that rounding, which hangs on where a roof stands, does not tell apart what is equal.
func alike(v float64) float64 { return math.Round(v*1e9) / 1e9 }

// add books one doubt about so much roof [m2].
func (c *collector) add(p Place, area float64) {
	p.Weight = alike(float64(area * shares[p.Kind]))
	if p.Weight >= least {
		c.places = append(c.places, p)
	}
}

// at returns a place of a kind that concerns nothing yet.
func at(plan orb.Point, k Kind) Place {
	return Place{Plan: plan, Kind: k, Pond: -1, Outlet: -1, Plane: -1, Odd: -1}
}

func (c *collector) vertex(v int32) orb.Point {
	return orb.Point{c.Surface.Cut.X[v], c.Surface.Cut.Y[v]}
}

// odd books the heights that do not fit: over the facets that they shape and the ponds that rest on them.
func (c *collector) odd() {
	t := c.Surface.TIN
	for i := range c.Odd {
		o := &c.Odd[i]
		p := at(o.Plan, Again)
		p.Odd = int32(i)
		area := 0.0
		switch {
		case o.Inlet:
			area = cmp.Or(c.Catchments[o.Outlet], c.Surface.Spacing*c.Surface.Spacing)
		case o.Vertex < 0:
			continue // it was never there
		default:
			for e := range t.Star(o.Vertex) {
				area += t.FacetArea(e / 3)
			}
		}
		for k, rests := range c.Rests {
			if slices.Contains(rests, int32(i)) {
				area += c.Ponds.Ponds[c.Listed[k]].Area
			}
		}
		c.add(p, area)
	}
}

// rimReach is how near a spot must stand to an outlet's footprint to be the roof at its rim [m].
const rimReach = 0.3

// outlets books the outlets without an inlet level, and those without a spot at the rim.
func (c *collector) outlets() {
	if len(c.Surface.Outlets) == 0 {
		return
	}
	spots := c.shots()
	shots := nearby.New(spots)
	for i := range c.Surface.Outlets {
		o := &c.Surface.Outlets[i]
		if o.Line != nil {
			continue
		}
		p := at(o.Plan, Inlet)
		p.Outlet = int32(i)
		area := cmp.Or(c.Catchments[i], c.Surface.Spacing*c.Surface.Spacing)
		if o.InvertAssumed {
			c.add(p, area)
			continue
		}
		if !c.shotAt(o, spots, shots) {
			p.Kind = Rim
			c.add(p, area)
		}
	}
}

// shots are the places that somebody shot.
func (c *collector) shots() (at []orb.Point) {
	t := c.Surface.TIN
	for v := range t.X {
		if t.Spot[v] >= 0 && !t.Assumed[v] {
			at = append(at, orb.Point{t.X[v], t.Y[v]})
		}
	}
	return at
}

// shotAt reports whether one of the shots stands at an outlet.
func (c *collector) shotAt(o *surface.Outlet, at []orb.Point, shots *nearby.Places) (found bool) {
	reach := rimReach
	for _, v := range o.Vertices {
		reach = math.Max(reach, rimReach+vector.Distance(c.vertex(v), o.Plan))
	}
	shots.Each(o.Plan.Bound().Pad(2*reach), func(i int32) {
		found = found || vector.Distance(at[i], o.Plan) <= reach
	})
	return found
}

// ponds books lips and lowest places: of ponds in doubt, and of those listed whose lip or lowest place no spot shows.
func (c *collector) ponds() {
	for _, p := range c.InDoubt {
		c.pond(p)
	}
	for i, p := range c.Listed {
		if d := &c.Causes[i]; d.Uncertain || d.LipAssumed || !d.Resolved {
			c.pond(p)
		}
	}
}

func (c *collector) pond(i int32) {
	p := &c.Ponds.Ponds[i]
	if p.Undrained {
		return
	}
	low := at(c.vertex(p.Pits[0]), Lowest)
	low.Pond = i
	c.add(low, p.Area)
	lip := at(orb.Point{}, Lip)
	lip.Pond = i
	switch {
	case p.Lip >= 0:
		lip.Plan = c.vertex(p.Lip)
	case p.HeldBy >= 0:
		lip.Plan, lip.Kind, lip.Outlet = c.Surface.Outlets[p.HeldBy].Plan, Inlet, p.HeldBy
	default:
		return
	}
	c.add(lip, p.Area)
}
