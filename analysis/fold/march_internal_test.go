package fold

import (
	"math"
	"slices"
	"testing"
)

// paired is planes on squares, each spot with its label, and pairs of planes that meet in a shape.
func paired(g *grower, list []Plane, label []int32, meet ...pair) *pairs {
	g.list, g.label = list, label
	p := &pairs{grower: g, gap: 100}
	slices.SortFunc(meet, func(a, b pair) int { return int(key(a.a, a.b) - key(b.a, b.b)) })
	for _, q := range meet {
		p.keys, p.list = append(p.keys, key(q.a, q.b)), append(p.list, q)
	}
	return p
}

// marching is a marcher that has laid nothing yet.
func marching(p *pairs) *marcher {
	n := len(p.X)
	return &marcher{pairs: p, out: &Folds{Elsewhere: make([]bool, n), Open: make([]float64, n)}, atEdge: filled(len(p.V)), atVertex: filled(n)}
}

// By hand: one edge of 2 m to the east joins two planes of 2 % that are equal at some way along it, the higher of which is the roof in a valley. There the point lies, as far off the mesh as it was from 0: 4 % of s (2-s)/2. Within 50 mm of an end it runs through that, and from any
// way off through an outlet.
func TestFoldCrossesAnEdge(t *testing.T) {
	for _, c := range []struct {
		way    float64 // of the fold from the west end
		shape  shape
		vertex int32 // -1: on the edge
	}{
		{0.5, valley, -1},
		{1, valley, -1},
		{1.7, valley, -1},
		{0.5, ridge, -1},
		{1.9, ridge, -1},
		{0.051, valley, -1},
		{0.049, valley, 0},
		{1.949, valley, -1},
		{1.951, valley, 1},
		{-0.5, valley, 0},
		{2.5, valley, 1}, // beyond an end, to which it is kept
	} {
		up := 0.02
		if c.shape == ridge {
			up = -0.02
		}
		west, east := level(up*c.way, -up, 0), level(-up*c.way, up, 0)
		g := meshed(1, 2, 0.001)
		g.Z[0], g.Z[1] = 3, 4
		m := marching(paired(g, []Plane{west, east}, []int32{0, 1, -1, -1}, pair{a: 0, b: 1, shape: c.shape}))
		got := m.out
		at := m.cross(0, 0, 1)
		if at != 0 || len(got.Points) != 1 {
			t.Errorf("%+v: %d, %+v", c, at, got.Points)
			continue
		}
		p := got.Points[0]
		if c.vertex >= 0 {
			if p != (Point{g.X[c.vertex], g.Y[c.vertex], g.Z[c.vertex], c.vertex, -1, 0, 0}) || m.through(c.vertex) != 0 {
				t.Errorf("%+v: %+v", c, p)
			}
			continue
		}
		off := 0.04 * c.way * (2 - c.way) / 2
		below := off
		if c.shape == valley {
			below = 0 // the planes are sure
		}
		if !(math.Abs(p.X-1000-c.way) <= 1e-9) || p.Y != -500 || !(math.Abs(p.Z) <= 1e-12) || p.Vertex != -1 || p.Edge != 0 || !(math.Abs(p.Sigma-off) <= 1e-12) || !(math.Abs(p.Below-below) <= 1e-12) {
			t.Errorf("%+v: %+v, want %g off the mesh", c, p, off)
		}
	}
	build := func() *marcher {
		p := paired(meshed(1, 2, 0.001), []Plane{level(0.02, -0.02, 0), level(-0.02, 0.02, 0)}, []int32{0, 1, -1, -1}, pair{a: 0, b: 1, shape: valley})
		p.Outlet = make([]bool, 4)
		return marching(p)
	}
	for end := range int32(2) {
		m := build()
		if m.Outlet[end] = true; m.cross(0, 0, 1) != 0 || m.out.Points[0].Vertex != end {
			t.Errorf("past an outlet at its end %d: %+v", end, m.out.Points)
		}
	}
	for name, spoil := range map[string]func(m *marcher){
		"a plane from elsewhere at its start": func(m *marcher) { m.out.Elsewhere[0] = true },
		"a plane from elsewhere at its end":   func(m *marcher) { m.out.Elsewhere[1] = true },
		"an outlet beside it that is higher":  func(m *marcher) { m.Outlet[3], m.Z[3] = true, 0.001 },
		"a gap":                               func(m *marcher) { m.gap = 1.99 },
	} {
		m := build()
		if spoil(m); m.cross(0, 0, 1) != -1 || len(m.out.Points) != 0 {
			t.Errorf("%s: %+v", name, m.out.Points)
		}
	}
}

