package record

import (
	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/nextspot"
)

// NextSpot is a place where another spot would tell most, and why.
type NextSpot struct {
	Plan orb.Point
	For  string // what it tells of, in words: a pond, an outlet, a plane, the roof
	Why  finding.Text
}

// spotWhy says what a spot at a place of each kind is for.
var spotWhy = map[nextspot.Kind]string{
	nextspot.Again:      "The height here does not fit those round it: shoot it again.",
	nextspot.Inlet:      "The level at which the outlet takes water: shoot its inlet.",
	nextspot.Rim:        "No spot shows the roof at the outlet: shoot it beside the inlet.",
	nextspot.Lip:        "Where the pond would spill: shoot the highest place of its way out.",
	nextspot.Lowest:     "The lowest place of the pond: look for it here and shoot it.",
	nextspot.Gap:        "A wide gap between spots: a low place here is not seen.",
	nextspot.PlaneLow:   "The low end of a plane whose slope is too near its limit to be told from it.",
	nextspot.PlaneHigh:  "The high end of a plane whose slope is too near its limit to be told from it.",
	nextspot.EdgeUnshot: "The height of the edge here was taken from spots near it: shoot its foot.",
}

// nextSpots gathers the places to shoot next, in walking order.
func (b *Book) nextSpots() []NextSpot {
	out := make([]NextSpot, len(b.Study.NextSpots))
	for i := range out {
		p := &b.Study.NextSpots[i]
		out[i] = NextSpot{Plan: p.Plan, For: b.spotFor(p), Why: b.Study.KeepOff.Guard(finding.Say(spotWhy[p.Kind]))}
	}
	return out
}

// spotFor names what a place to shoot tells of.
func (b *Book) spotFor(p *nextspot.Place) string {
	s := b.Study
	switch {
	case p.Odd >= 0:
		return s.Odd[p.Odd].Called(s.Roof, s.Surface)
	case p.Pond >= 0:
		for i := range s.Listed {
			if s.Listed[i].Pond == p.Pond {
				return "pond " + s.Listed[i].ID
			}
		}
		return "a low place that the spots do not show"
	case p.Outlet >= 0:
		return s.Surface.Outlets[p.Outlet].Label
	case p.Plane >= 0:
		return "plane " + b.Names.Local(b.Names.Plane(int(p.Plane)))
	}
	return "the roof"
}

// NextSpot adds where place i to shoot lies and why.
func (b *Book) NextSpot(o *Object, i int) {
	n := &b.NextSpots[i]
	o.Int("order", i+1)
	o.Text("for", n.For)
	o.Text("place", b.Place(n.Plan))
	o.Text("why", b.Units.SayText(n.Why))
}
