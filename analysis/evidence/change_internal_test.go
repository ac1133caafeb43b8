package evidence

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/ponding"
	"runnel/analysis/surface"
)

// TestOffersCostWhatTheyChange: an offer on the measured surface costs the squared changes of all that it moves, by their prices: what is raised to its level and stands below, what is lowered to it and stands above, and the door and its inlet. After it the low place has a
// way out, or is one with another as low.
func TestOffersCostWhatTheyChange(t *testing.T) {
	offers := 0
	for seed := range uint64(6) {
		c := begun(t, seed)
		for i := range c.offers {
			o := &c.offers[i]
			if o.price >= c.most {
				if o.raise != nil || o.path != nil {
					t.Errorf("an offer that is too dear keeps its changes")
				}
				continue
			}
			offers++
			want := 0.0
			for _, v := range o.raise {
				want += c.high[v] * math.Pow(math.Max(0, o.level-c.z[v]), 2)
				if c.z[v] > o.level {
					t.Errorf("%g is raised to %g", c.z[v], o.level)
				}
			}
			for _, v := range o.path {
				want += c.low[v] * math.Pow(math.Max(0, c.z[v]-o.level), 2)
				if c.z[v] <= o.level {
					t.Errorf("%g is lowered to %g", c.z[v], o.level)
				}
			}
			if o.door >= 0 {
				t.Errorf("an offer through a door of %g", o.price) // see TestDoorOfALowPlace
			}
			if !(math.Abs(o.price-want) <= 1e-9*(1+want)) {
				t.Errorf("seed %d, offer at %d: %g, its changes cost %g", seed, o.pit, o.price, want)
			}
			if o.price < 0 || o.price != o.alone || o.price != o.spent {
				t.Errorf("%g, alone %g, spent %g", o.price, o.alone, o.spent)
			}
		}
		for i := range c.offers {
			o := &c.offers[i]
			if c.update(o); c.isPit(o.pit) && o.price < c.most {
				c.apply(c.ground, o)
				if c.isPit(o.pit) && c.at[o.pit].h != o.level {
					t.Errorf("seed %d: the low place at %d stays one, at %g and not at %g", seed, o.pit, c.at[o.pit].h, o.level)
				}
			}
		}
	}
	if offers < 100 {
		t.Errorf("%d offers", offers)
	}
}

// row is a ground of elements in a row, each beside the next, that all cost 1 to move by a metre, squared.
func row(z ...float64) *ground {
	n := len(z)
	g := &ground{z: z, low: make([]float64, n), high: make([]float64, n), sink: make([]bool, n), first: make([]int32, n+1), firstDoor: make([]int32, n+1), vertex: identity(n), number: identity(n)}
	for i := range n {
		g.low[i], g.high[i] = 1, 1
		if i > 0 {
			g.near = append(g.near, int32(i-1))
		}
		if i+1 < n {
			g.near = append(g.near, int32(i+1))
		}
		g.first[i+1] = int32(len(g.near))
	}
	return g
}

// TestCheapestChangeInARow: by hand. A pit at 0 beside a lip at 2 before lower ground: both meet at 1, for 2. Two lips at 2: at the mean of 0, 2 and 2, for 8/3. A lip that cannot be raised and costs 3: at the mean weighed so, 1.5, for 1.5^2 + 3/4 = 3. Over a free edge at 2 that is lowered alone. Of two ways out the cheaper one. Beyond
// all that is worth it: Most.
func TestCheapestChangeInARow(t *testing.T) {
	for _, c := range []struct {
		name         string
		g            *ground
		pit          int32
		price, level float64
		path         []int32
	}{
		{"one lip", row(9, 0, 2, -1), 1, 2, 1, []int32{2}},
		{"two lips", row(9, 0, 2, 2, -1), 1, 8. / 3, 4. / 3, []int32{3, 2}},
		{"a floor of two", row(9, 0, 0, 2, -1), 1, 8. / 3, 2. / 3, []int32{3}},
		{"the lower of two lips", row(-1, 1, 0, 2, -1), 2, 0.5, 0.5, []int32{1}},
		{"walls too high", row(40, 0, 40, -1), 1, Most, 0, nil},
		{"a higher step beyond the lip counts", row(9, 0, 2, 4, -1), 1, 8, 2, []int32{3}},
	} {
		p := newPricer(c.g, newState(c.g))
		got := p.price(c.pit)
		near(t, c.name+": price", got.price, c.price, 1e-6)
		near(t, c.name+": level", got.level, c.level, 1e-4)
		if !slices.Equal(got.path, c.path) && len(got.path)+len(c.path) > 0 {
			t.Errorf("%s: lowers %v, want %v", c.name, got.path, c.path)
		}
		if got.door != -1 {
			t.Errorf("%s: through a door", c.name)
		}
	}
	dear := row(9, 0, 2, -1)
	dear.low[2] = 3
	got := newPricer(dear, newState(dear)).price(1)
	near(t, "dear lip: level", got.level, 1.5, 1e-4)
	near(t, "dear lip: price", got.price, 3, 1e-6)
	// A lip that was raised by 1 before, for 1, gives that back where it is lowered to as much below: to 1 it costs nothing more, and only the pit has to be raised.
	raised := row(9, 0, 2, -1)
	s := newState(raised)
	s.at[2].h = 3
	got = newPricer(raised, s).price(1)
	near(t, "raised lip: price", got.price, 1, 1e-6)
	near(t, "raised lip: level", got.level, 1, 1e-4)
	// A pit that was raised by 1 before, for 1, costs 3 more to the lip at 2, and to where it stands nothing: there the lip is lowered to it for 1.
	s = newState(raised)
	s.at[1].h = 1
	got = newPricer(raised, s).price(1)
	near(t, "raised pit: price", got.price, 1, 1e-6)
	near(t, "raised pit: level", got.level, 1, 1e-4)
	// What costs more than Most to flood is no way out, and what lies beyond it is not looked at.
	walls := row(90, 0, 80, 81, 82, -1)
	p := newPricer(walls, newState(walls))
	if got = p.price(1); got.price != Most || !slices.Equal(p.flood, []int32{1, 2}) || !math.IsInf(p.lip, 1) {
		t.Errorf("walls too high: %g, flooded %v to %g", got.price, p.flood, p.lip)
	}
	edge := row(9, 0, 2)
	edge.sink[2] = true
	got = newPricer(edge, newState(edge)).price(1)
	near(t, "free edge: price", got.price, 2, 1e-6)
	if !slices.Equal(got.path, []int32{2}) {
		t.Errorf("free edge: lowers %v", got.path)
	}
}

