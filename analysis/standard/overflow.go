package standard

import "runnel/analysis/quantity"

// Rule is one thing that a document asks of the ways out of a roof. Which document governs a roof, the local code
// says.
type Rule struct {
	What   string // one sentence for a reader
	Source Source
}

// LocalCode is said beside every rule.
const LocalCode = "the local code governs"

// OverflowHeight is how far the inlet of an overflow stands above that of the primary outlet at most [m]: 2 in.
// Documents differ, and OverflowHeights tells them all.
const OverflowHeight = 2 * float64(quantity.Inch)

// LeastScupper is the least opening of a scupper that is an overflow, in either direction [m]: 4 in.
const LeastScupper = 4 * float64(quantity.Inch)

// OverflowTimes is how many times the area of the drain an overflow scupper has by OverflowByArea.
const OverflowTimes = 3.0

// Rules on the arrangement of primary outlets and overflows.
var (
	OverflowPresent = Rule{
		"secondary drains or scuppers where the roof's edge rises above the roof and would hold water in",
		Source{"International Building Code, 2015 section 1503.4.1, 2021 section 1502.2; International Plumbing Code, section 1108.1", true},
	}
	OverflowSeparate = Rule{
		"the secondary system has its own piping and its own place of discharge",
		Source{"International Plumbing Code, section 1108.2; ASCE 7-16, section 8.3", true},
	}
	OverflowOpening = Rule{
		"the opening of an overflow scupper is at least 4 in high and wide",
		Source{"International Building Code, 2015 section 1503.4.2, 2021 section 1502.3; International Plumbing Code, 2015, section 1108.3", true},
	}
	TwoOutlets = Rule{
		"a roof that walls enclose has two ways out or more",
		Source{"common practice, no code figure: at least two drains; International Plumbing Code, 2015, section 1110.4, asks for two up to 10,000 sq ft on roofs of controlled flow only (read)", true},
	}
)

// OverflowHeights are the heights of the overflow over the low point or the primary that documents give. They do not
// agree, so no one of them is a reason to raise an overflow.
var OverflowHeights = []Rule{
	{
		"the inlet of the overflow stands 2 in above the low point of the roof",
		Source{"International Residential Code, section R903.4.1, and older editions of the Uniform Plumbing Code", true},
	},
	{
		"the weir of the overflow stands 2 in above the primary",
		Source{"Uniform Plumbing Code, 2024, figure of secondary drainage", true},
	},
	{
		"at most 2 in, at least 2 in, or 2 to 4 in",
		practice("advice differs", false),
	},
}

// OverflowVariant is a rule on the size of an overflow beside that of the primary outlet.
type OverflowVariant struct {
	Name string
	Rule
}

// Names of the variants.
const (
	OverflowByFlow  = "flow"
	OverflowByDrain = "same size"
	OverflowByArea  = "three times"
	OverflowByGirth = "circumference"
)

// OverflowVariants are the rules on the size of an overflow, the one that is compared with first.
var OverflowVariants = []OverflowVariant{
	{OverflowByFlow, Rule{
		"the overflows take the rain of the secondary storm alone, without credit for what the primary takes",
		Source{"International Plumbing Code, 2015, section 1108.3", true},
	}},
	{OverflowByDrain, Rule{
		"overflow drains have the size of the roof drains",
		Source{"International Residential Code, section R903.4.1, and older editions of the Uniform Plumbing Code", true},
	}},
	{OverflowByArea, Rule{
		"overflow scuppers have three times the size of the roof drain; whether that is its area or its width is disputed, and the area is taken",
		Source{"International Residential Code, section R903.4.1, and older editions of the Uniform Plumbing Code", true},
	}},
	{OverflowByGirth, Rule{
		"an overflow scupper is as wide as the circumference of the drain that the area needs, and at least 4 in high",
		Source{"Uniform Plumbing Code and California Plumbing Code, 2010, section 1101.11.2.1", true},
	}},
}
