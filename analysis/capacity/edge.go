package capacity

import (
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// edgeOf returns the law of a level edge that water falls off: a weir as long as the edge, without contraction. The lower figure beside is that of a broad crest.
func edgeOf(f Fitting, method string) *Rating {
	broad := broadOf(f)
	if method == BroadCrested {
		return broad
	}
	broad.Note = joined(flush, broad.Note)
	return &Rating{
		Method: SharpCrested, Source: standard.ScupperSource,
		Note: "a level edge; " + standard.FreeEdgeSource.Text,
		Low:  float64(quantity.Inch) / 4, High: standard.ScupperHighHeadInches * float64(quantity.Inch),
		Lower: broad,
		law:   sharpWeir(f.Width),
	}
}
