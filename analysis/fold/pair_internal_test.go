package fold

import (
	"math"
	"slices"
	"testing"
)

// By hand, over the diagonal of a square of 1 m, whose ends lie on two planes 0.01 m apart: a spot opposite it that lies on neither speaks of a third part where it stands four of its errors of 0.01 m over both, and the planes meet in a valley, or under both, and they meet at a ridge.
func TestSpotsOfAThirdPart(t *testing.T) {
	for _, c := range []struct {
		name   string
		z      float64 // of the spot: the planes stand at 0 and 0.01
		valley bool
		spoil  func(p *pairs, v int32)
		want   bool
	}{
		{"over both", 0.0501, true, nil, true},
		{"over one", 0.0499, true, nil, false},
		{"over both at a ridge", 0.0501, false, nil, false},
		{"under both", -0.0401, false, nil, true},
		{"under one", -0.0399, false, nil, false},
		{"under both in a valley", -0.0401, true, nil, false},
		{"not measured", 0.06, true, func(p *pairs, v int32) { p.Measured[v] = false }, false},
		{"of another plane", 0.06, true, func(p *pairs, v int32) { p.label[v] = 0 }, false},
		{"on a coded line", 0.06, true, func(p *pairs, v int32) { p.Coded[v] = true }, false},
		{"of an error of 20 mm", 0.06, true, func(p *pairs, v int32) { p.sigma[v] = 0.02 }, false},
		{"an outlet", 0.06, true, func(p *pairs, v int32) { p.Outlet = make([]bool, 4); p.Outlet[v] = true }, false},
		{"next to an outlet", 0.06, true, func(p *pairs, _ int32) { p.Outlet = []bool{true, false, false, false} }, false},
		{"an outlet elsewhere", 0.06, true, func(p *pairs, v int32) { p.Outlet = make([]bool, 4); p.Outlet[3-v] = true }, true},
		{"over a gap", 0, true, func(p *pairs, _ int32) { p.gap = 1.414 }, true},
		{"over no gap", 0, true, func(p *pairs, _ int32) { p.gap = 1.415 }, false},
	} {
		for _, v := range []int32{1, 2} {
			p := paired(meshed(1, 1, 0.01), []Plane{level(0, 0, 0), level(0.01, 0, 0)}, []int32{0, -1, -1, 1})
			p.Z[v], p.Z[3-v] = c.z, 0
			if c.spoil != nil {
				c.spoil(p, v)
			}
			for _, e := range []int32{2, 3} { // the diagonal, from either side
				if got := p.denied(e, c.valley); got != c.want {
					t.Errorf("%s, spot %d from half-edge %d: %v", c.name, v, e, got)
				}
			}
		}
	}
	p := paired(meshed(1, 1, 0.01), []Plane{level(0, 0, 0), level(0.01, 0, 0)}, []int32{0, 1, -1, -1})
	if p.Z[2], p.Z[3] = 0.06, 0; p.denied(0, true) {
		t.Error("a spot that is not opposite an edge of the border")
	}
	if p.Z[3] = 0.06; !p.denied(0, true) {
		t.Error("a spot opposite an edge of the border")
	}
}

