package capacity

import (
	"fmt"
	"math"

	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// scupperOf returns the law of a scupper. The lower figure beside is that of a broad crest, since the floor of a
// scupper lies flush with the roof: the water has no drop in front of it, which the sharp-crested law counts on.
func scupperOf(f Fitting, method string) (*Rating, error) {
	r, err := scupperBy(f, method)
	if err != nil || method == BroadCrested || f.SharpEdge {
		return r, err
	}
	r.Lower, err = scupperBy(f, BroadCrested)
	r.Lower.Note = joined(flush, r.Lower.Note)
	return r, err
}

// flush says where the lower figure holds.
const flush = "holds where the floor lies flush with the roof"

func scupperBy(f Fitting, method string) (*Rating, error) {
	switch method {
	case BroadCrested:
		r := broadOf(f)
		r.law = closed(f, r.law)
		return r, nil
	case Francis:
		return francisOf(f), nil
	case Table:
		return tabledScupper(f)
	}
	r := &Rating{
		Method: SharpCrested, Source: standard.ScupperSource,
		Low:  standard.ScupperLowHeadInches * float64(quantity.Inch),
		High: standard.ScupperHighHeadInches * float64(quantity.Inch),
	}
	r.outside = quantity.InRange("width", f.Width, standard.ScupperLowWidthInches*quantity.Inch, standard.ScupperHighWidthInches*quantity.Inch)
	r.law = closed(f, sharpWeir(f.Width))
	return r, nil
}

// closed bounds the law of an open weir by the opening's height: a weir while the water is below the top, then the
// lesser of the weir carried on and the orifice. The two do not meet at the top (at H = h the orifice gives 4.8 % more
// than 2.9 b H^1.5); carrying the weir on to where they cross, 1.09 h for those two, leaves no jump and never more than
// either. That choice is runnel's own; others lower the weir's coefficient until they meet at the top.
func closed(f Fitting, weir func(float64) float64) func(float64) float64 {
	if f.OpeningHeight == 0 {
		return weir
	}
	h := float64(f.OpeningHeight)
	orifice := closedOrifice(f.Width, f.OpeningHeight)
	return func(head float64) float64 {
		if head <= h {
			return weir(head)
		}
		return min(weir(head), orifice(head))
	}
}

// francisOf returns the law of a weir with two end contractions.
func francisOf(f Fitting) *Rating {
	r := &Rating{
		Method: Francis, Source: standard.FrancisSource, High: float64(f.Width) / 4,
		Note: "stated for a crest of 4 to 8 times the head; a published table uses it from 1/4 in",
		Low:  float64(quantity.Inch) / 4,
	}
	r.law = closed(f, contractedWeir(f.Width, 2))
	return r
}

// tabledScupper returns the law that interpolates the tests. Under the least head tested it is a weir, over the
// greatest a weir or an orifice, through the last figure.
func tabledScupper(f Fitting) (*Rating, error) {
	var rows []standard.ScupperRow
	for _, row := range standard.ScupperRows {
		if math.Abs(row.OpeningInches-inches(float64(f.OpeningHeight))) < 0.05 {
			rows = append(rows, row)
		}
	}
	if len(rows) != 2 {
		return nil, fmt.Errorf("the table of scuppers has openings 4 in and 6 in high, and open ones: use %s", SharpCrested)
	}
	narrow, wide := rows[0], rows[1]
	r := &Rating{
		Method: Table, Source: standard.ScupperTestSource,
		Low:  standard.ScupperLowHeadInches * float64(quantity.Inch),
		High: standard.ScupperHighHeadInches * float64(quantity.Inch),
		outside: quantity.InRange("width", f.Width,
			quantity.Length(narrow.WidthInches)*quantity.Inch, quantity.Length(wide.WidthInches)*quantity.Inch),
	}
	b := inches(float64(f.Width))
	flows := make([]float64, len(narrow.FlowGPM))
	for i := range flows {
		// Both rows give the same flow per inch of width, so one line runs through both and through none at no width.
		flows[i] = narrow.FlowGPM[i] + float64((wide.FlowGPM[i]-narrow.FlowGPM[i])*(b-narrow.WidthInches)/(wide.WidthInches-narrow.WidthInches))
	}
	r.law = tested(narrow.HeadInches, flows, inches(float64(f.OpeningHeight)))
	return r, nil
}
