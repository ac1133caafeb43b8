package settle

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"runnel/analysis/geometry"
	"runnel/analysis/mesh"
	"runnel/analysis/roof"
)

// spots returns a draft of measured nodes at the given places, in metres.
func spots(at ...[3]float64) *draft {
	d := empty()
	for i, p := range at {
		n := d.add(geometry.OnGrid(p[0]), geometry.OnGrid(p[1]), source{isSpot, int32(i)})
		d.z[n], d.how[n], d.spot[n] = geometry.OnGrid(p[2]), given, int32(i)
	}
	return d
}

// By hand: a plane fits its own spots whatever the weights; outside, it is kept within their range.
func TestPlaneThroughNearSpots(t *testing.T) {
	h := func(x, y float64) float64 { return 5 + 0.02*x - 0.01*y }
	var at [][3]float64
	for _, p := range [][2]float64{{0, 0}, {4, 0}, {0, 3}, {5, 5}, {1, 4}, {3, 2}} {
		at = append(at, [3]float64{p[0], p[1], h(p[0], p[1])})
	}
	p := spots(at...).newPlanes()
	if got := p.at(geometry.OnGrid(2), geometry.OnGrid(1)); got != geometry.OnGrid(h(2, 1)) {
		t.Errorf("between the spots %.5f, want %.5f", geometry.Metres(got), h(2, 1))
	}
	if got := p.at(geometry.OnGrid(50), geometry.OnGrid(0)); got != geometry.OnGrid(h(4, 0)) {
		t.Errorf("far to the east %.5f, want the highest spot's %.5f", geometry.Metres(got), h(4, 0))
	}
}

// Spots on one line tell nothing about the slope across it: the plane runs level there.
func TestPlaneThroughSpotsOnALine(t *testing.T) {
	p := spots([3]float64{0, 0, 1}, [3]float64{1, 1, 1.1}, [3]float64{2, 2, 1.2}, [3]float64{3, 3, 1.3}).newPlanes()
	// (2, 1) is square to the line at (1.5, 1.5), where the line stands at 1.15.
	if got := p.at(geometry.OnGrid(2), geometry.OnGrid(1)); got < geometry.OnGrid(1.15)-1 || got > geometry.OnGrid(1.15)+1 {
		t.Errorf("beside the line %.5f, want 1.15", geometry.Metres(got))
	}
	p = spots([3]float64{0, 0, 1}).newPlanes()
	if got := p.at(5, 5); got != geometry.OnGrid(1) {
		t.Errorf("beside one spot %.5f, want its 1", geometry.Metres(got))
	}
}

// By hand: weights of 1/d2 of spots at -1, 1 and 2 m, which stand at 0, 0 and 3 m, are 1, 1 and 1/4; their means are 2/9 m and 1/3 m, and the
// line falls through (1/3) - (6/13)(2/9) = 3/13 m at 0. Weights that are alike put it at 1/3 m, at least.
func TestNearSpotsWeighMore(t *testing.T) {
	p := spots([3]float64{-1, 0, 0}, [3]float64{1, 0, 0}, [3]float64{2, 0, 3}).newPlanes()
	if got := p.at(0, 0); !(math.Abs(geometry.Metres(got)-3.0/13) <= 1.5e-5) {
		t.Errorf("%.5f, want %.5f", geometry.Metres(got), 3.0/13)
	}
}

