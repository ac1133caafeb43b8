// Package place says where a point of a roof lies so that a crew finds it again with a tape: its distances square to two walls, and what
// stands next to it.
//
// "3.7 m from the west wall, 1.2 m from the south wall; 0.9 m east of RTU-1." The walls are the nearest that can be reached square and without
// crossing the outline, and that meet at 30 degrees or more; of walls that one side of a roof has several of, each is called by its length
// as well. Every output takes its places from here, and the set-out sheet its walls.
package place

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

const (
	atHand   = 0.15 // what is nearer than this is at the thing itself [m]
	reach    = 6.0  // farther off nothing is named as standing next to a place [m]
	shortest = 1.0  // a wall shorter than this is not measured from [m]
	askew    = 0.5  // sine of the least angle between the two walls

	sameLength = 0.3 // walls whose lengths differ by no more are not told apart by them [m]
)

// thing is something with a name that stands on the roof: a drain, a scupper or a curb.
type thing struct {
	name string
	ring []orb.Point // closed; one point for an outlet
}

// base is a wall to measure from, in words that mean no other.
type base struct {
	Wall
	called finding.Text // "the south wall", "the 6.0 m long south wall"
}

// Finder says where places lie on one roof.
type Finder struct {
	outer  []Wall // all stretches of the outer border
	bases  []base
	things []thing
}

// New prepares the places of a roof. t is its finished surface, outlets those of the surface.
func New(r *roof.Roof, t *surface.TIN, outlets []surface.Outlet) *Finder {
	f := &Finder{}
	if borders := Borders(t); len(borders) > 0 {
		f.outer = borders[0].Stretches()
	}
	for i := range f.outer {
		if w := f.outer[i]; w.Length >= shortest {
			w.Name = Name(r, &w)
			f.bases = append(f.bases, base{Wall: w})
		}
	}
	f.tellApart()
	for i := range outlets {
		if o := &outlets[i]; o.Type != roof.EdgeOutlet {
			f.things = append(f.things, thing{o.Label, []orb.Point{o.Plan}})
		}
	}
	for i := range r.Curbs {
		c := &r.Curbs[i]
		ring := gather.Each(c.Ring, func(x roof.Position) orb.Point { return x.Plan })
		f.things = append(f.things, thing{c.Name(), ring})
	}
	if len(f.bases)+len(f.things) == 0 && len(f.outer) > 0 {
		f.things = append(f.things, thing{"the roof's west end", []orb.Point{f.outer[0].From}})
	}
	return f
}

// tellApart words each base so that it means no other: by its name, where several have it by its length, and where some of these are equally
// long by the part of the roof where it stands. What even that does not tell apart is left out.
func (f *Finder) tellApart() {
	for i := range f.bases {
		w := &f.bases[i]
		same := f.sameName(w, math.Inf(1))
		name, length := finding.Called(w.Name), finding.Tape("length", w.Length)
		switch equal := f.sameName(w, sameLength); {
		case len(same) == 1:
			w.called = finding.Say("the {0}", name)
		case len(equal) == 1:
			w.called = finding.Say("the {0} long {1}", length, name)
		default:
			if part := partOf(w, equal); part != "" {
				w.called = finding.Say("the {0} long {1} in the "+part, length, name)
			}
		}
	}
	f.bases = slices.DeleteFunc(f.bases, func(w base) bool { return w.called.Format == "" })
}

// sameName returns the bases with w's name that are as long as w within a difference [m], w among them.
func (f *Finder) sameName(w *base, difference float64) []*base {
	var same []*base
	for i := range f.bases {
		if v := &f.bases[i]; v.Name == w.Name && math.Abs(v.Length-w.Length) <= difference {
			same = append(same, v)
		}
	}
	return same
}

// partOf names the direction in which w stands from the middle of all; empty where another stands in the same.
func partOf(w *base, all []*base) string {
	var middle orb.Point
	for _, v := range all {
		m := v.middle()
		middle[0] += m[0] / float64(len(all))
		middle[1] += m[1] / float64(len(all))
	}
	towards := func(v *base) string { m := v.middle(); return vector.Compass(m[0]-middle[0], m[1]-middle[1]) }
	for _, v := range all {
		if v != w && towards(v) == towards(w) {
			return ""
		}
	}
	return towards(w)
}

// Of says where p lies. p lies on the roof or on its outline.
func (f *Finder) Of(p orb.Point) finding.Text {
	t, away, direction := f.next(p, reach)
	if t != nil && away < atHand && len(t.ring) == 1 {
		return finding.Say("at {0}", finding.Called(t.name))
	}
	text := f.offWalls(p)
	if t == nil {
		if text.Format != "" {
			return text
		}
		if t, away, direction = f.next(p, math.Inf(1)); t == nil {
			return finding.Say("on the roof")
		}
	}
	from := finding.Say("{0} "+direction+" of {1}", finding.Tape("distance", away), finding.Called(t.name))
	if away < atHand { // of a curb, which is long: the walls say at which part of it
		from = finding.Say("at {0}", finding.Called(t.name))
	}
	if text.Format == "" {
		return from
	}
	text.Format += ";"
	return text.And(from)
}

// next returns the named thing nearest to p within a distance [m], how far off it is and in which direction p lies from it.
func (f *Finder) next(p orb.Point, within float64) (best *thing, away float64, direction string) {
	away = within
	for i := range f.things {
		t := &f.things[i]
		q := vector.Nearest(t.ring, p)
		if d := vector.Distance(q, p); d < away {
			best, away, direction = t, d, vector.Compass(p[0]-q[0], p[1]-q[1])
		}
	}
	return best, away, direction
}
