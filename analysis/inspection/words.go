package inspection

import (
	"runnel/analysis/cause"
	"runnel/analysis/finding"
	"runnel/analysis/surface"
)

// pondText says in one sentence what holds a pond.
func pondText(c *cause.Candidate) finding.Text {
	if c.What.Format != "" {
		return c.What
	}
	return finding.Say(map[finding.Kind]string{
		finding.OutletHigh:     "The outlet is set above the roof around it and holds water.",
		finding.RiseBefore:     "A rise in the roof before the outlet holds water back.",
		finding.ValleyFlat:     "The valley is level or falls back, and water stands in it.",
		finding.CricketFlat:    "The valley at the cricket is too flat, and water stands in it.",
		finding.CricketMissing: "Water stands behind a curb that has no cricket to turn it.",
		finding.Dish:           "The roof is bent down like a dish and holds water.",
		finding.Camber:         "The roof is low along a line and arched beyond it; water stands along the line.",
		finding.LevelArea:      "The roof here has next to no slope, and water stands on it.",
		finding.EdgeHigh:       "The edge is higher than the roof before it and holds water back.",
		finding.Step:           "The roof steps up across the slope and holds water back.",
		finding.OutletOnHigh:   "The outlet stands on a local high of the roof; water stands lower than it.",
		finding.RidgeLine:      "A straight ridge across the flow holds water back.",
		finding.LowPlace:       "Water stands in a low place.",
	}[c.Kind])
}

// mends says what would likely mend a cause and who decides on it. Raising or re-sloping goes by the
// corrections that the trade knows for each cause; whatever touches deck or framing is an engineer's.
var mends = map[finding.Kind]struct{ text, decides string }{
	finding.OutletHigh:     {"Clear the strainer. Then see whether the rim can be lowered or the drain reset in a sump.", finding.Plumber},
	finding.RiseBefore:     {"Cut out and flatten the rise, or take out the extra layers, and patch.", finding.Roofer},
	finding.ValleyFlat:     {"Add slope to the valley with tapered insulation or crickets.", finding.Roofer},
	finding.CricketFlat:    {"Make the cricket wider: a wider cricket has a steeper valley.", finding.Roofer},
	finding.CricketMissing: {"Build a cricket on the uphill side of the curb. Check the flashing height that is left.", finding.Roofer},
	finding.Dish:           {"Do nothing until an engineer has looked at the deck from below: fill adds weight.", finding.Engineer},
	finding.Camber:         {"Build slope over the low line, or add an outlet on it, once an engineer has said how the members lie.", finding.Engineer},
	finding.LevelArea:      {"Build slope over the area with tapered insulation, or add outlets.", finding.Owner},
	finding.EdgeHigh:       {"Lower the edge: blocking, gravel stop or edge strip.", finding.Roofer},
	finding.Step:           {"Ease the step with a tapered edge strip, or take the thicker layer down.", finding.Roofer},
	finding.OutletOnHigh:   {"An outlet belongs where the roof is lowest: move it or add one there. Check the structure first.", finding.Engineer},
	finding.RidgeLine:      {"Find what makes the ridge. Move it, or cut a way through it.", finding.Roofer},
	finding.LowPlace:       {"Shoot more spots here before any work.", finding.Roofer},
}

// doFor returns what to do next about a pond, and who decides: measure what tells the causes apart where
// more than one holds or where the cause was not looked at but told from spots far apart, then mend.
func doFor(c *cause.Candidate, d *cause.Diagnosis) (finding.Text, string) {
	k, measure := c.Kind, c.Measure
	m := mends[k]
	if c.Mend.Format != "" {
		return measure.And(c.Mend), m.decides
	}
	if k == finding.LowPlace || len(d.Causes) > 1 {
		return measure.And(finding.Say(m.text)), m.decides
	}
	return finding.Say(m.text), m.decides
}

// at says that something is at an outlet.
func at(o *surface.Outlet) finding.Text { return finding.Say("at {0}", called(o)) }

// called names an outlet.
func called(o *surface.Outlet) finding.Quantity { return finding.Called(o.Label) }
