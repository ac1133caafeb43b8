package capacity

import (
	"math"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// sameSize is how much smaller than a size of a table a pipe may be and still count as that size: DN 100 is a 4 in pipe.
const sameSize = 2 * quantity.Millimetre

// drainOf returns the law of a roof drain with a strainer. With a dam of a stated diameter, the head is over the dam's
// rim, and the flow is the lesser of the weir over that rim and of the drain under it.
func drainOf(f Fitting, method string) *Rating {
	row := drainRow(f.Diameter)
	var r *Rating
	if method == WeirOrifice || f.Method == "" && row == nil {
		r = openingOf(f.Diameter, standard.OutletStrained)
		r.Source, r.Note = standard.StrainerSource, "a law, not a test, for an outlet with a strainer"
	} else {
		r = tabledDrain(f.Diameter, row)
	}
	switch {
	case f.DamDiameter > 0:
		r = dammed(r, f)
	case f.DamHeight > 0:
		r.Unknown = append(r.Unknown, "diameter of the dam")
	}
	r.Clogged = r.clogged()
	return r
}

// drainRow returns the largest drain of the table that is not larger than the diameter, nil if all are.
func drainRow(diameter quantity.Length) *standard.DrainRow {
	var found *standard.DrainRow
	for i := range standard.DrainRows {
		if quantity.Length(standard.DrainRows[i].DiameterInches)*quantity.Inch <= diameter+sameSize {
			found = &standard.DrainRows[i]
		}
	}
	return found
}

// tabledDrain returns the law that interpolates the tests. Under the least head tested it is a weir; over the greatest,
// where the drain runs full, it stays level. row is nil for a drain under the least size: then the least stands for it.
func tabledDrain(diameter quantity.Length, row *standard.DrainRow) *Rating {
	r := &Rating{Method: Table, Source: standard.DrainSource}
	if row == nil {
		row = &standard.DrainRows[0]
		r.outside = quantity.InRange("diameter", diameter, quantity.Length(row.DiameterInches)*quantity.Inch, 0)
	}
	if size := quantity.Length(row.DiameterInches) * quantity.Inch; diameter > size+sameSize {
		r.Note = "the size is not tabulated: the next smaller, " + inchText(size) + ", stands for it"
	}
	last := len(row.HeadInches) - 1
	r.Low = row.HeadInches[0] * float64(quantity.Inch)
	r.High = row.HeadInches[last] * float64(quantity.Inch)
	law := tested(row.HeadInches, row.FlowGPM, 0)
	r.law = func(head float64) float64 { return law(min(head, r.High)) }
	return r
}

// openingOf returns the law of a round opening in a level floor; k is 1 where it is open, less with a strainer.
func openingOf(diameter quantity.Length, k float64) *Rating {
	r := &Rating{Method: WeirOrifice, Source: standard.OutletSource, Note: "a law, not a test"}
	r.law = openingLaw(diameter, k)
	return r
}

// openingLaw returns the flow into a round opening of a level floor: a weir over its rim up to a head of half of its
// diameter, an orifice above; both meet there.
// Source: standard.OutletSource, standard.StrainerSource.
func openingLaw(diameter quantity.Length, k float64) func(head float64) float64 {
	d := millimetres(float64(diameter))
	return func(head float64) float64 {
		h := millimetres(head)
		if h <= d/2 {
			return litresPerSecond(k * d * threeHalves(h) / standard.OutletWeir)
		}
		return litresPerSecond(k * d * d * math.Sqrt(h) / standard.OutletOrifice)
	}
}

// dammed returns the law of a drain behind a dam.
func dammed(under *Rating, f Fitting) *Rating {
	r := *under
	rim := openingLaw(f.DamDiameter, standard.OutletOpen)
	drain := under.law
	height := float64(f.DamHeight)
	r.law = func(head float64) float64 { return min(rim(head), drain(head+height)) }
	r.Low, r.High = 0, 0
	r.Note = joined(under.Note, "weir over the dam ("+standard.OutletSource.Text+", a law, not a test) and the drain under it, the lesser of both")
	if height == 0 {
		r.Note = joined(r.Note, "height of the dam not stated: the drain is rated as if it had none")
	}
	return &r
}

// joined puts two notes into one.
func joined(a, b string) string { return choose.If(a == "", b, a+"; "+b) }
