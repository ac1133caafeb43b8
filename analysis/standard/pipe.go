package standard

// PipeRow is a round storm drain of one size, as printed: gallons a minute, vertical and at the slopes of PipeSlopes.
type PipeRow struct {
	DiameterInches float64
	VerticalGPM    float64
	SlopedGPM      []float64
}

// PipeSlopes are the slopes of PipeRows, rise over run: 1/16, 1/8, 1/4 and 1/2 in per ft.
var PipeSlopes = []float64{1.0 / 192, 1.0 / 96, 1.0 / 48, 1.0 / 24}

// PipeRows are the pipes of PipeSource. The 5 in pipe is out of line with its neighbours in the source.
var PipeRows = []PipeRow{
	{2, 34, []float64{15, 22, 31, 44}},
	{3, 87, []float64{39, 55, 79, 111}},
	{4, 180, []float64{81, 115, 163, 231}},
	{5, 311, []float64{117, 165, 234, 331}},
	{6, 538, []float64{243, 344, 487, 689}},
	{8, 1117, []float64{505, 714, 1010, 1429}},
	{10, 2050, []float64{927, 1311, 1855, 2623}},
	{12, 3272, []float64{1480, 2093, 2960, 4187}},
	{15, 5543, []float64{2508, 3546, 5016, 7093}},
}

// LeaderRow is a vertical leader of one size: round where DepthInches is 0.
type LeaderRow struct {
	WidthInches, DepthInches float64
	FlowGPM                  float64
	Read                     bool
}

// LeaderRows are the leaders of LeaderSource.
var LeaderRows = []LeaderRow{
	{2, 0, 30, true},
	{2, 2, 30, false},
	{1.5, 2.5, 30, false},
	{2.5, 0, 54, false},
	{2.5, 2.5, 54, false},
	{3, 0, 92, true},
	{2, 4, 92, false},
	{2.5, 3, 92, false},
	{4, 0, 192, true},
	{3, 4.25, 192, false},
	{3.5, 4, 192, false},
	{5, 0, 360, true},
	{4, 5, 360, false},
	{4.5, 4.5, 360, false},
	{6, 0, 563, true},
	{5, 6, 563, false},
	{5.5, 5.5, 563, false},
	{8, 0, 1208, true},
	{6, 8, 1208, false},
}

// AreaRow is what a pipe drains at 1 in/h in the older tables of areas.
type AreaRow struct {
	DiameterInches float64
	SquareFeet     float64
	Read           bool
}

// SlopedAreaRows are the pipes of SlopedAreaSource at each of SlopedAreaSlopes; LeaderAreaRows the leaders of LeaderAreaSource.
var (
	SlopedAreaSlopes = []float64{1.0 / 96, 1.0 / 48, 1.0 / 24}
	SlopedAreaRows   = [][]AreaRow{
		{{3, 3288, false}, {4, 7520, false}, {5, 13360, false}, {6, 21400, true}, {8, 46000, false}, {10, 82800, false}, {12, 133200, false}, {15, 218000, false}},
		{{3, 4640, false}, {4, 10600, true}, {5, 18880, true}, {6, 30200, false}, {8, 65200, false}, {10, 116800, false}, {12, 188000, false}, {15, 336000, false}},
		{{3, 6576, false}, {4, 15040, false}, {5, 26720, false}, {6, 42800, false}, {8, 92000, false}, {10, 165600, false}, {15, 476000, false}},
	}
	LeaderAreaRows = []AreaRow{{2, 2880, false}, {3, 8800, false}, {4, 18400, false}, {5, 34600, false}, {6, 54000, false}, {8, 116000, false}}
)

// Coefficients of the laws of pipes.
const (
	// AnnularFlow is 27.8 in Q = 27.8 r^(5/3) d^(8/3), gallons a minute and inches: a vertical leader whose section is
	// filled to the share r by water on its wall.
	AnnularFlow = 27.8
	// AnnularFill is the share of LeaderFillSource.
	AnnularFill = 7.0 / 24
	// Coefficients of Q = 2.5e-4 kb^-0.167 d^2.667 f^1.667, millimetres and litres a second, for a vertical rainwater pipe.
	RainwaterPipe      = 2.5e-4
	RainwaterRoughness = 0.25
	RainwaterFill      = 0.33
	// Horizontal rainwater pipes inside a building run 0.7 full; roughness [m] and kinematic viscosity of water at 10 degrees Celsius [m2/s] of RainwaterDrainSource.
	RainwaterDrainFill      = 0.7
	RainwaterDrainRoughness = 0.001
	WaterViscosity          = 1.31e-6
)

// Sources of the tables and laws of pipes.
var (
	PipeSource           = Source{"International Plumbing Code, 2015 to 2021, Table 1106.2", true}
	LeaderSource         = Source{"International Plumbing Code, 2015 to 2021, Table 1106.3: round leaders of 2, 3, 4, 5, 6 and 8 in", true}
	LeaderRectSource     = Source{"International Plumbing Code, 2015 to 2021, Table 1106.3: rectangular leaders and the round one of 2-1/2 in", false}
	LeaderFillSource     = Source{"27.8 r^(5/3) d^(8/3) for a leader 7/24 full (recalled); gives all nine capacities of the National Standard Plumbing Code 2006, Table 13.6.1 (read)", false}
	SlopedAreaSource     = Source{"International Plumbing Code before 2015 and Uniform Plumbing Code: areas at 1 in/h of sloped pipes; 6 in at 1/8, 4 and 5 in at 1/4 in per ft read", false}
	LeaderAreaSource     = Source{"International Plumbing Code, 2000 to 2012, Table 1106.2: areas at 1 in/h of vertical leaders", false}
	RainwaterSource      = Source{"EN 12056-3, Table 8: vertical rainwater pipes, roughness 0.25 mm, 0.33 full", false}
	RainwaterDrainSource = Source{"EN 12056-3 for horizontal pipes, 0.7 full, by Colebrook and White with a roughness of 1 mm; EN 12056-2, Table B.2, has the same flows", false}
)
