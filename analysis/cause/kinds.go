package cause

import "runnel/analysis/finding"

// About is what is said of a cause whatever the pond.
type About struct {
	What    string // in a sentence, what holds the pond
	Name    string // in the middle of a sentence: "an outlet set too high"
	Mend    string // what would likely mend it
	Decides string // who decides on that
}

// row is one cause.
type row struct {
	kind finding.Kind
	About
	rules []func(*view) (Candidate, bool) // what shows it, with the evidence and what to measure: the first is asked before the second ones of all causes
}

// rows are the causes: the rules that show each, what it is called, and what mends it. Where scores are equal, the
// earlier row stands first. Mends go by the corrections that the trade knows for each cause: raising or re-sloping; whatever touches
// deck or framing is an engineer's.
var rows = []row{
	{finding.OutletHigh, About{
		"The outlet is set above the roof around it and holds water.", "an outlet set too high",
		"Clear the strainer. Then see whether the rim can be lowered or the drain reset in a sump.", finding.Plumber,
	}, []func(*view) (Candidate, bool){outletHigh}},
	{finding.OutletOnHigh, About{
		"The outlet stands on a local high of the roof; water stands lower than it.", "an outlet on a high spot",
		"An outlet belongs where the roof is lowest: move it or add one there. Check the structure first.", finding.Engineer,
	}, []func(*view) (Candidate, bool){outletOnHigh}},
	{finding.CricketMissing, About{
		"Water stands behind a curb that has no cricket to turn it.", "a missing cricket",
		"Build a cricket on the uphill side of the curb. Check the flashing height that is left.", finding.Roofer,
	}, []func(*view) (Candidate, bool){cricketMissing, levelWall}},
	{finding.CricketFlat, About{
		"The valley at the cricket is too flat, and water stands in it.", "a cricket that is too flat",
		"Make the cricket wider: a wider cricket has a steeper valley.", finding.Roofer,
	}, []func(*view) (Candidate, bool){cricketFlat, crownLow}},
	{finding.EdgeHigh, About{
		"The edge is higher than the roof before it and holds water back.", "an edge left high",
		"Lower the edge: blocking, gravel stop or edge strip.", finding.Roofer,
	}, []func(*view) (Candidate, bool){edgeHigh}},
	{finding.RidgeLine, About{
		"A straight ridge across the flow holds water back.", "something laid in a straight line",
		"Find what makes the ridge. Move it, or cut a way through it.", finding.Roofer,
	}, []func(*view) (Candidate, bool){ridgeOnLine, lapOnSpots}},
	{finding.Step, About{
		"The roof steps up across the slope and holds water back.", "a step on a line",
		"Ease the step with a tapered edge strip, or take the thicker layer down.", finding.Roofer,
	}, []func(*view) (Candidate, bool){step}},
	{finding.RiseBefore, About{
		"A rise in the roof before the outlet holds water back.", "a rise before the outlet",
		"Cut out and flatten the rise, or take out the extra layers, and patch.", finding.Roofer,
	}, []func(*view) (Candidate, bool){riseBefore}},
	{finding.ValleyFlat, About{
		"The valley is level or falls back, and water stands in it.", "a flat valley",
		"Add slope to the valley with tapered insulation or crickets.", finding.Roofer,
	}, []func(*view) (Candidate, bool){valleyFlat}},
	{finding.Camber, About{
		"The roof is low along a line and arched beyond it; water stands along the line.", "an arch over the supports",
		"Build slope over the low line, or add an outlet on it, once an engineer has said how the members lie.", finding.Engineer,
	}, []func(*view) (Candidate, bool){camber}},
	{finding.Dish, About{
		"The roof is bent down like a dish and holds water.", "a dish between supports",
		"Do nothing until an engineer has looked at the deck from below: fill adds weight.", finding.Engineer,
	}, []func(*view) (Candidate, bool){dish}},
	{finding.LevelArea, About{
		"The roof here has next to no slope, and water stands on it.", "no slope built here",
		"Build slope over the area with tapered insulation, or add outlets.", finding.Owner,
	}, []func(*view) (Candidate, bool){levelArea}},
	{finding.LowPlace, About{ // said where no rule holds
		"Water stands in a low place.", "a low place whose cause does not show",
		"Shoot more spots here before any work.", finding.Roofer,
	}, nil},
}

// Say returns what is said of a cause; nothing of a kind that is none.
func Say(k finding.Kind) About {
	for i := range rows {
		if rows[i].kind == k {
			return rows[i].About
		}
	}
	return About{}
}

// scupperHigh is what is said of a scupper that is set too high: it has no strainer and no rim, and its floor lies on a rough opening.
const scupperHigh = "Clear the opening. Then see whether the scupper's floor can be set down within its rough opening; a cut in the parapet is for an engineer."

// SayOf returns what is said of a cause where the outlet that holds the water is a scupper or, else, a drain.
func SayOf(k finding.Kind, scupper bool) About {
	about := Say(k)
	if scupper && k == finding.OutletHigh {
		about.Mend, about.Decides = scupperHigh, finding.Roofer
	}
	return about
}

// ask returns what the rules say of a pond: the first rules of all causes, then the second ones.
func ask(v *view) []Candidate {
	var out []Candidate
	for turn := range 2 {
		for i := range rows {
			if turn >= len(rows[i].rules) {
				continue
			}
			v.t.Halt.Ask()
			if c, ok := rows[i].rules[turn](v); ok && c.Score >= named {
				c.Kind = rows[i].kind
				out = append(out, c)
			}
		}
	}
	return out
}