// Of three planes, the third lies over the place where two meet in a valley, or under it at a ridge, and meets at least one of them in the same way and neither in the other.
func TestHiddenByAThirdPlane(t *testing.T) {
	for _, c := range []struct {
		how, first, second shape // of the two, and of each with the third; apart here: they do not adjoin
		over               float64
		want               bool
	}{
		{valley, valley, valley, 0.01, true},
		{valley, valley, valley, -0.01, false},
		{valley, valley, valley, 0, false},
		{valley, valley, apart, 0.01, true},
		{valley, apart, valley, 0.01, true},
		{valley, apart, apart, 0.01, false},
		{valley, ridge, valley, 0.01, false},
		{valley, valley, ridge, 0.01, false},
		{valley, ridge, ridge, 0.01, false},
		{valley, ridge, apart, 0.01, false},
		{ridge, ridge, ridge, -0.01, true},
		{ridge, ridge, ridge, 0.01, false},
		{ridge, ridge, ridge, 0, false},
		{ridge, apart, ridge, -0.01, true},
		{ridge, valley, apart, -0.01, false},
	} {
		for _, label := range [][]int32{{0, 1, 2, -1}, {0, 1, -1, 2}} { // the third beside the start alone, or beside both ends
			meet := []pair{{a: 0, b: 1, shape: c.how}}
			if c.first != apart {
				meet = append(meet, pair{a: 0, b: 2, shape: c.first})
			}
			if c.second != apart {
				meet = append(meet, pair{a: 1, b: 2, shape: c.second})
			}
			m := marching(paired(meshed(1, 2, 0.001), []Plane{level(0, 0, 0), level(0, 0, 0), level(0.5+c.over, 0, 0)}, label, meet...))
			if got := m.hidden(0, 1, 1001, -500, 0.5); got != c.want {
				t.Errorf("%+v, %v: %v", c, label, got)
			}
			if got := m.hidden(1, 0, 1001, -500, 0.5); got != c.want {
				t.Errorf("%+v, %v, the other way round: %v", c, label, got)
			}
		}
	}
}

// An outlet opposite an edge on either side keeps folds that would pass lower away from it.
func TestFoldsDoNotPassBelowAnOutlet(t *testing.T) {
	for v, want := range map[int32]bool{0: false, 1: true, 2: true, 3: false} {
		p := paired(meshed(1, 2, 0.001), nil, make([]int32, 4))
		p.Z[v] = 0.5
		m := marching(p)
		if m.drains(2, 0.4) {
			t.Error("without outlets")
		}
		p.Outlet = make([]bool, 4)
		p.Outlet[v] = true
		for z, low := range map[float64]bool{0.49: true, 0.5: false, 0.51: false} {
			if got := m.drains(2, z); got != (want && low) { // half-edge 2 is the diagonal, between 1 and 2
				t.Errorf("outlet %d at 0.5, fold at %g: %v", v, z, got)
			}
		}
		if m.drains(0, 0.4) != (v == 3) { // the south side, on the border
			t.Errorf("outlet %d, on the border", v)
		}
	}
}

