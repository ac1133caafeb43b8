package tape

import (
	"cmp"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/roof"
)

// Exit is a way off the roof: an outlet, or an edge that water leaves over.
type Exit struct {
	Name   string
	Outlet int            // index into the roof's outlets, -1 for an edge
	Line   orb.LineString // one point for an outlet
	Duty   roof.Duty
	Edge   roof.EdgeType // of an edge
}

// exits returns the ways off the roof: outlets first, then edges.
func (s *Survey) exits() []Exit {
	var out []Exit
	for i := range s.Roof.Outlets {
		o := &s.Roof.Outlets[i]
		name := cmp.Or(o.Label, o.ID)
		out = append(out, Exit{Name: name, Outlet: i, Line: orb.LineString{o.Plan}, Duty: o.Duty})
	}
	for i := range s.Roof.Edges {
		e := &s.Roof.Edges[i]
		if e.Type == roof.Wall {
			continue
		}
		name := e.Label
		if name == "" {
			name = map[roof.EdgeType]string{roof.Gutter: "the gutter", roof.Free: "the open edge"}[e.Type]
		}
		out = append(out, Exit{Name: name, Outlet: -1, Line: orb.LineString(roof.PlanOf(e.Line)), Duty: e.Duty, Edge: e.Type})
	}
	if s.Roof.Outline.Edge != roof.Wall {
		name := map[roof.EdgeType]string{roof.Gutter: "the gutter", roof.Free: "the open edge"}[s.Roof.Outline.Edge]
		out = append(out, Exit{Name: name, Outlet: -1, Line: orb.LineString(roof.PlanOf(s.Roof.Outline.Rings[0])), Edge: s.Roof.Outline.Edge})
	}
	return out
}

// nearest returns the exit of a duty nearest to a ring, and how far it is from the ring's inside [m]; -1 where there is none.
func (s *Survey) nearest(ring orb.Ring, duty roof.Duty) (exit int, distance float64) {
	exit = -1
	for i := range s.Exits {
		e := &s.Exits[i]
		if e.Duty != duty {
			continue
		}
		d := math.Inf(1)
		for _, p := range e.Line {
			at := 0.0
			if !planar.RingContains(ring, p) {
				at = planar.DistanceFrom(orb.LineString(ring), p)
			}
			d = min(d, at)
		}
		if len(e.Line) > 1 {
			for _, p := range ring {
				d = min(d, planar.DistanceFrom(e.Line, p))
			}
		}
		if exit < 0 || d < distance {
			exit, distance = i, d
		}
	}
	return exit, distance
}
