package standard

import "runnel/analysis/quantity"

// AbsurdRate is the rate of rain [m/s] above which a figure is taken for a slip of the pen unless the user
// says that it is meant: 40 in/h. Own choice, no source.
const AbsurdRate = 40 * float64(quantity.InchPerHour)

// DesignStorm is what one document asks for: the storm for the primary way out, and that for the overflow.
type DesignStorm struct {
	Code, Edition, Section string
	Primary, Overflow      string // in words; empty where the document says nothing
	Read                   bool   // true when the text was read for this project, false when it was recalled
}

// designStorms is what the documents ask for, oldest first within each code.
var designStorms = []DesignStorm{
	{"ASCE 7", "2016", "section 8.2", "100-year, 60 minutes, or worse", "100-year, 15 minutes, or worse: drains, the pipes behind them, scuppers and their head", true},
	{"ASCE 7", "2022", "section 8.2", "", "15 minutes; return period by risk category: 100 years (I, II), 200 (III), 500 (IV)", false},
	{"Standard Plumbing Code", "1994", "as named in the commentary of ASCE 7-05", "100-year, 1 hour", "100-year, 15 minutes", true},
	{"International Building Code", "2018 and earlier", "section 1611.1", "", "100-year, 1 hour", true},
	{"International Building Code", "2021", "section 1611.1", "", "100-year, 15 minutes, or twice the rate of the 100-year hour", true},
	{"International Building Code", "2024", "section 1611.1, Table 1611.1", "", "15 minutes; return period by risk category: 100 years (I, II), 200 (III), 500 (IV), as ASCE 7-22", false},
	{"International Plumbing Code", "2015 to 2021", "sections 1106.1 and 1108.3", "100-year, 1 hour", "the rain of the primary, without credit for what the primary takes", true},
	{"International Plumbing Code", "2024", "section 1106.1", "100-year, 1 hour", "the rain of the primary", false},
	{"Uniform Plumbing Code, California Plumbing Code", "2010", "sections 1101.11 and 1101.12", "local 100-year, 60 minutes", "the rain of the primary; twice the rate where both share a stack", true},
	{"EN 12056-3", "2000, United Kingdom annex", "annex NB", "2 minutes; eaves gutters 1 year, gutters and roofs that drain inside 1.5 or 4.5 times the building's life by use", "", true},
	{"DIN 1986-100", "2016", "sections 5.3.1, 5.9 and 14.2", "5-year, 5 minutes, r(5,5)", "100-year, 5 minutes, r(5,100), less what the drains take", false},
	{"ICC Performance Code", "", "Table 501.3.4", "by size of the event: 25, 50 or 100 years at 60 minutes, 100 years at 30 minutes", "25, 50 or 100 years at 15 minutes, 100 years at 10 minutes", true},
}

// DesignStorms returns which code asks for which storm, as data: which of them governs a roof, the local code says.
func DesignStorms() []DesignStorm { return append([]DesignStorm(nil), designStorms...) }

// WhereRates says where a rate of rain is looked up; none is built in.
const WhereRates = "the local code's table or map, or the national weather service's point precipitation frequency estimates for the site"

// WallRule is a way to count the walls that rise over a roof and shed rain onto it.
type WallRule struct {
	Name   string
	What   string // one line for a reader
	Source Source
}

// Names of the wall rules.
const (
	WallsHalf    = "half"
	WallsBySides = "50-35-0"
	WallsQuarter = "quarter"
	WallsNone    = "none"
)

// wallRules are the rules, the usual one first.
var wallRules = []WallRule{
	{WallsHalf, "half of the face of each wall", Source{"International Plumbing Code, section 1106.4: one half of each wall face that sheds onto the roof counts as roof area; EN 12056-3 counts half too, for rain that the wind drives 2 down to 1 across", true}},
	{WallsBySides, "half of one wall, 35 % of two that adjoin, nothing of two that face each other", Source{"Uniform Plumbing Code, sections 1103.4 and 1106.4: one wall 50 %; two adjoining walls 35 %, and 50 % of what the taller has more; two of one height that face each other none (read); unequal ones that face each other, three walls and four (recalled)", true}},
	{WallsQuarter, "a quarter of the face of each wall", Source{"Municipal Code of Chicago, section 18-29-1106.4: 25 % of the wall area", true}},
	{WallsNone, "no walls", Source{"stated by the user", false}},
}

// WallRules returns the rules, the usual one first.
func WallRules() []WallRule { return append([]WallRule(nil), wallRules...) }

// Shares of wall faces, as the rules of WallRules name them.
const (
	WallShareHalf      = 0.5
	WallShareAdjoining = 0.35
	WallShareQuarter   = 0.25
)