// TestDoorOfALowPlace: by hand: a pit at 0 in walls, with a door at 1 whose inlet stands at 3, both of price 1: pit, door and inlet meet at the mean of 0, 1 and 3, 4/3, where the door costs nothing any more, so at that of 0 and 3: 1.5, for 4.5. With its share of the pit's own movement the door is no dearer.
func TestDoorOfALowPlace(t *testing.T) {
	g := row(40, 0, 40)
	g.doors, g.firstDoor, g.invert, g.outWeight = []door{{outlet: 0, at: 1, own: 1, weight: 1}}, []int32{0, 0, 1, 1}, []float64{3}, []float64{1}
	s := newState(g)
	p := newPricer(g, s)
	got := p.price(1)
	near(t, "price", got.price, 4.5, 1e-6)
	near(t, "level", got.level, 1.5, 1e-4)
	if got.door != 0 {
		t.Errorf("door %d", got.door)
	}
	if !slices.Equal(s.into[0], []int32{1}) {
		t.Errorf("elements with a door %v", s.into[0])
	}
	near(t, "takes water from", p.doorLevel(0), 3, 0)
	s.apply(g, &offer{level: 1.5, raise: []int32{1}, door: 0})
	near(t, "takes water then from", p.doorLevel(0), 1.5, 1e-12)
	if s.at[1].h != 1.5 || s.lowered[0] != 1.5 || s.inlet[0] != 1.5 || s.turn[1] != 1 || s.turn[0] != 1 || s.turn[2] != 1 || !s.changedIn([]int32{0}, 0) || s.changedIn([]int32{0, 1}, 1) {
		t.Errorf("%+v", s)
	}
	s.apply(g, &offer{level: 2, path: []int32{2}, door: 0}) // what is lower stays so
	if s.at[2].h != 2 || s.lowered[0] != 1.5 || s.inlet[0] != 1.5 || s.turn[1] != 2 || s.turn[0] != 1 {
		t.Errorf("%+v", s)
	}
	for _, c := range []struct {
		name        string
		level, want float64
		v           int32
		lowered     float64
		inlet       float64
		inletLow    bool
	}{
		{name: "all above", level: 0.5, v: 1, want: 0.25 + 6.25, lowered: math.Inf(1), inlet: 3},
		{name: "the element comes down with it", level: 0.5, v: 0, want: 6.25, lowered: math.Inf(1), inlet: 3},
		{name: "at the door", level: 1, v: 1, want: 4, lowered: math.Inf(1), inlet: 3},
		{name: "the door is lowered already", level: 0.5, v: 1, want: 6.25, lowered: 0.5, inlet: 3},
		{name: "the inlet is lowered in part", level: 1, v: 1, want: 4 - 1, lowered: math.Inf(1), inlet: 2},
		{name: "the inlet is low enough", level: 1, v: 1, want: 0, lowered: math.Inf(1), inlet: 1},
	} {
		s := newState(g)
		s.lowered[0], s.inlet[0] = c.lowered, c.inlet
		near(t, c.name, newPricer(g, s).throughDoor(0, c.level, c.v), c.want, 1e-12)
	}
}

