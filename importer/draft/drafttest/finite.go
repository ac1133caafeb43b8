// Package drafttest checks drafts in the tests of the packages that read them.
package drafttest

import (
	"math"

	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// Reporter is the part of a test that is told what is wrong.
type Reporter interface {
	Helper()
	Fatalf(format string, args ...any)
}

// Finite fails the test where a draft holds a number that is not finite, a ring that is not closed or a line
// without a length.
func Finite(t Reporter, d *draft.Draft) {
	t.Helper()
	for _, o := range d.Outlines {
		for _, r := range o.Rings {
			ring(t, r)
		}
		number(t, "structure", o.Structure.MemberDirection+float64(o.Structure.MemberSpan+o.Structure.MemberSpacing)+o.Structure.LoadLimit)
		for name, v := range o.Criteria {
			number(t, name, v)
		}
	}
	for _, e := range d.Edges {
		line(t, e.Line, 2)
	}
	for _, b := range d.Breaklines {
		line(t, b.Line, 2)
	}
	for _, c := range d.Curbs {
		ring(t, c.Ring)
	}
	for _, s := range d.Stains {
		ring(t, s.Ring)
	}
	points(t, d)
	tape(t, d.Tape)
}

// tape checks what was measured with tape, level, ruler and chalk.
func tape(t Reporter, tape *roof.Tape) {
	t.Helper()
	if tape == nil {
		return
	}
	for _, w := range tape.Waters {
		line(t, w.Edge, 0)
		number(t, "level", w.Level+w.HoursSinceRain)
		for _, s := range w.Soundings {
			position(t, roof.Position{Plan: s.Plan, Z: float64(s.Depth)})
		}
	}
	for _, p := range tape.Probes {
		elevated(t, "probe", p.Position)
		number(t, "sigma", float64(p.Sigma))
	}
	for _, g := range tape.Gaps {
		position(t, roof.Position{Plan: g.Plan, Z: float64(g.Level + g.Gap)})
		number(t, "toward", g.Toward[0]+g.Toward[1])
	}
}

// points checks what stands at one place.
func points(t Reporter, d *draft.Draft) {
	t.Helper()
	for _, s := range d.Spots {
		elevated(t, "spot", s.Position)
		number(t, "sigma", float64(s.Sigma))
	}
	for _, o := range d.Outlets {
		position(t, roof.Position{Plan: o.Plan, Z: o.Invert})
		number(t, "pipes", float64(o.Leader.Diameter+o.Leader.Width+o.Leader.Depth+o.Pipe+o.ConductorHead)+float64(o.PipeSlope))
	}
	for _, c := range d.Cores {
		position(t, c.Position)
	}
	for _, s := range d.Sills {
		elevated(t, "sill", s.Position)
	}
	for _, c := range d.Controls {
		position(t, roof.Position{Plan: c.Plan, Z: c.Lon + c.Lat})
	}
}

func number(t Reporter, what string, v float64) {
	t.Helper()
	if math.IsNaN(v) || math.IsInf(v, 0) {
		t.Fatalf("%s is %v", what, v)
	}
}

func position(t Reporter, p roof.Position) {
	t.Helper()
	number(t, "x", p.Plan[0])
	number(t, "y", p.Plan[1])
	number(t, "z", p.Z)
}

func elevated(t Reporter, what string, p roof.Position) {
	t.Helper()
	position(t, p)
	if !p.HasZ {
		t.Fatalf("a %s without an elevation", what)
	}
}

func line(t Reporter, line []roof.Position, least int) {
	t.Helper()
	if len(line) < least {
		t.Fatalf("a line of %d positions", len(line))
	}
	for _, p := range line {
		position(t, p)
	}
}

func ring(t Reporter, ring []roof.Position) {
	t.Helper()
	line(t, ring, 4)
	if ring[0] != ring[len(ring)-1] {
		t.Fatalf("ring %v is not closed", ring)
	}
}