// By hand: points of a triangle's sides are joined in twos; two of three that are one and the same run through a corner; three meet where their planes do: 2 % up from (1001, -499.5) to the west, to the east and to the north, 0.1 m high, at their height and as sure as the worst of all. Where that lies outside, it is the mean of the three.
func TestPointsOfATriangle(t *testing.T) {
	build := func(at ...int32) *marcher {
		list := []Plane{level(0.12, -0.02, 0), level(0.08, 0.02, 0), level(0.09, 0, 0.02)}
		m := marching(paired(meshed(1, 2, 0.001), list, []int32{0, 1, -1, 2}))
		copy(m.atEdge, at)
		m.out.Points = []Point{{X: 1000.9, Y: -500, Sigma: 0.01, Below: 0.001}, {X: 1002, Y: -499.2, Sigma: 0.03, Below: 0.002}, {X: 1000.7, Y: -499.3, Sigma: 0.02, Below: 0.004}}
		m.link(0)
		return m
	}
	for _, c := range []struct {
		at    []int32
		links [][2]int32
	}{
		{[]int32{-1, -1, -1}, nil},
		{[]int32{-1, 1, -1}, nil},
		{[]int32{0, 1, -1}, [][2]int32{{0, 1}}},
		{[]int32{-1, 2, 0}, [][2]int32{{2, 0}}},
		{[]int32{1, 1, -1}, nil},
		{[]int32{0, 1, 1}, [][2]int32{{0, 1}, {1, 0}}},
		{[]int32{1, 0, 1}, [][2]int32{{1, 0}, {0, 1}}},
		{[]int32{1, 1, 0}, [][2]int32{{1, 0}, {0, 1}}},
		{[]int32{0, 1, 2}, [][2]int32{{0, 3}, {1, 3}, {2, 3}}},
	} {
		if m := build(c.at...); !slices.Equal(m.out.Links, c.links) {
			t.Errorf("%v: %v, want %v", c.at, m.out.Links, c.links)
		}
	}
	m := build(0, 1, 2)
	if p := m.out.Points[3]; !(math.Abs(p.X-1001) <= 1e-9) || !(math.Abs(p.Y+499.5) <= 1e-9) || !(math.Abs(p.Z-0.1) <= 1e-9) || p.Vertex != -1 || p.Edge != -1 || p.Sigma != 0.03 || p.Below != 0.004 {
		t.Errorf("where three planes meet: %+v", p)
	}
	m.list = nil
	m.grower.list[2] = level(0.07, 0, 0.02) // meets the others on the north side, at -498.5, outside
	m.triple(0, []int32{0, 1, 2})
	if p := m.out.Points[4]; !(math.Abs(p.X-(1000.9+1002+1000.7)/3) <= 1e-9) || !(math.Abs(p.Y+(500+499.2+499.3)/3) <= 1e-9) || !(math.Abs(p.Z-(0.12-0.02*1.2+0.08+0.02*1.2+0.07+0.02*0.5)/3) <= 1e-9) {
		t.Errorf("where they meet outside: %+v", p)
	}
	for third, f := range map[int32]int32{1: 0, 2: 1} { // in the triangle on either side of the diagonal, 0.5 m off it
		side := float64(2*f) - 1
		x, y := 1001-side*0.5, -499+side*0.5
		label := []int32{0, -1, -1, 1}
		label[third] = 2
		n := marching(paired(meshed(1, 2, 0.001), []Plane{level(0.1+0.02*(x-1000), -0.02, 0), level(0.1-0.02*(x-1000), 0.02, 0), level(0.1-0.02*(y+500), 0, 0.02)}, label))
		n.out.Points = m.out.Points[:3:3]
		n.triple(f, []int32{0, 1, 2})
		if p := n.out.Points[3]; !(math.Abs(p.X-x) <= 1e-9) || !(math.Abs(p.Y-y) <= 1e-9) || !(math.Abs(p.Z-0.1) <= 1e-9) {
			t.Errorf("in triangle %d: %+v, want (%g, %g)", f, p, x, y)
		}
	}
	for k := range m.grower.list {
		m.grower.list[k] = laid(1001, -499, 0.1, 0.02*float64(k), 0.1) // known to 50 mm amid its spots
	}
	if m.triple(0, []int32{0, 1, 2}); !(m.out.Points[5].Sigma >= 0.05) || m.out.Points[5].Below != m.out.Points[5].Sigma {
		t.Errorf("of unsure planes: %+v", m.out.Points[5])
	}
	m.Outlet = []bool{false, true, false, false}
	if at := m.triple(0, []int32{0, 1, 2}); m.out.Points[at].Vertex != 1 {
		t.Errorf("at an outlet: %+v", m.out.Points[at])
	}
}

// Points that no link has are taken out, and the others keep their links and their order.
func TestLonePointsAreDropped(t *testing.T) {
	out := &Folds{Points: []Point{{X: 0}, {X: 1}, {X: 2}, {X: 3}, {X: 4}}, Links: [][2]int32{{4, 1}, {1, 2}}}
	out.dropLone()
	if len(out.Points) != 3 || out.Points[0].X != 1 || out.Points[1].X != 2 || out.Points[2].X != 4 || !slices.Equal(out.Links, [][2]int32{{2, 0}, {0, 1}}) {
		t.Errorf("%+v, %v", out.Points, out.Links)
	}
}

// What nobody measured has a plane from elsewhere where it stands more than 25 mm off it and the nearest spot that an edge leads to is on another, of two as near the one of the lower number.
func TestPlaneFromElsewhere(t *testing.T) {
	for _, c := range []struct {
		name  string
		z     float64
		spoil func(p *pairs)
		want  bool
	}{
		{"far off", 0.026, nil, true},
		{"far below", -0.026, nil, true},
		{"nearly on it", 0.024, nil, false},
		{"measured", 0.026, func(p *pairs) { p.Measured[4] = true }, false},
		{"without a plane", 0.026, func(p *pairs) { p.label[4] = -1 }, false},
		{"on its neighbour's", 0.026, func(p *pairs) { p.label[1] = 0 }, false},
		{"a nearer one on its plane", 0.026, func(p *pairs) { p.X[5] -= 0.1; p.label[5] = 0 }, false},
		{"one as near on its plane", 0.026, func(p *pairs) { p.label[3] = 0 }, true},
		{"one farther off on its plane", 0.026, func(p *pairs) { p.X[5] += 0.1; p.label[5] = 0 }, true},
		{"the nearest not measured", 0.026, func(p *pairs) { p.Measured[1] = false; p.label[3] = 0 }, false},
		{"no neighbour measured", 0.026, func(p *pairs) { clear(p.Measured) }, false},
		{"the first spot of all alone", 0.026, func(p *pairs) { clear(p.Measured); p.Measured[0] = true }, true},
	} {
		p := paired(meshed(2, 2, 0.001), []Plane{level(0, 0, 0), level(5, 0, 0)}, []int32{1, 1, 1, 1, 0, 1, 1, 1, 1})
		p.Measured[4], p.Z[4] = false, c.z
		if c.spoil != nil {
			c.spoil(p)
		}
		if got := p.elsewhere(4); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
