package catchment

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/atonce"
	"runnel/analysis/flow"
	"runnel/analysis/geodesic"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// taker is a pond, or the part of one that one of several outlets takes: what ways come to.
type taker struct {
	pond   int32
	outlet int32 // that holds it; -1 at a lip
	place  int   // among the pond's takers
}

// farthest is where the longest way of an outlet begins.
type farthest struct {
	travel float64
	place  flow.Place
	pool   int32 // pond in which it begins instead, -1 none
	tri    int32
	taker  int
	point  orb.Point
}

// travels measures how far water goes with every pond full: over the roof to the water's edge, straight over the water to
// the lip or the footprint, and on from the lip.
type travels struct {
	g      *grouping
	shore  *surface.Shore
	s      *surface.Surface // with the shore's TIN
	n      *flow.Network    // over it
	takers []taker          // their labels follow those of the outlets
	wet    []float64        // per taker: area under water [m2]
	first  []int32          // per pond: its first taker
	pools  []*pool          // per pond; nil where it has no facet
	within []int32          // pool.at of all of them
	legs   []leg            // per pond: the way on from its lip

	sum, area []float64  // per outlet: travel summed over the area it drains [m3], and that area [m2]
	most      []farthest // per outlet
}

// leg is the way that water goes on from the lip of a pond: to the next pond or to an outlet.
type leg struct {
	known, open bool
	path        flow.Path
	next        int32   // pond that it comes to, -1 an outlet
	travel      float64 // of all the way to the outlet [m]
	outlet      int32   // where that ends, -1 not known
}

// measure fills in how far water travels, dry and with every pond full, and the longest ways.
func (v *travels) measure(c *Catchments) (err error) {
	for i := range c.Dry {
		if o := c.Dry[i].Outlet; o >= 0 {
			c.Dry[i].TravelMax, c.Dry[i].TravelMean = v.n.TravelMax[o], v.n.TravelMean[o]
		}
	}
	for i := range c.Full {
		if o := c.Full[i].Outlet; o >= 0 && v.area[o] > 0 {
			c.Full[i].TravelMax, c.Full[i].TravelMean = math.Max(0, v.most[o].travel), v.sum[o]/v.area[o]
		}
	}
	c.Longest, err = v.longest()
	return err
}

// newTravels measures travel. n is the dry network; nil where it is not known.
func (g *grouping) newTravels(n *flow.Network) (*travels, error) {
	m := g.outlets()
	v := &travels{g: g, s: g.s, n: n, sum: make([]float64, m), area: make([]float64, m), most: make([]farthest, m)}
	for o := range v.most {
		v.most[o] = farthest{pool: -1, travel: math.Inf(-1)}
	}
	wet := v.cut()
	v.s.Cut.Halt.Ask()
	var means [][]geodesic.Sum
	if wet || n == nil || !n.Measured() {
		var taken []int32
		if v.shore.Water != nil {
			taken = v.taken()
		}
		var err error
		atonce.Do(func() { err = v.trace(taken) }, func() { means = v.means() })
		if err != nil {
			return nil, err
		}
	}
	v.addDry()
	v.s.Cut.Halt.Ask()
	v.addWet(means)
	v.s.Cut.Halt.Ask()
	return v, nil
}