// TestLowPlaces: the first element of each level set without a lower neighbour and without a way out. In a row: 1 and 2 level at 0 are one; at an open edge, or where a door takes water as low, there is none.
func TestLowPlaces(t *testing.T) {
	g := row(3, 0, 0, 2, 1, 5, 4, 4, 6, 2)
	c := newCanceller(g, 100, 100)
	if got := c.pits(); !slices.Equal(got, []int32{1, 4, 6, 9}) {
		t.Errorf("low places at %v", got)
	}
	g.sink[2] = true
	g.doors, g.invert, g.outWeight = []door{{outlet: 0, at: 1}, {outlet: 1, at: 4.5}}, []float64{1, 0}, []float64{1, 1}
	g.firstDoor = []int32{0, 0, 0, 0, 0, 1, 1, 1, 2, 2, 2}
	c = newCanceller(g, 100, 100)
	if got := c.pits(); !slices.Equal(got, []int32{6, 9}) { // the door at 4 takes water from 1 on, that at 7 from 4.5
		t.Errorf("low places at %v, with ways out", got)
	}
}

// TestCancellingARow: by hand: of pits 2 and 8 deep before a free edge, at a threshold of 10 the shallow one is let go for 2 and the deep one, which costs 32, stays with its price. Beside a curb a lower threshold holds: of 1, the shallow one stays as well. What was spent is told of each.
func TestCancellingARow(t *testing.T) {
	for _, c := range []struct {
		name   string
		atCurb float64
		left   []place
	}{
		{"far from curbs", 10, []place{{pit: 3, price: 32}}},
		{"the shallow one beside a curb", 1, []place{{pit: 1, price: 2}, {pit: 3, price: 32}}},
		{"beside a curb, but cheap enough", 2.1, []place{{pit: 3, price: 32}}},
	} {
		g := row(20, 6, 8, 0, 8, -1)
		g.sink[5] = true
		g.curb = []bool{false, true, false, false, false, false}
		k := newCanceller(g, 10, c.atCurb)
		k.run()
		if len(k.left) != len(c.left) {
			t.Errorf("%s: %+v", c.name, k.left)
			continue
		}
		for i, want := range c.left {
			if k.left[i].pit != want.pit || !(math.Abs(k.left[i].price-want.price) <= 1e-3) || !slices.Contains(k.left[i].region, want.pit) {
				t.Errorf("%s: %+v, want %+v", c.name, k.left[i], want)
			}
		}
		near(t, c.name+": spent on the shallow one", k.spentOn(1), 2, 1e-3)
		near(t, c.name+": on the deep one", k.spentOn(3), 32, 1e-3)
		near(t, c.name+": on no low place", k.spentOn(2), 0, 0)
	}
}

// TestVerdictsOfPonds: a low place that was left shows the greatest pond whose lowest point it covers and those a quarter as great, none without depth; of the others the evidence is what was spent on their low place. A pond whose lowest point a footprint made is told nothing.
func TestVerdictsOfPonds(t *testing.T) {
	g := row(0, 1, 2, 3, 4)
	c := newCanceller(g, 10, 10)
	c.left = []place{{pit: 0, price: 50, region: []int32{0, 1, 2}}, {pit: 0, price: 20, region: []int32{0}}}
	c.offers = []offer{{pit: 3, spent: 6}}
	pond := func(pit int32, volume, depth float64) ponding.Pond {
		return ponding.Pond{Pits: []int32{pit}, Volume: volume, Depth: depth}
	}
	in := &Input{Ponds: &ponding.Ponds{Ponds: []ponding.Pond{pond(0, 8, 1), pond(1, 2, 1), pond(2, 1.9, 1), pond(1, 3, 0), pond(3, 1, 1), pond(4, 1, 1), pond(5, 9, 1)}}}
	r := &Result{Ponds: make([]Verdict, 7)}
	in.assign(r, c, identity(5))
	for i, want := range []Verdict{{50, true}, {50, true}, {0, false}, {0, false}, {6, false}, {0, false}, {0, false}} {
		if r.Ponds[i] != want {
			t.Errorf("pond %d: %+v, want %+v", i, r.Ponds[i], want)
		}
	}
}

// TestPlainSurfaceOfCells: each vertex moves as its cell does, from where it was measured; the change is the root of the mean square.
func TestPlainSurfaceOfCells(t *testing.T) {
	cells := row(0, 1)
	c := newCanceller(cells, 10, 10)
	c.at[0].h, c.at[1].h = 0.3, 0.6
	fine := row(5, 6, 7)
	r := &Result{}
	r.plain(&Input{Surface: &surface.Surface{TIN: &surface.TIN{Z: []float64{5, 6, 7}}}}, c, fine, []int32{0, 1, 0})
	for v, want := range []float64{5.3, 5.6, 7.3} {
		near(t, "plain", r.Plain[v], want, 1e-12)
	}
	near(t, "change", r.Change, math.Sqrt((0.09+0.16+0.09)/3), 1e-12)
}