// By hand: the foot of a crest that runs square to a wall stands as the crest does, 20 mm over the rows of spots a metre to either side; on a plane a foot lies
// on the plane; and behind a curb, along which spots stand in a row and a single one a fifth of a spacing before them, that one does not say how the roof
// falls across the row, so the foot stands as the spot before it.
func TestFootOppositeASpot(t *testing.T) {
	var crest, plane [][3]float64
	row := [][3]float64{{0, 0.1, 1}, {0.4, 0.1, 1.013}, {-0.4, 0.1, 1.013}, {0.85, 0.1, 1.027}, {-0.85, 0.1, 1.027}, {0.2, 0.18, 1.006}}
	for _, x := range []float64{1, 2} {
		for _, y := range []float64{-1, 0, 1} {
			crest = append(crest, [3]float64{x, y, 5 - 0.02*y*y + 0.01*x})
			plane = append(plane, [3]float64{x, y, 5 + 0.02*y + 0.01*x})
		}
	}
	for _, c := range []struct {
		what       string
		at         [][3]float64
		spot       int32
		x, y, want float64
	}{{"crest", crest, 1, 0.5, 0, 5.005}, {"plane", plane, 2, 0.5, 1, 5.025}, {"row", row, 0, 0, 0, 1}} {
		d := spots(c.at...)
		n := d.at(geometry.OnGrid(c.at[c.spot][0]), geometry.OnGrid(c.at[c.spot][1]))
		if got := d.newPlanes().opposite(geometry.OnGrid(c.x), geometry.OnGrid(c.y), n); got < geometry.OnGrid(c.want)-1 || got > geometry.OnGrid(c.want)+1 {
			t.Errorf("%s: the foot stands at %.5f, want %.5f", c.what, geometry.Metres(got), c.want)
		}
	}
}

// One walk after another over a mesh of a plane gives the plane, to the rounding of its corners.
func TestWalkerHeights(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 6))
	var x, y, z []int32
	add := func(u, v int32) {
		x, y, z = append(x, u), append(y, v), append(z, u/50-v/100)
	}
	for _, c := range [][2]int32{{0, 0}, {1000000, 0}, {1000000, 1000000}, {0, 1000000}} {
		add(c[0], c[1])
	}
	for range 300 {
		add(1+rnd.Int32N(999998), 1+rnd.Int32N(999998))
	}
	m, _, err := mesh.Triangulate(x, y, z, []mesh.Segment{{A: 0, B: 2, Flag: 1}})
	if err != nil {
		t.Fatal(err)
	}
	w := &walker{m: m}
	for range 2000 {
		u, v := rnd.Int32N(1000001), rnd.Int32N(1000001)
		got, ok := w.height(u, v)
		if want := u/50 - v/100; !ok || got < want-2 || got > want+2 {
			t.Fatalf("at (%d, %d): %d, %v, want %d", u, v, got, ok, want)
		}
	}
	if _, ok := w.height(-5, 10); ok {
		t.Error("a place outside has an elevation")
	}
}

func TestElevationsOfOnePlace(t *testing.T) {
	d := spots([3]float64{0, 0, 1})
	for _, z := range []float64{1.003, 1.0015} {
		if !d.meet(0, geometry.OnGrid(z), 0.001) {
			t.Fatalf("%g is within 3 mm of all", z)
		}
	}
	if want := geometry.OnGrid((1 + 1.003 + 1.0015) / 3); d.z[0] != want {
		t.Errorf("mean %d, want %d", d.z[0], want)
	}
	// With 1 mm each, three standard errors of a difference are 4.2 mm: 0.9980 is within that of the mean but not of the highest.
	d.sigma[0] = 0.001
	if d.meet(0, geometry.OnGrid(0.9980), 0.001) {
		t.Error("the range of what is averaged must stay within the rule")
	}
}

func TestSentences(t *testing.T) {
	d := newDraft(&roof.Roof{Spots: make([]roof.Spot, 30)}, 1, nil)
	for i := 29; i >= 0; i-- {
		d.r.Spots[i].ID = "P" + string(rune('A'+i%26))
		d.notes.add(noteMerged, source{isSpot, int32(i)})
	}
	d.notes.count(noteCrossed)
	got := d.sentences()
	if len(got) != 2 || !strings.HasSuffix(got[0], ": PA, PB, PC, PD, PE and 25 more.") || !strings.HasPrefix(got[0], "30 spots") ||
		got[1] != "Breaklines cross at 1 place; they share a point there." {
		t.Errorf("%q", got)
	}
}
