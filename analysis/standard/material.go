package standard

import (
	"strings"

	"runnel/analysis/quantity"
)

// Material is one material of roof assemblies. What no source gives is 0 with Known false: it is never guessed.
type Material struct {
	Name  string   // our own, as reports write it
	Words []string // phrases that name it in a core, whole words, small letters

	PerMetre    float64 // thermal resistance per thickness [m K/W]; 0 with a known R: it resists next to nothing
	RKnown      bool
	ByThickness bool // LTTR gives R; PerMetre is that of the thinnest board
	RSource     Source

	Weight      float64 // per thickness [Pa/m], or of the whole layer [Pa] when Sheet
	WeightKnown bool
	Sheet       bool // a sheet or felt whose weight goes by area, whatever thickness was read
	LoadSource  Source
}

// Insulates reports whether the material counts as insulation.
func (m *Material) Insulates() bool { return m.RKnown && m.PerMetre >= LeastInsulation }

// LeastInsulation is the resistance per thickness from which a material counts as insulation: R-2 per inch [m K/W]; common practice, no source.
const LeastInsulation = 2 * perInch

const (
	perInch    = quantity.RUnit / float64(quantity.Inch)              // m K/W in 1 ft2 h degF/Btu per inch
	psfPerInch = quantity.PoundPerSquareFoot / float64(quantity.Inch) // Pa/m in 1 psf per inch
	psf        = quantity.PoundPerSquareFoot
)

// LTTR is the long-term thermal resistance of polyisocyanurate boards by thickness [m], [m2 K/W]: values in force from 2014, as reprinted
// (read): 5.6, 8.6, 11.4, 17.4 and 23.6 at 1, 1.5, 2, 3 and 4 in.
var LTTR = []struct{ Thickness, R float64 }{
	{1.0 * float64(quantity.Inch), 5.6 * quantity.RUnit},
	{1.5 * float64(quantity.Inch), 8.6 * quantity.RUnit},
	{2.0 * float64(quantity.Inch), 11.4 * quantity.RUnit},
	{3.0 * float64(quantity.Inch), 17.4 * quantity.RUnit},
	{4.0 * float64(quantity.Inch), 23.6 * quantity.RUnit},
}

// Sources of the table below.
var (
	lttrSource     = Source{"ASTM C1303, long-term thermal resistance of polyisocyanurate boards of ASTM C1289, by thickness, in force from 2014; the table read in a reprint", true}
	c578Source     = Source{"ASTM C578, least R per inch at 75 degF of this type (I and II read in quotations, VIII and IX from memory); boards as sold test 0.1 to 0.25 higher", false}
	c578Least      = Source{"ASTM C578, Type I, R 3.6 per inch at 75 degF: the least of the types that are used on roofs, since the type is not stated (Type XI, R 3.1, is lighter than roofs use)", true}
	ashraeSource   = Source{"ASHRAE Handbook Fundamentals, thermal properties of building materials", false}
	boardSource    = Source{"common practice, no source", false}
	minimumLoads   = Source{"ASCE 7, commentary, table of minimum design dead loads", false}
	polyisoWeight  = practice("foam of about 2 lb/ft3 with facers, 0.2 to 0.25 psf per inch; the greater", true)
	gypsumWeight   = Source{"a published load example: 1/2 in gypsum board weighs 2 psf", true}
	thinSheet      = Source{"a thin sheet: taken as no resistance", true}
	notInTable     = Source{"not in the table of materials", true}
	bituminousFelt = Source{"ASHRAE Handbook Fundamentals: built-up roofing of 3/8 in, R 0.33", false}
)

