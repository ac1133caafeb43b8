package standard

// HeadFlow is one row of a table of flow against head, as printed.
type HeadFlow struct {
	HeadInches []float64
	FlowGPM    []float64
}

// ScupperRow is a scupper of one width and opening of ScupperTestSource.
type ScupperRow struct {
	WidthInches   float64
	OpeningInches float64 // 0: a channel, open above
	HeadFlow
}

// ScupperRows are the scuppers that were tabulated. Flow goes linearly with head, and with width between the two.
var ScupperRows = []ScupperRow{
	{6, 0, HeadFlow{[]float64{1, 2, 3, 4, 5, 7, 8}, []float64{18, 50, 90, 140, 194, 321, 393}}},
	{24, 0, HeadFlow{[]float64{1, 2, 3, 4, 5, 7, 8}, []float64{72, 200, 360, 560, 776, 1284, 1572}}},
	{6, 4, HeadFlow{[]float64{1, 2, 3, 4, 5, 7, 8}, []float64{18, 50, 90, 140, 177, 231, 253}}},
	{24, 4, HeadFlow{[]float64{1, 2, 3, 4, 5, 7, 8}, []float64{72, 200, 360, 560, 708, 924, 1012}}},
	{6, 6, HeadFlow{[]float64{1, 2, 3, 4, 5, 7, 8}, []float64{18, 50, 90, 140, 194, 303, 343}}},
	{24, 6, HeadFlow{[]float64{1, 2, 3, 4, 5, 7, 8}, []float64{72, 200, 360, 560, 776, 1212, 1372}}},
}

// Range of the tests: heads of ScupperRows, and widths of that table and of the table of areas that agrees with it.
const (
	ScupperLowHeadInches   = 1
	ScupperHighHeadInches  = 8
	ScupperLowWidthInches  = 4
	ScupperHighWidthInches = 24
)
