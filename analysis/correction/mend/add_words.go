package mend

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// drainWords says what is done for a new drain and what has to be found out.
func (d *Designer) drainWords(m *Mend, p *Pond, width float64) {
	o := &m.Adds[0]
	m.Kind, m.Decides = AddOutlet, []string{finding.Engineer, finding.Plumber, finding.Roofer}
	m.Change.What = finding.Say("Add a drain of {0} in the low place of "+p.ID+", its inlet at {1}, in a sump of {2} by {2}",
		finding.MM("diameter", float64(o.Diameter)), finding.Level("invert", o.Invert), finding.Metres("sump", width))
	m.Change.What = withOverflow(m)
	ask := finding.Say("Where do the members under " + p.ID + " lie, and may the deck be opened between them for the drain?")
	if s := float64(d.Roof.Structure.MemberSpacing); s > 0 {
		ask = finding.Say("Members stand {0} apart: where do they lie under "+p.ID+", and may the deck be opened between them for the drain?", finding.Metres("apart", s))
	}
	m.Questions = append([]Question{{
		Ask: ask, Where: "below " + p.ID, At: o.Plan, Decides: finding.Engineer, Asked: roof.AskOpening,
		If:   finding.Say("The engineer allows the opening and says how it is framed"),
		Then: finding.Say("Mark the place from below before the deck is cut. It may move within the low place to clear a member"),
	}, {
		Ask: d.leaderFrom(o.Plan), Where: "below " + p.ID, At: o.Plan, Decides: finding.Plumber,
		If:   finding.Say("A leader has a way and what it runs into takes the water"),
		Then: finding.Say("Size drain and leader for the rain, the overflow with a leader of its own"),
	}}, d.thickness(p, o.Plan)...)
}

// leaderFrom asks for the way of a leader, with the nearest one that is there.
func (d *Designer) leaderFrom(q orb.Point) finding.Text {
	near, far := -1, math.Inf(1)
	for i := range d.Surface.Outlets {
		o := &d.Surface.Outlets[i]
		if l := vector.Distance(o.Plan, q); o.Type == roof.Drain && o.Duty == roof.Primary && l < far {
			near, far = i, l
		}
	}
	if near < 0 {
		return finding.Say("Where can a leader run down from here, and into what?")
	}
	return finding.Say("Where can a leader run down from here? The nearest drain is {1}, {0} away: has its pipe room for more?", finding.Metres("away", far), finding.Called(d.Surface.Outlets[near].Label))
}

// thickness asks how thick the insulation is where a sump is cut, where no core tells.
func (d *Designer) thickness(p *Pond, q orb.Point) []Question {
	if d.deckAt(q) {
		return nil
	}
	return []Question{{
		Ask: finding.Say("How thick is the insulation at " + p.ID + ", and is it dry? Cut a core, patched the same day"), Where: "at " + p.ID, At: q, Decides: finding.Roofer,
		If: finding.Say("{0} or more, and dry", finding.MM("left", standard.InsulationLeft)), Then: finding.Say("Cut the sump"),
	}}
}

// withOverflow adds to what is done for a new outlet which overflow comes with it.
func withOverflow(m *Mend) finding.Text {
	what := m.Change.What
	if len(m.Adds) == 1 {
		what.Format += ". With it blocked the water rises no higher than it does now"
		return what
	}
	over := &m.Adds[1]
	what.Format += ","
	return what.And(finding.Say("and an overflow {0} beside it with its inlet at {1}, on a pipe of its own",
		finding.Metres("beside", vector.Distance(over.Plan, m.Adds[0].Plan)), finding.Level("overflow", over.Invert)))
}

// scupperWords says what is done for a new scupper and what has to be found out.
func (d *Designer) scupperWords(m *Mend, p *Pond, width float64) {
	o := &m.Adds[0]
	m.Kind, m.Decides = AddScupper, []string{finding.Engineer, finding.Roofer, finding.Owner}
	m.Change.What = finding.Say("Cut a scupper {0} wide and {1} high through the parapet at "+p.ID+", its floor at {2}, with the boards before it dressed over {3} to it",
		finding.MM("width", float64(o.Width)), finding.MM("height", float64(o.OpeningHeight)), finding.Level("invert", o.Invert), finding.Metres("sump", width))
	m.Change.What = withOverflow(m)
	m.Questions = append([]Question{{
		Ask: finding.Say("What is the parapet at " + p.ID + " made of, and may it be opened there? It is structure"), Where: "parapet at " + p.ID, At: o.Plan, Decides: finding.Engineer, Asked: roof.AskOpening,
		If:   finding.Say("The engineer allows the opening and says how it is framed"),
		Then: finding.Say("Cut it from outside after the cladding is open, and flash it as the warrantor asks"),
	}, {
		Ask: finding.Say("What lies below the scupper: a way for people, a door, a lower roof? Who owns the wall, and does ice form there?"), Where: "outside the parapet at " + p.ID, At: o.Plan, Decides: finding.Owner,
		If:   finding.Say("Water may fall there"),
		Then: finding.Say("Let it fall free, else add a conductor head and a leader, sized for the rain"),
	}}, d.thickness(p, o.Plan)...)
}
