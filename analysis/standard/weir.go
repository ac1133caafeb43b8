package standard

// Coefficients of weirs and orifices, as printed: feet and seconds unless said.
const (
	// ScupperWeir is 2.9 in Q = 2.9 b H^1.5, gallons a minute and inches: a scupper open above, or closed and not full.
	ScupperWeir = 2.9
	// ScupperOrifice is 4.3 in Q = 4.3 b h (H - h/2)^0.5, gallons a minute and inches: a closed scupper under water.
	ScupperOrifice = 4.3
	// FrancisWeir is 3.33 in Q = 3.33 (L - 0.1 n H) H^1.5, for n contracted ends.
	FrancisWeir = 3.33
	// FrancisEnd is the 0.1 H by which each contracted end shortens the crest.
	FrancisEnd = 0.1
	// BroadCrest is the coefficient of a crest much broader than the head: head under half of the breadth.
	BroadCrest = 2.63
	// OrificeNumber is Cd in Q = Cd A (2 g h)^0.5, without unit.
	OrificeNumber = 0.6
)

// Sources of the laws of weirs and orifices.
var (
	ScupperSource     = Source{"common form of the trade for scuppers, 2.9 b H^1.5 and 4.3 b h (H - h/2)^0.5 in gpm and inches; within 4 % of ASCE 7-05, commentary, Table C8-1", false}
	FrancisSource     = Source{"Francis formula for a weir with two end contractions, 3.33 (L - 0.2 H) H^1.5 in feet; stated for a crest of 4 to 8 times the head", true}
	BroadCrestSource  = Source{"Brater and King, Handbook of Hydraulics, table of broad-crested weirs by head and breadth of the crest (the table read in a reprint); 2.63 where the head is under half of the breadth", true}
	OrificeSource     = Source{"FHWA HDS-2, Highway Hydrology, 2nd edition, section 8.3.1: 0.6 A (2 g h)^0.5", true}
	FreeEdgeSource    = Source{"ASCE 7-16, commentary, equation C8.3-2: a level edge of A i / 400 (ft, sq ft, in/h) keeps the water near 1/4 in, which is 4.16 gpm per foot", false}
	ScupperTestSource = Source{"ASCE 7-05 and 7-10, commentary, Table C8-1: scuppers 6 and 24 in wide, heads of 1 to 8 in; up to 4 in corroborated by a table of areas at 5 in/h that was read", false}
)