// By hand: two planes of 2 % and 6 % that both fall to a line 0.5 m along an edge of 2 m meet there 0.5 x 1.5 / 2 m x 8 % = 30 mm off it: 3 of the errors of 10 mm of its worse end, and as many of the worse plane's there as its variance says. Where they meet beyond an end of the edge it tells nothing.
func TestVoteOfAnEdge(t *testing.T) {
	for _, up := range []float64{1, -1} {
		g := meshed(1, 2, 0.005)
		g.sigma[1], g.Z[2], g.Z[3] = 0.01, 0.5, 0.5
		west, east := laid(1000, -500, 0.5+up*0.01, -up*0.02, 0.01), laid(1002, -500, 0.5+up*0.09, up*0.06, 0.02)
		p := paired(g, []Plane{west, east}, []int32{0, 1, -1, -1})
		v := p.vote(0, 0, 1)
		doubt := 0.02 / 2 * math.Sqrt(1+1.5*1.5) // of the east one: its spots stand about (1002, -500)
		if v.key != 1 || v.u != 0 || v.v != 1 || !(math.Abs(v.gain-3) <= 1e-9) || !(math.Abs(v.doubt-0.03/doubt) <= 1e-9) {
			t.Errorf("up %g: %+v, want a gain of 3 and a doubt of %g", up, v, 0.03/doubt)
		}
		if v = p.vote(0, 1, 0); v.key != 1 || !(math.Abs(v.gain-3) <= 1e-9) || !(math.Abs(v.doubt-0.03/doubt) <= 1e-9) {
			t.Errorf("up %g, the other way round: %+v", up, v)
		}
		if p.gap = 1.9; p.vote(0, 0, 1).gain != 0 {
			t.Error("over a gap")
		}
		p.gap = 100
		p.grower.list[1] = laid(1002, -500, 0.5+up*0.15, up*0.06, 0.02) // equal at 1 m before the edge: (0.15 - 0.01 - 0.12)/(0.08)
		if v = p.vote(0, 0, 1); v.gain != 0 || v.doubt != 0 {
			t.Errorf("up %g, beyond an end: %+v", up, v)
		}
	}
}

// Every edge between two planes is visited once, from either side or from the border: by hand, those of the diagonal and the two sides that it cuts off a square.
func TestEdgesThatJoinPlanes(t *testing.T) {
	for _, c := range []struct {
		label []int32
		want  int
	}{{[]int32{0, 1, 0, 1}, 3}, {[]int32{0, 0, 1, 0}, 2}, {[]int32{1, 0, 0, 0}, 3}, {[]int32{0, 0, 0, 1}, 3}, {[]int32{0, 0, 0, -1}, 0}, {[]int32{0, 1, -1, 1}, 2}, {[]int32{2, 2, 2, 2}, 0}} {
		p := paired(meshed(1, 1, 0.01), nil, c.label)
		for turn := range int32(3) { // each triangle from another corner, so that every half-edge stands first once
			got := 0
			p.joining(func(e, u, v int32) {
				if got++; p.V[e] != u || p.end(e) != v || p.label[u] == p.label[v] {
					t.Errorf("%v: half-edge %d from %d to %d", c.label, e, u, v)
				}
			})
			if got != c.want {
				t.Errorf("%v, turned by %d: %d edges, want %d", c.label, turn, got, c.want)
			}
			v, twin := slices.Clone(p.V), slices.Clone(p.Twin)
			next := func(e int32) int32 { return 3*(e/3) + (e+1)%3 }
			for e := range int32(6) {
				if p.V[e] = v[next(e)]; twin[next(e)] >= 0 {
					p.Twin[e] = 3*(twin[next(e)]/3) + (twin[next(e)]+2)%3
				} else {
					p.Twin[e] = -1
				}
			}
		}
	}
}

// By hand: planes meet in a fold where three edges join them, one of which lies a quarter of a spot's error off it, and their slopes differ by 0.5 %. It is known where that edge lies three of the planes' own errors off it, else doubted; the edge that is clearest of both counts.
func TestWhenPlanesMeet(t *testing.T) {
	for _, c := range []struct {
		name           string
		turn           float64
		votes          [][2]float64 // gain and doubt
		known, doubted bool
	}{
		{"clear", 0.02, [][2]float64{{0, 0}, {1, 4}, {0, 0}}, true, false},
		{"two edges", 0.02, [][2]float64{{1, 4}, {1, 4}}, false, false},
		{"just enough", 0.00501, [][2]float64{{0, 0}, {0, 0}, {0.25, 3}}, true, false},
		{"too little for a spot", 0.02, [][2]float64{{0.249, 9}, {0, 0}, {0, 0}}, false, false},
		{"too little for the planes", 0.02, [][2]float64{{9, 2.99}, {0, 0}, {0, 0}}, false, true},
		{"too flat", 0.00499, [][2]float64{{1, 4}, {1, 4}, {1, 4}}, false, false},
		{"the clearest of both", 0.02, [][2]float64{{0.24, 99}, {0.3, 3.1}, {99, 2.9}}, true, false},
		{"never both at once", 0.02, [][2]float64{{0.24, 99}, {0.2, 3.1}, {0.3, 2.9}}, false, true},
	} {
		for _, up := range []float64{1, -1} {
			g := meshed(4, 1, 0.001)
			var label []int32
			for v, x := range g.X {
				side := int32(0)
				if x > 1002 {
					side = 1
				}
				label = append(label, side)
				g.Z[v] = up * c.turn / 2 * math.Abs(x-1002.5)
			}
			p := paired(g, []Plane{level(up*c.turn*1.25, -up*c.turn/2, 0), level(-up*c.turn*1.25, up*c.turn/2, 0)}, label)
			var votes []vote
			for k, v := range c.votes {
				votes = append(votes, vote{key: key(1, 0), u: int32(5*k + 2), v: int32(5*k + 3), gain: v[0], doubt: v[1]})
			}
			got := p.judge(votes)
			want := pair{a: 0, b: 1, shape: valley, known: c.known, doubted: c.doubted}
			if up < 0 {
				want.shape = ridge
			}
			if got != want {
				t.Errorf("%s, up %g: %+v, want %+v", c.name, up, got, want)
			}
		}
	}
}

