package drainage

import (
	"math"

	"runnel/analysis/capacity"
	"runnel/analysis/catchment"
	"runnel/analysis/gather"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// mostHead is the greatest head that is looked at [m]: no roof holds more water.
const mostHead = 3.0

// together shares the flow of outlets that hold one water by their laws: the water stands at one level for all of them.
// Where the law of one is not known, each keeps the flow of its own area.
func (d *Drainage) together(outlets []surface.Outlet, v *view, duty roof.Duty) {
	list := v.c.Shares
	for start := 0; start < len(list); {
		end := start
		for end < len(list) && list[end].Pond == list[start].Pond {
			end++
		}
		if in := v.holders(outlets, list[start:end], duty); len(in) > 1 {
			d.level(outlets, in)
		}
		start = end
	}
}

// holders returns the outlets of a duty among those that share a pond.
func (v *view) holders(outlets []surface.Outlet, shares []catchment.Share, duty roof.Duty) []int32 {
	var in []int32
	for i := range shares {
		if o := v.whole(shares[i].Outlet); outlets[o].Duty == duty {
			in = append(in, o)
		}
	}
	return in
}

// level finds the level at which some outlets together take what comes to them, and gives each the flow that it takes
// there; where they do not take it at any head, each as much of it as its part of the most that they take.
func (d *Drainage) level(outlets []surface.Outlet, in []int32) {
	flow, base := 0.0, math.Inf(1)
	for _, o := range in {
		if d.Outlets[o].Rating == nil {
			return
		}
		flow += d.Outlets[o].Demand
		base = math.Min(base, outlets[o].Invert)
	}
	takes := func(o int32, head float64) float64 { return d.Outlets[o].Rating.Flow(head + base - outlets[o].Invert) }
	all := func(head float64) float64 {
		return gather.Sum(in, func(o int32) float64 { return takes(o, head) })
	}
	high := capacity.LeastHead(0, mostHead, flow, all)
	sum := all(high)
	if sum <= 0 {
		return
	}
	for _, o := range in {
		d.Outlets[o].Demand = flow * (takes(o, high) / sum)
	}
}
