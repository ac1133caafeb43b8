package layout

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/export/record"
)

// gutters is a level roof of 24 by 12 m with gutters along both long sides: a taper falls to both from a ridge in the middle.
func gutters() *roof.Roof {
	r := shape.New("gutters", shape.At(0, 0, 0), shape.At(24, 0, 0), shape.At(24, 12, 0), shape.At(0, 12, 0))
	shape.Grid(r, 0, 0, 24, 12, 8, 4, func(_, _ float64) float64 { return 0 })
	for i, y := range []float64{0, 12} {
		r.Edges = append(r.Edges, roof.Edge{Feature: roof.Feature{ID: string(rune('1' + i))}, Type: roof.Gutter, Label: string(rune('N' + i)), Line: []roof.Position{shape.At(0, y, 0), shape.At(24, y, 0)}})
	}
	return r
}

// Along the ridge of a roof that falls to both sides the new boards are as thick all along: that section shows nothing and is left out, and the one across it is called A.
func TestEvenSectionIsLeftOut(t *testing.T) {
	s := set(t, gutters(), record.SI, mend.Overlay)
	if s == nil {
		t.Fatal("no overlay is possible")
	}
	h, err := newSheets(s)
	if err != nil {
		t.Fatal(err)
	}
	if len(h.sections) == 0 {
		t.Fatal("no section")
	}
	for i := range h.sections {
		if a := &h.sections[i]; math.Abs(a.from[1]-a.to[1]) < 1e-6 || a.name != string(rune('A'+i)) {
			t.Errorf("section %s from %v to %v", a.name, a.from, a.to)
		}
	}
}

// A section is even where new work is as thick to a centimetre on nearly all of its length.
func TestEvenSections(t *testing.T) {
	of := func(n, on int, thick func(i int) float64) *section {
		s := &section{to: orb.Point{10, 0}}
		for i := range n {
			q := sample{x: float64(i), on: i < on, old: 5, now: 5}
			q.now += thick(i)
			s.at = append(s.at, q)
		}
		return s
	}
	flat := func(int) float64 { return 0.05 }
	for name, c := range map[string]struct {
		s    *section
		want bool
	}{
		"as thick all along":       {of(100, 100, flat), true},
		"on 96 of 100 places":      {of(100, 96, flat), true},
		"on 95 of 100 places":      {of(100, 95, flat), false},
		"9 mm from end to end":     {of(100, 100, func(i int) float64 { return 0.05 + 0.009*float64(i)/99 }), true},
		"11 mm from end to end":    {of(100, 100, func(i int) float64 { return 0.05 + 0.011*float64(i)/99 }), false},
		"nothing new":              {of(100, 100, func(int) float64 { return 0 }), false},
		"no place":                 {of(0, 0, flat), false},
		"a cut":                    {of(100, 100, func(int) float64 { return -0.05 }), false},
		"less than a millimetre":   {of(100, 100, func(int) float64 { return 0.0009 }), false},
		"more than a millimetre":   {of(100, 100, func(int) float64 { return 0.0011 }), true},
		"half of it, half nothing": {of(100, 100, func(i int) float64 { return 0.05 * float64(i%2) }), false},
	} {
		if got := c.s.even(); got != c.want {
			t.Errorf("%s: even %v", name, got)
		}
	}
}

// A line at the wall shows no more than the wall: two of three of its quarter places less than half a metre off.
func TestLinesAlongTheEdge(t *testing.T) {
	ring := orb.Ring{{0, 0}, {20, 0}, {20, 10}, {0, 10}, {0, 0}}
	for _, c := range []struct {
		from, to orb.Point
		want     bool
	}{
		{orb.Point{0, 0.4}, orb.Point{20, 0.4}, true},
		{orb.Point{0, 0.6}, orb.Point{20, 0.6}, false},
		{orb.Point{0, 5}, orb.Point{20, 5}, false},
		{orb.Point{19.6, 0}, orb.Point{19.6, 10}, true},
		{orb.Point{0, 0}, orb.Point{20, 0.7}, true},  // 0.175, 0.35 and 0.525 m off
		{orb.Point{0, 0}, orb.Point{20, 1.6}, false}, // 0.4, 0.8 and 1.2 m off
	} {
		if got := alongEdge(c.from, c.to, ring); got != c.want {
			t.Errorf("from %v to %v along the edge: %v", c.from, c.to, got)
		}
	}
}

// A section along one that is there, within half a metre of it, is that one, and says each of its reasons once; by hand, along y = 5 and along a line by 3, 4 and 5. One farther off is another, here beside the roof, so none.
func TestSectionsOnOneLine(t *testing.T) {
	for _, u := range []orb.Point{{1, 0}, {0.6, 0.8}, {-0.8, 0.6}} {
		h := &sheets{sections: []section{{from: orb.Point{2, 5}, to: orb.Point{2 + 20*u[0], 5 + 20*u[1]}, why: "through the deepest cut"}}}
		at := func(along, off float64) orb.Point {
			return orb.Point{2 + along*u[0] - off*u[1], 5 + along*u[1] + off*u[0]}
		}
		for _, c := range []struct {
			p, u orb.Point
			why  string
			want string
		}{
			{at(3, 0.4), u, "through D1", "through the deepest cut, through D1"},
			{at(9, -0.4), orb.Point{-u[0], -u[1]}, "through D2", "through the deepest cut, through D1, through D2"},
			{at(9, 0), u, "through D1", "through the deepest cut, through D1, through D2"},
			{at(3, 0.6), u, "through D3", "through the deepest cut, through D1, through D2"},
			{at(3, -0.6), u, "through D3", "through the deepest cut, through D1, through D2"},
			{at(3, 0), orb.Point{-u[1], u[0]}, "through D3", "through the deepest cut, through D1, through D2"},
		} {
			if h.add(c.p, c.u, nil, c.why); len(h.sections) != 1 || h.sections[0].why != c.want {
				t.Errorf("along %v, %s at %v: %q of %d", u, c.why, c.p, h.sections[0].why, len(h.sections))
			}
		}
	}
}