// A spot that lies on two planes goes to the one on whose side of their fold it stands, and one that is off its own to a neighbour's that it lies on.
func TestSpotsMoveToTheirSide(t *testing.T) {
	for _, c := range []struct {
		name  string
		z     float64 // of the spot, 0.1 m east of a valley of 2 % to both sides, good to 2 mm and labelled with the western plane, whose height there is -2 mm
		shape shape
		east  int32 // label of the spots east of it
		want  int32
	}{
		{"on both", 0, valley, 1, 1},
		{"on both, which do not fold", 0, apart, 1, 0},
		{"on both of a ridge", 0, ridge, 1, 0},
		{"on its own alone", -0.0079, valley, 1, 0},
		{"off its own", 0.0041, apart, 1, 1},
		{"off both", 0.0081, valley, 1, 0},
		{"beside none", 0.002, valley, 0, 0},
	} {
		p := paired(meshed(2, 1, 0.002), []Plane{level(0.02*0.9, -0.02, 0), level(-0.02*0.9, 0.02, 0)}, []int32{0, -1, c.east, 0, 0, c.east, 0, -1, c.east}, pair{a: 0, b: 1, shape: c.shape})
		for v := range p.Z {
			p.Z[v] = 0.02 * math.Abs(p.X[v]-1000.9)
		}
		p.Z[4] = c.z
		if moved := p.moveSpots(); p.label[4] != c.want || p.label[7] != -1 || moved != (c.want == 1) {
			t.Errorf("%s: on plane %d, spot of none on %d, moved %v", c.name, p.label[4], p.label[7], moved)
		}
	}
}

// A plane is fitted to its spots anew, each weighted by its error, where they are six at least.
func TestRefit(t *testing.T) {
	for spots, want := range map[int]float64{5: 7, 6: 0.5, 9: 0.5} {
		p := paired(meshed(2, 1, 0.002), []Plane{level(9, 0, 0), level(7, 0, 0)}, slices.Repeat([]int32{-1}, 9))
		for _, v := range []int{4, 0, 8, 2, 6, 1, 3, 5, 7}[:spots] {
			p.label[v], p.Z[v] = 1, 0.5
		}
		p.refit()
		if got := p.grower.list[1].At(1001, -499); !(math.Abs(got-want) <= 1e-9) || p.grower.list[0].Z != 9 {
			t.Errorf("of %d spots: at %g, want %g", spots, got, want)
		}
	}
	p := paired(meshed(2, 1, 0.002), []Plane{level(9, 0, 0)}, make([]int32, 9))
	p.Z[4], p.sigma[4] = 1, 0.004
	p.refit() // the middle of nine counts a quarter of the others
	if got := p.grower.list[0].At(1001, -499); !(math.Abs(got-0.25/8.25) <= 1e-9) {
		t.Errorf("the middle is raised to %g, want %g", got, 0.25/8.25)
	}
}

