package standard

import "runnel/analysis/quantity"

// Default criteria. Their sources are in Cite.
const (
	MinSlopeNew    = 1.0 / 48 // 1/4 in per ft
	MinSlopeFound  = 1.0 / 96 // 1/8 in per ft
	MinValleySlope = 1.0 / 96 // 1/8 in per ft
	PondDepth      = float64(quantity.Inch) / 4
	PondDepthWide  = float64(quantity.Inch) / 8
	WideArea       = 100 * quantity.SquareFoot
	NearOutlet     = 2 * float64(quantity.Foot)
	Contour        = float64(quantity.Inch)
	ContourMetric  = 25 * float64(quantity.Millimetre) // where results are written in SI
)

// Sizes of outlets that nobody measured. Their sources are in Cite.
const (
	Bowl         = 12 * quantity.Inch // plan diameter over which a drain takes water
	ScupperWidth = 8 * quantity.Inch
)

// Defaults returns the criteria that hold where nobody states others.
func Defaults() Criteria {
	return Criteria{
		MinSlope:       MinSlopeFound,
		MinSlopeNew:    MinSlopeNew,
		MinValleySlope: MinValleySlope,
		PondDepth:      PondDepth,
		PondDepthWide:  PondDepthWide,
		WideArea:       WideArea,
		NearOutlet:     NearOutlet,
		Contour:        Contour,
	}
}