// cut cuts the roof along the shores of the full ponds, and reports whether any was cut.
func (v *travels) cut() bool {
	ponds := v.g.ponds.Ponds
	level := make([]float64, len(ponds))
	v.pools, v.legs, v.first = make([]*pool, len(ponds)), make([]leg, len(ponds)), make([]int32, len(ponds))
	for i := range ponds {
		level[i], v.first[i] = ponds[i].Level, int32(len(v.takers))
		if ponds[i].Undrained {
			continue
		}
		if len(v.g.held[i]) == 0 {
			v.takers = append(v.takers, taker{int32(i), -1, 0})
		}
		for k, o := range v.g.held[i] {
			v.takers = append(v.takers, taker{int32(i), o, k})
		}
	}
	wet := false
	of := make([]int32, len(v.g.ponds.Of))
	for x, p := range v.g.ponds.Of {
		of[x] = p
		if p >= 0 && ponds[p].Undrained {
			of[x] = -1
		}
		wet = wet || of[x] >= 0
	}
	if !wet {
		v.shore = &surface.Shore{TIN: v.g.s.Cut}
		return false
	}
	v.shore = surface.CutShores(v.g.s.Cut, of, level)
	s := *v.g.s
	s.Cut, s.Area = v.shore.TIN, s.Area+v.shore.Grown
	s.Outlets = append([]surface.Outlet(nil), s.Outlets...)
	for i := range s.Outlets { // the half-edges of its border have other numbers now
		old := s.Outlets[i].Edges
		s.Outlets[i].Edges = make([]int32, len(old))
		for k, e := range old {
			s.Outlets[i].Edges[k] = s.Cut.Out[v.g.s.Cut.V[e]]
		}
	}
	v.s = &s
	return true
}

// trace follows water over the roof to outlets and ponds, and over these on. taken is the label of every facet under water.
func (v *travels) trace(taken []int32) error {
	o := flow.Options{TravelOnly: true, Waters: len(v.takers), Shore: v.shore.Wet, Taken: taken}
	var err error
	if v.n, err = flow.Prepare(v.s, o); err != nil {
		return err
	}
	for i := range v.g.ponds.Ponds {
		v.s.Cut.Halt.Look()
		if err := v.follow(int32(i)); err != nil {
			return err
		}
	}
	return v.n.Finish(v.onward)
}

// pondsAtATime is how many ponds a worker takes at a time: most have a few facets.
const pondsAtATime = 16

// taken returns the label of every facet under water, -1 where dry, and makes the pools.
func (v *travels) taken() []int32 {
	m := int32(v.g.outlets())
	taken := make([]int32, len(v.shore.Water))
	v.within = make([]int32, len(v.shore.TIN.V))
	facets := make([][]int32, len(v.pools))
	for f, i := range v.shore.Water {
		taken[f] = -1
		if i < 0 {
			continue
		}
		facets[i] = append(facets[i], int32(f))
		taken[f] = m + v.first[i]
		if len(v.g.held[i]) > 1 {
			for k, o := range v.g.held[i] {
				if v.g.takenBy[v.shore.TIN.Parent[f]] == o {
					taken[f] += int32(k)
				}
			}
		}
	}
	atonce.Each(len(facets), pondsAtATime, func() func(from, to int) {
		return func(from, to int) {
			for i := from; i < to; i++ {
				if len(facets[i]) > 0 {
					v.s.Cut.Halt.Look()
					v.pools[i] = v.newPool(int32(i), facets[i])
				}
			}
		}
	})
	v.wet = make([]float64, len(v.takers))
	for f, l := range taken {
		if l >= 0 {
			v.wet[l-m] += v.shore.TIN.FacetArea(int32(f))
		}
	}
	return taken
}

// at returns the place of a vertex.
func (v *travels) at(x int32) orb.Point { return orb.Point{v.shore.TIN.X[x], v.shore.TIN.Y[x]} }

// takerOf returns the taker that a label stands for, false for outlets and pits.
func (v *travels) takerOf(l flow.Label) (taker, bool) {
	k := int(l) - v.g.outlets()
	if k < 0 || k >= len(v.takers) {
		return taker{}, false
	}
	return v.takers[k], true
}

// onward returns how far water goes on from where it comes to a pond.
func (v *travels) onward(l flow.Label, at flow.Landing) float64 {
	x, ok := v.takerOf(l)
	if !ok {
		return 0
	}
	d := 0.0
	if p := v.pools[x.pond]; p != nil {
		d = p.far(v.shore.TIN, x.place, at)
	}
	if x.outlet < 0 {
		d += v.legs[x.pond].travel
	}
	return d
}

