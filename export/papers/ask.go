package papers

import (
	"runnel/analysis/correction"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
)

// limitAsks are the limits about which somebody is asked a question whose answer counts.
var limitAsks = map[string]roof.Asked{
	correction.Resisting: roof.AskResistance, correction.ResistanceReduced: roof.AskResistance, correction.ResistanceShort: roof.AskResistance,
	correction.TwoRoofs: roof.AskCover,
}

// asksItself are the findings of which the engineer is asked under a name of its own.
var asksItself = []finding.Kind{finding.Dish, finding.Camber, finding.NoOverflow, finding.NoWayOut, finding.LoadOverLimit, finding.OverflowHigh, finding.BaySusceptible}

// asks are the questions about findings of a kind that somebody decides on; of the others it is asked what he advises.
var asks = map[finding.Kind]string{
	finding.OutletHigh:    "Can it be set down? Say what holds its body, and whether its leader is clear.",
	finding.OutletOnHigh:  "Can it be moved to the low place, and where would its leader run?",
	finding.OutletSmall:   "What would make it take that: a larger leader, a conductor head, another outlet?",
	finding.OutletUnsized: "Of what size are its inlet, leader and pipe?",
	finding.OverflowLow:   "Which of the two is the overflow, and can the primary be set lower?",
	finding.OverflowSmall: "How large must it be here, and can it be made so?",
	finding.ScupperFull:   "May water stand that high in it, and what does the roof carry then?",
	finding.HeadUntested:  "What head may stand there, and what does the roof carry then?",
	finding.DeckSoft:      "How far does it reach, and what carries the roof until it is mended?",
	finding.DeckLow:       "Is the deck sound there, and may it carry what levels it?",
}

// askOf returns the question about a kind of finding.
func askOf(k finding.Kind) string {
	if text, ok := asks[k]; ok {
		return text
	}
	return "What do you advise?"
}