// The nearest neighbour's plane, of two as near the lower; of measured ones alone if so asked; and for a spot only one that it lies on.
func TestPlaneOfTheNearestNeighbour(t *testing.T) {
	for _, c := range []struct {
		name     string
		label    [9]int32
		spot     bool
		measured bool
		spoil    func(p *pairs)
		want     int32
	}{
		{"as near", [9]int32{2, 1, -1, 2, -1, 2, -1, 0, 2}, false, true, nil, 0},
		{"none", [9]int32{-1, -1, 0, -1, -1, -1, 0, -1, -1}, false, true, nil, -1},
		{"farther on the diagonal", [9]int32{0, 2, -1, 2, -1, 1, -1, 2, 0}, false, true, nil, 1},
		{"of measured ones", [9]int32{2, 1, -1, 2, -1, 2, -1, 0, 2}, false, true, func(p *pairs) { p.Measured[7] = false }, 1},
		{"of all", [9]int32{2, 1, -1, 2, -1, 2, -1, 0, 2}, false, false, func(p *pairs) { p.Measured[7] = false }, 0},
		{"a measured one without a plane is the nearest", [9]int32{0, -1, -1, -1, -1, -1, -1, -1, 0}, false, true, nil, -1},
		{"of all with a plane", [9]int32{0, -1, -1, -1, -1, -1, -1, -1, 0}, false, false, nil, 0},
		{"a spot on the third", [9]int32{2, 1, -1, 0, -1, 1, -1, 0, 2}, true, true, nil, 2},
		{"a spot on none", [9]int32{1, 1, -1, 0, -1, 1, -1, 0, 1}, true, true, nil, -1},
		{"a spot beside one without", [9]int32{2, -1, -1, -1, -1, -1, -1, -1, 2}, true, true, nil, 2},
	} {
		p := paired(meshed(2, 1, 0.002), []Plane{level(1, 0, 0), level(2, 0, 0), level(3, 0, 0)}, c.label[:])
		if p.Measured[4], p.Z[4] = c.spot, 3.0059; c.spoil != nil {
			c.spoil(p)
		}
		if got := p.nearest(4, c.measured, strays); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// Round a field of one plane: spots that lie on it take it in the first pass, what was not measured from a spot in the first or, as a corner beside such only, from one of these in the second. Spots that lie off it have none, nor what stands on coded lines. What was not measured goes to the side of a fold on which it stands, a spot only if it lies on that.
func TestTheRestTakesAPlane(t *testing.T) {
	label := func() []int32 { return []int32{-1, -1, -1, 0, 0, -1, 0, 0, -1} }
	p := paired(meshed(2, 1, 0.002), []Plane{level(0, 0, 0)}, label())
	p.Measured[1], p.Measured[2] = false, false
	p.Z[5] = 0.0061 // a spot just off it, that corner 2 stands beside
	p.Coded[8] = true
	if p.takeRest(strays); !slices.Equal(p.label, []int32{0, 0, 0, 0, 0, -1, 0, 0, -1}) {
		t.Errorf("%v", p.label)
	}
	for _, c := range []struct {
		name  string
		z     float64
		spot  bool
		shape shape
		want  int32
	}{{"a corner beyond the fold", 9, false, valley, 1}, {"a corner where nothing folds", 9, false, apart, 0}, {"a spot on both", 0, true, valley, 1}, {"a spot on the nearest alone", -0.0079, true, valley, 0}} {
		// the valley of TestSpotsMoveToTheirSide, whose western spots stand nearer
		p := paired(meshed(2, 1, 0.002), []Plane{level(0.02*0.9, -0.02, 0), level(-0.02*0.9, 0.02, 0)}, []int32{0, 0, 1, 0, -1, 1, 0, 0, 1}, pair{a: 0, b: 1, shape: c.shape})
		for v := range p.Z {
			p.Z[v] = 0.02 * math.Abs(p.X[v]-1000.9)
		}
		p.Z[4], p.Measured[4] = c.z, c.spot
		p.takeRest(strays)
		if p.label[4] != c.want {
			t.Errorf("%s: on plane %d, want %d", c.name, p.label[4], c.want)
		}
	}
}

// Round the western column of a field, which has a plane: spots take it one column farther, where means stop planes short of folds three, as what was not measured does. What has a plane keeps it, though it is the first of all and a nearer one fits.
func TestTheRestTakesAPlaneByColumns(t *testing.T) {
	for name, c := range map[string]struct {
		mean, measured bool
		want           float64 // columns
	}{"spots": {false, true, 1}, "spots with means": {true, true, 3}, "not measured": {false, false, 3}} {
		p := paired(meshed(4, 1, 0.002), []Plane{level(0, 0, 0)}, slices.Repeat([]int32{-1}, 25))
		for v := range p.label {
			if p.Measured[v] = c.measured; p.X[v] == 1000 {
				p.label[v], p.Measured[v] = 0, true
			}
		}
		if c.mean {
			p.mean, p.count = make([][3]float64, 25), slices.Repeat([]float64{1}, 25)
		}
		p.takeRest(strays)
		for v, l := range p.label {
			if (l == 0) != (p.X[v] <= 1000+c.want) {
				t.Errorf("%s: %g m east on plane %d", name, p.X[v]-1000, l)
			}
		}
	}
	label := []int32{0, 0, 0, 1, 1, 0, 1, 1, 1}
	p := paired(meshed(2, 1, 0.002), []Plane{level(0, 0, 0), level(0.001, 0, 0)}, slices.Clone(label))
	p.Measured[5], p.Z[4] = false, 0.001
	if p.takeRest(strays); !slices.Equal(p.label, label) {
		t.Errorf("%v, want %v", p.label, label)
	}
}

// Between two planes a metre apart each spot counts alike: 18 of 22 on the right side are 14 more than on the wrong one, over six of ten; 19 of 24 are not.
func TestMostSpotsTellTheShape(t *testing.T) {
	for _, c := range []struct {
		right, wrong int
		want         bool
	}{{18, 4, true}, {19, 5, false}} {
		for _, up := range []float64{1, -1} {
			p := paired(meshed(4, 1, 0.002), []Plane{level(up, 0, 0), level(0, 0, 0)}, slices.Repeat([]int32{-1}, 25))
			var votes []vote
			for v := range int32(c.right + c.wrong) {
				if p.label[v] = 0; int(v) < c.wrong {
					p.label[v] = 1
				}
				votes = append(votes, vote{u: v, v: v})
			}
			want := apart
			if c.want {
				if want = ridge; up > 0 {
					want = valley
				}
			}
			if got := p.shapeOf(&pair{a: 0, b: 1}, votes); got != want {
				t.Errorf("%+v, up %g: %d, want %d", c, up, got, want)
			}
		}
	}
}

// Planes that were laid 2 mm off the sides of an exact valley, with one spot on the wrong side, settle on them: the spot moves, and both are fitted anew. How they meet is told by the ends of the edges that join them and three rings more: 2, 8, 14 and 20 spots of one edge.
func TestPlanesSettle(t *testing.T) {
	g := meshed(12, 1, 0.003)
	label := make([]int32, len(g.X))
	for v, x := range g.X {
		g.Z[v] = 0.02 * math.Abs(x-1005.6)
		if x > 1006.5 { // the column at 1006 is on the wrong side
			label[v] = 1
		}
	}
	p := paired(g, []Plane{level(0.02*5.6+0.002, -0.02, 0), level(-0.02*5.6+0.002, 0.02, 0)}, label)
	p.settle()
	for v, x := range g.X {
		if (p.label[v] == 1) != (x > 1005.6) {
			t.Fatalf("the spot at %g is on plane %d", x, p.label[v])
		}
	}
	for k, up := range []float64{-0.02, 0.02} {
		q := &p.grower.list[k]
		if !(math.Abs(q.At(1005.6, -495)) <= 1e-9) || !(math.Abs(q.DX-up) <= 1e-9) || !(math.Abs(q.DY) <= 1e-9) {
			t.Errorf("plane %d: %+v", k, q)
		}
	}
	if q := p.of(0, 1); q == nil || q.shape != valley || !q.known {
		t.Errorf("they meet in %+v", q)
	}
	if p.shapeOf(&pair{a: 0, b: 1}, []vote{{u: 6*13 + 5, v: 6*13 + 6}}); len(p.set) != 44 {
		t.Errorf("%d spots tell how planes meet, want 44", len(p.set))
	}
}
