package capacity_test

// Figures of published tables, without their layout or notes. Each says where it stands and whether it was read.

// nspcAreas are areas [ft2] that a vertical leader of a diameter [in] drains at 1, 2 ... 12 in/h: National Standard
// Plumbing Code 2006, Table 13.6.1 (read).
var nspcAreas = []struct {
	diameter float64
	areas    []float64
}{
	{2, []float64{2180, 1090, 727, 545, 436, 363, 311, 272, 242, 218, 198, 182}},
	{3, []float64{6426, 3213, 2142, 1607, 1285, 1071, 918, 803, 714, 643, 584, 536}},
	{4, []float64{13840, 6920, 4613, 3460, 2768, 2307, 1977, 1730, 1538, 1384, 1258, 1153}},
	{5, []float64{25094, 12547, 8365, 6273, 5019, 4182, 3585, 3137, 2788, 2509, 2281, 2091}},
	{6, []float64{40805, 20402, 13602, 10201, 8161, 6801, 5829, 5101, 4534, 4080, 3710, 3400}},
	{8, []float64{87878, 43939, 29293, 21970, 17576, 14646, 12554, 10985, 9764, 8788, 7989, 7323}},
	{10, []float64{159334, 79667, 53111, 39834, 31867, 26556, 22762, 19917, 17704, 15933, 14485, 13277}},
	{12, []float64{259095, 129548, 86365, 64774, 51819, 43183, 37014, 32387, 28788, 25910, 23554, 21591}},
	{15, []float64{469771, 234886, 156590, 117443, 93954, 78295, 67110, 58721, 52197, 46977, 42706, 39146}},
}

// upcAreas are the same at 1 to 6 in/h: Uniform Plumbing Code 2000, as reprinted in a university bulletin (read).
var upcAreas = []struct {
	diameter float64
	areas    []float64
}{
	{2, []float64{2176, 1088, 725, 544, 435, 363}},
	{3, []float64{6440, 3220, 2147, 1610, 1288, 1073}},
	{4, []float64{13840, 6920, 4613, 3460, 2768, 2307}},
	{5, []float64{25120, 12560, 8373, 6280, 5024, 4187}},
	{6, []float64{40800, 20400, 13600, 10200, 8160, 6800}},
	{8, []float64{88000, 44000, 29333, 22000, 17600, 14667}},
}

// nspcFlows are the flows [gpm] of the same leaders, as both tables print them (read).
var nspcFlows = map[float64]float64{2: 23, 3: 67, 4: 144, 5: 261, 6: 424, 8: 913, 10: 1655, 12: 2692, 15: 4880}

// francisFlows are flows [gpm] over a contracted weir of a crest [ft], at heads of 1/4, 1/2 ... in: a public table of the
// Francis formula (flows read; its column of heads was lost and is inferred from the formula it prints). 0 stands for a
// misprint, which repeats the figure of another head.
var francisFlows = []struct {
	crest float64
	flows []float64
}{
	{1, []float64{4.5, 12.8, 23.4, 35.4, 49.5, 64.9, 81, 98.5, 117, 136, 157, 178, 200, 222, 245, 269, 294, 318, 344, 370, 396, 422, 449, 477}},
	{3, []float64{13.4, 38.2, 70.2, 108, 150, 197, 248, 302, 361, 422, 485, 552, 624, 695, 769, 846, 925, 1006, 1091, 1175, 1262, 1352, 1442, 1535, 1632, 1742, 1826, 1928}},
	{5, []float64{22.4, 63.8, 117, 180, 250, 330, 415, 506, 605, 706, 815, 926, 1047, 1167, 1292, 1424, 1559, 1696, 1835, 1985, 2130, 0, 2440, 2600, 2760, 2920, 3094, 3260}},
}

// scupperAreas are areas [ft2] that a scupper of a width [in] drains at 5 in/h with heads of 1, 2, 3 and 4 in: a public
// design table (read).
var scupperAreas = []struct {
	width float64
	areas []float64
}{
	{4, []float64{230, 641, 1153, 1794}},
	{6, []float64{346, 961, 1730, 2692}},
	{8, []float64{461, 1282, 2307, 3589}},
	{12, []float64{692, 1923, 3461, 5384}},
	{16, []float64{923, 2564, 4615, 7179}},
	{20, []float64{1153, 3205, 5769, 8974}},
	{24, []float64{1384, 3846, 6923, 10769}},
}

// rainwaterPipes are capacities [L/s] of vertical pipes by inner diameter [mm], 0.33 full: EN 12056-3, Table 8 (recalled).
var rainwaterPipes = [][2]float64{
	{50, 1.7},
	{55, 2.2},
	{60, 2.7},
	{65, 3.4},
	{70, 4.1},
	{75, 5.0},
	{80, 5.9},
	{85, 6.9},
	{90, 8.1},
	{95, 9.3},
	{100, 10.7},
	{110, 13.8},
	{120, 17.4},
	{130, 21.6},
	{140, 26.3},
	{150, 31.6},
	{160, 37.5},
	{170, 44.1},
	{180, 51.4},
	{190, 59.3},
	{200, 68.0},
	{220, 87.7},
	{240, 110.6},
	{260, 137.0},
	{280, 166.9},
	{300, 200.6},
}
