package place

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// An L of 20 by 15 m without its upper right 12 by 9 m, 300 - 108 = 192 m2, 30 m east and 70 m north of the origin: wherever its list begins, the border begins at (30, 70),
// the lowest of the two westernmost corners, and elevations and open stretches keep to their corners. Clockwise the area is negative.
func TestBegin(t *testing.T) {
	corners := []orb.Point{{30, 70}, {50, 70}, {50, 76}, {38, 76}, {38, 85}, {30, 85}}
	for first := range corners {
		var b Border
		for i := range corners {
			k := (first + i) % len(corners)
			b.Plan, b.Z, b.Open = append(b.Plan, corners[k]), append(b.Z, float64(k)), append(b.Open, k == 1)
		}
		b.begin()
		if !(math.Abs(b.area-192) <= 1e-9) {
			t.Errorf("from corner %d: %g m2, want 192", first, b.area)
		}
		for i, c := range corners {
			if b.Plan[i] != c || b.Z[i] != float64(i) || b.Open[i] != (i == 1) {
				t.Errorf("from corner %d: place %d is %v at %g, open %v", first, i, b.Plan[i], b.Z[i], b.Open[i])
			}
		}
	}
	back := Border{Plan: []orb.Point{{30, 85}, {38, 85}, {38, 76}, {50, 76}, {50, 70}, {30, 70}}, Z: make([]float64, 6), Open: make([]bool, 6)}
	if back.begin(); !(math.Abs(back.area+192) <= 1e-9) || back.Plan[0] != corners[0] {
		t.Errorf("clockwise: %g m2 from %v", back.area, back.Plan[0])
	}
}

// A point 4.8 mm beside a wall is on it, one 5.2 mm beside it bends it: 5 mm is the limit. A wall ends where a gutter begins.
func TestStretches(t *testing.T) {
	plan := []orb.Point{{0, 0}, {4, 0.0048}, {12, 0}, {12, 5}, {6, 5.0052}, {0, 5}}
	for _, c := range []struct {
		name string
		open []bool
		from []int // corners at which stretches begin
	}{
		{"all walls", make([]bool, 6), []int{0, 2, 3, 4, 5}},
		{"a gutter along the first third of the south side", []bool{true, false, false, false, false, false}, []int{0, 1, 2, 3, 4, 5}},
		{"a gutter all along it", []bool{true, true, false, false, false, false}, []int{0, 2, 3, 4, 5}},
	} {
		b := Border{Plan: plan, Open: c.open}
		got := b.Stretches()
		if len(got) != len(c.from) {
			t.Errorf("%s: %d stretches, want %d", c.name, len(got), len(c.from))
			continue
		}
		for i, w := range got {
			from, to := plan[c.from[i]], plan[c.from[(i+1)%len(c.from)]]
			if w.From != from || w.To != to || w.Open != c.open[c.from[i]] || w.Length != vector.Distance(from, to) {
				t.Errorf("%s: stretch %d is %+v, want %v to %v", c.name, i, w, from, to)
			}
		}
	}
}

// What a side is called: a wall by where it stands; what is open a gutter or an edge, by the edge measured there, else by what the outline says.
func TestName(t *testing.T) {
	south := Wall{From: orb.Point{2, 1}, To: orb.Point{10, 1}, Open: true} // its middle is (6, 1)
	closed := south
	closed.Open = false
	edge := func(kind roof.EdgeType, label string, line ...orb.Point) roof.Edge {
		e := roof.Edge{Type: kind}
		for _, p := range line {
			e.Line = append(e.Line, roof.Position{Plan: p})
		}
		e.Label = label
		return e
	}
	along := []orb.Point{{2, 1}, {10, 1}}
	for _, c := range []struct {
		name    string
		wall    Wall
		outline roof.EdgeType
		edges   []roof.Edge
		want    string
	}{
		{"a wall of a roof with gutters", closed, roof.Gutter, nil, "south wall"},
		{"a gutter by the outline", south, roof.Gutter, nil, "south gutter"},
		{"a free edge by the outline", south, roof.Free, nil, "south edge"},
		{"a gutter by its edge", south, roof.Free, []roof.Edge{edge(roof.Gutter, "", along...)}, "south gutter"},
		{"a free edge by its edge", south, roof.Gutter, []roof.Edge{edge(roof.Free, "F-1", along...)}, "south edge (F-1)"},
		{"a wall with a label", closed, roof.Wall, []roof.Edge{edge(roof.Wall, "W 3", along...)}, "south wall (W 3)"},
		{"an edge elsewhere", south, roof.Gutter, []roof.Edge{edge(roof.Free, "F-1", orb.Point{9, 4}, orb.Point{20, 4})}, "south gutter"},
		{"an edge on the same line farther on", south, roof.Gutter, []roof.Edge{edge(roof.Free, "F-1", orb.Point{6.2, 1}, orb.Point{20, 1})}, "south gutter"},
		{"the second stretch of an edge", south, roof.Gutter, []roof.Edge{edge(roof.Free, "F-1", orb.Point{2, 9}, along[0], along[1])}, "south edge (F-1)"},
		{"the second edge", south, roof.Gutter, []roof.Edge{edge(roof.Gutter, "G", orb.Point{2, 9}, orb.Point{10, 9}), edge(roof.Free, "F", along...)}, "south edge (F)"},
		// The way from end to end over the middle may be 3 mm longer than the edge: 2 sqrt(5 5 + h h) - 10 is 2.88 mm for h = 0.12 m and 3.12 mm for 0.125.
		{"0.12 m beside an edge of 10 m", south, roof.Gutter, []roof.Edge{edge(roof.Free, "F", orb.Point{1, 1.12}, orb.Point{11, 1.12})}, "south edge (F)"},
		{"0.125 m beside it", south, roof.Gutter, []roof.Edge{edge(roof.Free, "F", orb.Point{1, 1.125}, orb.Point{11, 1.125})}, "south gutter"},
	} {
		r := &roof.Roof{Edges: c.edges}
		r.Outline.Edge = c.outline
		if got := Name(r, &c.wall); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
