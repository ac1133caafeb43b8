package standard_test

import (
	"testing"

	"runnel/analysis/standard"
)

// Figures of the trade in SI, by NIST SP 811: 1 ft = 0.3048 m, 1 in = 25.4 mm, 1 lbf/ft2 = 47.88026 Pa, R-1 = 0.1761102 m2 K/W. What each is by words stands beside it; where it was read or that it is common practice or an own choice, beside the constant.
func TestFiguresInMetres(t *testing.T) {
	const foot, inch, psf, r = 0.3048, 0.0254, 47.88026, 0.1761102
	for what, c := range map[string][2]float64{
		"board, 4 ft along the fall":             {standard.BoardLength, 4 * foot},
		"board, 4 ft wide":                       {standard.BoardWidth, 4 * foot},
		"thin edge, 1/2 in":                      {standard.BoardThinEdge, inch / 2},
		"thickest board, 4 1/2 in":               {standard.BoardThickest, 4.5 * inch},
		"flat boards by 1/2 in":                  {standard.BoardFillStep, inch / 2},
		"waste, a twentieth":                     {standard.BoardWaste, 0.05},
		"board foot, 144 cubic inches":           {standard.BoardFoot, 144 * inch * inch * inch},
		"new work, 1/4 in per ft":                {standard.MinSlopeNew, 0.25 / 12},
		"as found, 1/8 in per ft":                {standard.MinSlopeFound, 0.125 / 12},
		"pond, 1/4 in":                           {standard.PondDepth, inch / 4},
		"wide pond, 1/8 in":                      {standard.PondDepthWide, inch / 8},
		"wide, 100 ft2":                          {standard.WideArea, 100 * foot * foot},
		"near an outlet, 2 ft":                   {standard.NearOutlet, 2 * foot},
		"contours, 1 in":                         {standard.Contour, inch},
		"contours, 25 mm":                        {standard.ContourMetric, 0.025},
		"bowl, 12 in":                            {float64(standard.Bowl), 12 * inch},
		"scupper, 8 in":                          {float64(standard.ScupperWidth), 8 * inch},
		"new work in Europe, 1 in 40":            {standard.MinSlopeNewEU, 0.025},
		"as found in Europe, 1 in 80":            {standard.MinSlopeFoundEU, 0.0125},
		"valleys in Europe, 1 in 100":            {standard.MinValleySlopeEU, 0.01},
		"core by a tube, 1/4 in":                 {standard.TubeError, inch / 4},
		"core by hand, 1/8 in":                   {standard.HandError, inch / 8},
		"flute, 1 1/2 in":                        {standard.FluteDepth, 1.5 * inch},
		"films of air, R-0.78":                   {float64(standard.AirFilms), 0.78 * r},
		"wet from a fifth less":                  {standard.WetShare, 0.8},
		"varies by 1 in":                         {standard.VariesBy, inch},
		"average R, from R-5":                    {float64(standard.AverageStepsLeast), 5 * r},
		"average R, to 1/4 in per ft":            {standard.AverageStepsSlope, 0.25 / 12},
		"bay, 1/4 in per ft":                     {standard.BaySlope, 0.25 / 12},
		"bay along an edge, 1 in per ft":         {standard.BaySlopeParallel, 1.0 / 12},
		"span over spacing, 16":                  {standard.BaySpanRatio, 16},
		"bands of load, 1 in":                    {standard.LoadBand, inch},
		"bands of load, 25 mm":                   {standard.LoadBandMetric, 0.025},
		"live load, 20 psf":                      {standard.RoofLiveLoad, 20 * psf},
		"absurd rain, 40 in an hour":             {standard.AbsurdRate, 40 * inch / 3600},
		"spots, 10 ft apart":                     {standard.SurveySpacing, 10 * foot},
		"usual error, 5 mm":                      {standard.UsualError, 0.005},
		"level, 3 mm":                            {standard.LevelError, 0.003},
		"least error, 1 mm":                      {standard.LeastError, 0.001},
		"95 %, one side":                         {standard.SureError, 1.644853627},
		"95 %, both sides":                       {standard.SureChange, 1.959963985},
		"median of normal errors":                {standard.MedianError, 0.674489750},
		"low slope, 2 in 12":                     {standard.LowSlope, 2.0 / 12},
		"overlay, 1/2 in":                        {standard.OverlayThickness, inch / 2},
		"on the deck, 1 in":                      {standard.DeckThickness, inch},
		"sump, 4 ft":                             {standard.SumpWidth, 4 * foot},
		"widest sump, 8 ft":                      {standard.SumpWidest, 8 * foot},
		"steepest sump, 1 in per ft":             {standard.SumpSteepest, 1.0 / 12},
		"sump, 1/2 in per ft":                    {standard.SumpRate, 0.5 / 12},
		"cricket, twice the field":               {standard.CricketTimes, 2},
		"ring of a sump, 6 in":                   {standard.SumpRing, 6 * inch},
		"edge strip, 12 in":                      {standard.SumpEdge, 12 * inch},
		"a board's side, 4 ft":                   {standard.Board, 4 * foot},
		"strip-in, 6 in":                         {standard.StripIn, 6 * inch},
		"left at an outlet, 3 in":                {standard.InsulationLeft, 3 * inch},
		"local, a twentieth":                     {standard.LocalShare, 0.05},
		"local in any case, 15 m2":               {standard.LocalArea, 15},
		"cut to measure, 30 m2 at most":          {standard.ToMeasure, 30},
		"feather, 5 mm":                          {standard.ThinFeather, 0.005},
		"feather, 10 m2":                         {standard.WideFeather, 10},
		"outlet, 2 ft clear":                     {standard.OutletClear, 2 * foot},
		"edge, 6 ft clear":                       {standard.EdgeClear, 6 * foot},
		"mid bay, 25 ft":                         {standard.MidBay, 25 * foot},
		"new drain, 4 in":                        {standard.NewDrain, 4 * inch},
		"dry after 48 hours":                     {standard.DryAfter, 48},
		"dries 5 mm a day":                       {standard.DryingRate, 0.005 / 24},
		"stain, 5 mm":                            {standard.StainLeast, 0.005},
		"bedding, 3 mm":                          {standard.LevelWithin, 0.003},
		"leveller, 4.4 kPa a metre":              {standard.LevellerWeight, 4400},
		"new scupper, 4 in high":                 {standard.NewScupperHeight, 4 * inch},
		"an inlet, to 1/2 in":                    {standard.InletTolerance, inch / 2},
		"overflow area, three times":             {standard.OverflowTimes, 3},
		"walls, half of the face":                {standard.WallShareHalf, 0.5},
		"walls, 35 %":                            {standard.WallShareAdjoining, 0.35},
		"walls, a quarter":                       {standard.WallShareQuarter, 0.25},
		"sharp crest by Francis, 3.33 (ft, s)":   {standard.FrancisWeir, 3.33},
		"each end of it, a tenth of the head":    {standard.FrancisEnd, 0.1},
		"broad crest, 2.63 (ft, s)":              {standard.BroadCrest, 2.63},
		"orifice, 0.6":                           {standard.OrificeNumber, 0.6},
		"scupper, 2.9 b h^1.5 (gpm, in)":         {standard.ScupperWeir, 2.9},
		"full scupper, 4.3 (gpm, in)":            {standard.ScupperOrifice, 4.3},
		"an inch of water, 5.2 psf":              {standard.RainLoadInch, 5.2},
		"a millimetre of water, 0.0098 kPa":      {standard.RainLoadMillimetre, 0.0098},
		"water, 1000 kg/m3":                      {standard.WaterDensity, 1000},
		"gravity, 9.80665 m/s2":                  {standard.Gravity, 9.80665},
		"sheets of half an hour":                 {standard.ScsStep, 1800},
		"half clogged, half of the flow":         {standard.HalfClogged, 0.5},
		"strained, half":                         {standard.OutletStrained, 0.5},
		"unstrained, whole":                      {standard.OutletOpen, 1},
		"risk of a change that is none, 1 in 20": {standard.ChangeRisk, 0.05},
	} {
		if got, want := c[0], c[1]; !(got/want-1 <= 1e-6) || !(got/want-1 >= -1e-6) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	if standard.NextSpots != 8 || standard.TwoRoofs != 2 {
		t.Errorf("%d next spots, %d coverings", standard.NextSpots, standard.TwoRoofs)
	}
}

// Average R that equals an even R, as the Washington State Energy Code printed it for tapered roofs (earlier form of its tables; read).
func TestAverageStepsAsPrinted(t *testing.T) {
	want := [][2]float64{{10, 12}, {15, 20}, {20, 29}, {25, 39}, {30, 50}}
	if len(standard.AverageSteps) != len(want) {
		t.Fatalf("%d steps", len(standard.AverageSteps))
	}
	for i, s := range standard.AverageSteps {
		if s.Even != want[i][0] || s.Average != want[i][1] {
			t.Errorf("an even R-%g is an average R-%g, want R-%g and R-%g", s.Even, s.Average, want[i][0], want[i][1])
		}
	}
}