// pondAt returns the pond that a way ends in, -1 for none.
func (v *travels) pondAt(l flow.Label) int32 {
	if x, ok := v.takerOf(l); ok {
		return x.pond
	}
	if e := v.n.Ends[l]; e.Pit >= 0 {
		return v.g.ponds.OfPit[e.Pit]
	}
	return -1
}

// follow finds the ways on from the lip of pond i and of all that it spills into.
func (v *travels) follow(i int32) error {
	var chain []int32
	for at := i; at >= 0 && !v.legs[at].known && v.g.ponds.Ponds[at].Lip >= 0; at = v.g.ponds.Ponds[at].ToPond {
		v.legs[at].known = true
		chain = append(chain, at)
	}
	for k := len(chain) - 1; k >= 0; k-- {
		if err := v.step(chain[k]); err != nil {
			return err
		}
	}
	return nil
}

// step finds the way on from the lip of pond i; that of the pond that it spills into is known.
func (v *travels) step(i int32) error {
	p, l := &v.g.ponds.Ponds[i], &v.legs[i]
	l.next, l.outlet = p.ToPond, v.g.end[i]
	path, ok, err := v.n.Spill(p.Lip, func(x flow.Path) bool {
		if x.Label == flow.Unlabelled {
			return false
		}
		if int(x.Label) < v.g.outlets() {
			return int32(x.Label) == p.ToOutlet
		}
		return p.ToPond >= 0 && v.pondAt(x.Label) == p.ToPond
	})
	if err != nil || !ok {
		return err
	}
	l.open, l.path, l.travel = true, path, path.Travel+v.onward(path.Label, path.Landing)
	x, isPool := v.takerOf(path.Label)
	switch {
	case isPool && x.outlet >= 0:
		l.outlet = x.outlet
	case l.next >= 0:
		l.outlet = v.ends(l.next)
		if !isPool {
			l.travel += v.pastFacets(l.next)
		}
	default:
		l.outlet = p.ToOutlet
	}
	return nil
}

// pastFacets returns how far water goes on from the lowest point of pond i, whose water is narrower than the grid and covers no facet: straight to the lip, and
// on from there.
func (v *travels) pastFacets(i int32) float64 {
	p := &v.g.ponds.Ponds[i]
	if p.Lip < 0 {
		return 0
	}
	return vector.Distance(v.at(p.Pits[0]), v.at(p.Lip)) + v.legs[i].travel
}

// ends returns the outlet that the water of pond i leaves by, the first of several; -1 for none.
func (v *travels) ends(i int32) int32 {
	p := &v.g.ponds.Ponds[i]
	if p.Lip >= 0 {
		return v.legs[i].outlet
	}
	return p.ToOutlet
}

// leaves returns the outlet that water of a label leaves by, and what its pond adds to the travel that the network knows;
// -1 for none.
func (v *travels) leaves(l flow.Label) (outlet int32, more float64) {
	if x, ok := v.takerOf(l); ok {
		if x.outlet >= 0 {
			return x.outlet, 0
		}
		return v.legs[x.pond].outlet, 0
	}
	e := v.n.Ends[l]
	if e.Outlet >= 0 {
		return e.Outlet, 0
	}
	i := v.g.ponds.OfPit[e.Pit]
	if i < 0 || v.g.ponds.Ponds[i].Undrained {
		return -1, 0
	}
	return v.ends(i), v.pastFacets(i)
}

// addDry adds the ways that begin on the dry roof.
func (v *travels) addDry() {
	for l := range v.n.Ends {
		o, more := v.leaves(flow.Label(l))
		if o < 0 {
			continue
		}
		v.sum[o] += float64(v.n.Area[l] * (v.n.TravelMean[l] + more))
		v.area[o] += v.n.Area[l]
		if v.n.Farthest[l].Facet >= 0 {
			v.longer(o, farthest{travel: v.n.TravelMax[l] + more, place: v.n.Farthest[l], pool: -1})
		}
	}
}

// longer keeps the longest way of outlet o; of equals the first.
func (v *travels) longer(o int32, x farthest) {
	if x.travel > v.most[o].travel+1e-9 {
		v.most[o] = x
	}
}