// materials has the narrower names first: the order is that in which a core's words are compared.
var materials = []Material{
	{
		Name: "high-density polyiso board", Words: []string{"high density polyiso", "hd polyiso", "hd iso", "polyiso cover board", "iso cover board"},
		PerMetre: 5.0 * perInch, RKnown: true, RSource: boardSource, LoadSource: notInTable,
	},
	foam("polyiso", 5.6, lttrSource, 0.25, polyisoWeight, true, "polyiso", "polyisocyanurate", "iso", "pir", "isocyanurate"),
	foam("eps type I", 3.6, c578Source, 0.2, minimumLoads, false, "eps type i", "eps type 1", "eps i"),
	foam("eps type VIII", 3.8, c578Source, 0.2, minimumLoads, false, "eps type viii", "eps type 8", "eps viii"),
	foam("eps type II", 4.0, c578Source, 0.2, minimumLoads, false, "eps type ii", "eps type 2", "eps ii"),
	foam("eps type IX", 4.2, c578Source, 0.2, minimumLoads, false, "eps type ix", "eps type 9", "eps ix"),
	foam("eps", 3.6, c578Least, 0.2, minimumLoads, false, "eps", "expanded polystyrene", "bead board", "beadboard"),
	foam("xps", 5.0, Source{"ASTM C578, extruded polystyrene: 5.0 per inch at 75 degF, as quoted in published data", true}, 0.2, minimumLoads, false,
		"xps", "extruded polystyrene"),
	foam("perlite board", 2.78, ashraeSource, 0.8, minimumLoads, false, "perlite", "expanded perlite"),
	foam("wood fibreboard", 2.78, ashraeSource, 1.5, minimumLoads, false, "fiberboard", "fibreboard", "wood fiber", "wood fibre", "fiber board"),
	foam("cellular glass", 2.86, ashraeSource, 0.7, minimumLoads, false, "cellular glass"),
	foam("sprayed foam", 6.0, boardSource, 0.5, Source{"ASCE 7, commentary, table of minimum design dead loads: urethane foam with skin", false}, false,
		"spf", "spray foam", "sprayed foam", "sprayed polyurethane"),
	{
		Name: "mineral wool", Words: []string{"mineral wool", "stone wool", "rock wool", "mineral fiber", "mineral fibre"},
		PerMetre: 3.8 * perInch, RKnown: true, RSource: boardSource, LoadSource: notInTable,
	},
	foam("gypsum board", 1.1, boardSource, 4.0, gypsumWeight, false, "gypsum", "gypsum board", "gypsum cover board", "glass mat gypsum"),
	foam("plywood", 1.25, ashraeSource, 3.2, minimumLoads, false, "plywood", "osb"),
	sheet("gravelled built-up roof", 0.33, bituminousFelt, 5.5, "gravel bur", "gravelled built up", "graveled built up", "built up and gravel", "bur and gravel", "gravel surfaced bur", "bur gravel"),
	sheet("built-up roof", 0.33, bituminousFelt, 1.5, "bur", "built up", "smooth bur", "felt", "felts"),
	sheet("modified bitumen", 0, thinSheet, 1.5, "modified bitumen", "mod bit", "sbs", "app", "cap sheet", "base sheet"),
	sheet("single-ply membrane", 0, thinSheet, 0.7, "single ply", "tpo", "epdm", "pvc", "membrane", "kee"),
	{
		Name: "vapour retarder", Words: []string{"vapor retarder", "vapour retarder", "vapor barrier", "vapour barrier", "vapour control", "vapor control"},
		RKnown: true, RSource: thinSheet, Sheet: true, LoadSource: notInTable,
	},
}

// foam returns a material whose R and weight go by thickness; r in ft2 h degF/Btu per inch, w in psf per inch.
func foam(name string, r float64, rSource Source, w float64, wSource Source, byThickness bool, words ...string) Material {
	return Material{
		Name: name, Words: words, PerMetre: r * perInch, RKnown: true, ByThickness: byThickness, RSource: rSource,
		Weight: w * psfPerInch, WeightKnown: true, LoadSource: wSource,
	}
}

// sheet returns a covering: w in psf whatever its thickness; r in ft2 h degF/Btu at 3/8 in.
func sheet(name string, r float64, rSource Source, w float64, words ...string) Material {
	return Material{
		Name: name, Words: words, PerMetre: r / 0.375 * perInch, RKnown: true, RSource: rSource,
		Weight: w * psf, WeightKnown: true, Sheet: true, LoadSource: minimumLoads,
	}
}

// FindMaterial returns the material that a core's words name: the first of the table of which a phrase stands in the text as whole words.
func FindMaterial(text string) (*Material, bool) {
	plain := " " + Plain(text) + " "
	for i := range materials {
		for _, w := range materials[i].Words {
			if strings.Contains(plain, " "+w+" ") {
				return &materials[i], true
			}
		}
	}
	return nil, false
}

// Plain writes a name in small letters with single blanks for all that is neither letter nor digit.
func Plain(text string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return r < '0' || r > '9' && r < 'a' || r > 'z' && r < 128
	}), " ")
}
