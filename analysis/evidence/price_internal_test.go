package evidence

import (
	"math"
	"testing"

	"runnel/analysis/surface"
)

// By hand: the level that is cheapest is the mean of what is raised to it and of what is lowered, weighed by what a metre of each costs. Of what was flooded only the first counts, and what stands at the level already
// costs nothing either way: 1 at 2 and 3 at 6 raised, 4 at 9 lowered, a door of 2 at 8 and its outlet of 10 at 7 make (2 + 18 + 36 + 16 + 70) / 20 = 7.1 amid a level of 6.5.
func TestCheapestLevel(t *testing.T) {
	g := &ground{
		z: []float64{2, 6, 9, 1, 6.5, 3}, high: []float64{1, 3, 99, 99, 99, 99}, low: []float64{99, 99, 4, 99, 99, 99},
		doors: []door{{outlet: 0, at: 5}, {outlet: 1, at: 8, weight: 2}}, invert: []float64{9, 7}, outWeight: []float64{99, 10},
	}
	p := &pricer{ground: g, state: &state{}, flood: []int32{0, 1, 4, 3}}
	for _, c := range []struct {
		change change
		want   float64
	}{
		{change{level: 6.5, full: 3, path: []int32{2, 4, 5}, door: 1}, 7.1},
		{change{level: 6.5, full: 3, path: []int32{2, 5}, door: -1}, (2 + 18 + 36) / 8.0},
		{change{level: 6.5, full: 2, door: -1}, 5},
		{change{level: 6.5, full: 1, door: -1}, 2},
		{change{level: 1.5, full: 1, path: nil, door: -1}, 1.5}, // nothing is changed
	} {
		if got := p.middle(&c.change); !(math.Abs(got-c.want) <= 1e-12) {
			t.Errorf("%+v: %g, want %g", c.change, got, c.want)
		}
	}
}

// By hand: a place amid three corners 0.3 m off it has a third of each, 20 mm over the mean of two at 10 and one at 40 mm, and the error of their mean: one of three that are good to 3, 4 and 12 mm is good to 13/3 mm, of three squares 169 mm2.
func TestDoorsOfAFacet(t *testing.T) {
	tin := &surface.TIN{V: []int32{0, 1, 2}, X: []float64{0, 0.6, 0}, Y: []float64{0, 0, 0.6}, Z: []float64{0.01, 0.01, 0.04}}
	cut := &surface.TIN{X: []float64{0.2}, Y: []float64{0.2}}
	price := func(mm float64) float64 { return 1e6 / (mm * mm) }
	g := &ground{low: []float64{price(4), price(3), price(12)}, number: []int32{1, 0, 2}}
	found := make([][]door, 3)
	g.addDoors(found, tin, cut, 0, 0, 5, 0.02)
	for e := range found {
		if len(found[e]) != 1 {
			t.Fatalf("%d doors at %d", len(found[e]), e)
		}
		d := found[e][0]
		if d.outlet != 5 || !(math.Abs(d.at-0.02) <= 1e-9) || !(math.Abs(d.own-1.0/3) <= 1e-9) || !(math.Abs(d.weight-9e6/169) <= 1e-3) {
			t.Errorf("%+v", d)
		}
	}
	// From corners of a triangle of 6 by 6 m the way is 3.92 m on average, over which 2 % may be drawn wrong by half: 39 mm.
	for i := range tin.X {
		tin.X[i], tin.Y[i] = 10*tin.X[i], 10*tin.Y[i]
	}
	cut.X[0], cut.Y[0] = 2, 2
	found = make([][]door, 3)
	g.addDoors(found, tin, cut, 0, 0, 5, 0.02)
	far := 2 * (math.Sqrt2 + 2*math.Sqrt(5)) / 3
	if want := 1 / (169e-6/9 + 0.01*far*0.01*far); !(math.Abs(found[0][0].weight-want) <= 1e-6*want) {
		t.Errorf("far spots: %g, want %g", found[0][0].weight, want)
	}
	// The lower door into an outlet counts, of equals that of the least share.
	list := lowest(lowest(lowest(nil, door{outlet: 1, at: 2, own: 0.5}), door{outlet: 1, at: 2, own: 0.4}), door{outlet: 1, at: 3, own: 0.1})
	if list = lowest(list, door{outlet: 2, at: 9}); len(list) != 2 || list[0].own != 0.4 || list[1].at != 9 {
		t.Errorf("%+v", list)
	}
}

// By hand: spots 1 m apart on a fall of 1 % that are good to 10 mm have an error as large as the fall, which holds (up to 1.3 times); to 52 mm 5.2 times, which is 1.3 over two by two; to 53 mm it takes three by three.
func TestSideOfCells(t *testing.T) {
	s := &surface.Surface{Spacing: 1}
	for typical, want := range map[float64]int{0.010: 1, 0.0129: 1, 0.0131: 2, 0.0519: 2, 0.0530: 3, 9: 4} {
		if got := Side(s, &Errors{Typical: typical, Slope: 0.01}, 4); got != want {
			t.Errorf("%g m: %d, want %d", typical, got, want)
		}
	}
}
