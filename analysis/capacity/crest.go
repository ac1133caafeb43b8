package capacity

import (
	"sort"

	"runnel/analysis/gather"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// broadOf returns the law of a broad crest, open above, as wide as the fitting. Where the breadth of the crest along
// the flow is not stated it is taken as much broader than the head.
func broadOf(f Fitting) *Rating {
	r := &Rating{Method: BroadCrested, Source: standard.BroadCrestSource}
	if f.CrestBreadth == 0 {
		r.Note = "the breadth of the crest is not stated: 2.63 (feet, seconds), for a head under half of it"
		r.law = func(head float64) float64 { return WeirFlow(standard.BroadCrest*footWeir, float64(f.Width), head) }
		return r
	}
	heads, breadths := standard.CrestHeadsFeet, standard.CrestBreadthsFeet
	r.Low = heads[0] * float64(quantity.Foot)
	r.High = heads[len(heads)-1] * float64(quantity.Foot)
	r.outside = quantity.InRange("breadth of the crest", f.CrestBreadth,
		quantity.Length(breadths[0])*quantity.Foot, quantity.Length(breadths[len(breadths)-1])*quantity.Foot)
	column := crestColumn(feet(float64(f.CrestBreadth)))
	r.law = func(head float64) float64 {
		return WeirFlow(between(heads, column, feet(head))*footWeir, float64(f.Width), head)
	}
	return r
}

// crestColumn returns the coefficients [ft^0.5/s] of a broad crest of a breadth along the flow [ft], at
// standard.CrestHeadsFeet: between the breadths of the table in proportion, outside them the nearest.
// Source: standard.BroadCrestSource.
func crestColumn(breadth float64) []float64 {
	return gather.Each(standard.CrestCoefficients, func(row []float64) float64 { return between(standard.CrestBreadthsFeet, row, breadth) })
}

// between interpolates y at x in proportion; xs rise. Outside them it is the nearest y.
func between(xs, ys []float64, x float64) float64 {
	last := len(xs) - 1
	if x <= xs[0] {
		return ys[0]
	}
	if x >= xs[last] {
		return ys[last]
	}
	i := sort.SearchFloat64s(xs, x)
	return ys[i-1] + float64((ys[i]-ys[i-1])*((x-xs[i-1])/(xs[i]-xs[i-1])))
}
