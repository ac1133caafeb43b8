package dish_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/dish"
)

const (
	foot = 0.3048
	inch = 0.0254
)

// oval returns marks on an oval of half axes a and b.
func oval(n int, a, b float64) []orb.Point {
	var out []orb.Point
	for i := range n {
		turn := 2 * math.Pi * (float64(i) + 0.3) / float64(n)
		out = append(out, orb.Point{a * math.Cos(turn), b * math.Sin(turn)})
	}
	return out
}

// By hand: an oval of 12 by 6 ft covers pi/4 x 72 = 56.55 sq ft; 0.75 in over it holds 56.55 x 0.0625 = 3.534 cu ft as a pan, half of that
// as a paraboloid, a third as a cone.
func TestOneSoundingGivesADishToAPan(t *testing.T) {
	ring, _ := dish.Around(oval(12, 6*foot, 3*foot))
	b := dish.Of(ring, []dish.Sounding{{Depth: 0.75 * inch}})
	cubic := foot * foot * foot
	for _, tt := range []struct {
		name            string
		got, want, part float64
	}{
		{"area", b.Area / foot / foot, 56.549, 0.002},
		{"least", b.Least / cubic, 3.5343 / 3, 0.002},
		{"most", b.Most / cubic, 3.5343, 0.002},
		{"likely", b.Volume / cubic, 3.5343 / 2, 0.01},
	} {
		if !(math.Abs(tt.got/tt.want-1) <= tt.part) {
			t.Errorf("%s: %.4f, want %.4f", tt.name, tt.got, tt.want)
		}
	}
	if got := b.DepthAt(orb.Point{3 * foot, 0}); !(math.Abs(got/(0.75*inch*0.75)-1) <= 0.01) { // half-way out a paraboloid has 3/4 of its depth
		t.Errorf("half-way out %g", got)
	}
	if b.DepthAt(orb.Point{7 * foot, 0}) != 0 {
		t.Error("water beyond the edge")
	}
}

// known is a dish whose volume is a closed form: an oval edge and a bottom that falls from it to a deepest place.
type known struct {
	kind           string
	a, b, turn     float64   // half axes [m], and how the longer lies
	deep           float64   // at the deepest [m]
	low            orb.Point // the deepest place, as parts of the half axes
	tilt, tiltsWay float64
	volume         float64
	depth          func(direction, share float64) float64
}

// at returns the place at a share of the way from the deepest place to the edge, in a direction.
func (k *known) at(direction, share float64) orb.Point {
	ux, uy := math.Cos(direction), math.Sin(direction)
	dot := k.low[0]*ux + k.low[1]*uy
	reach := -dot + math.Sqrt(dot*dot+1-k.low[0]*k.low[0]-k.low[1]*k.low[1])
	x, y := k.a*(k.low[0]+share*reach*ux), k.b*(k.low[1]+share*reach*uy)
	c, s := math.Cos(k.turn), math.Sin(k.turn)
	return orb.Point{100 + x*c - y*s, 50 + x*s + y*c}
}

// shape sets the depth and the volume: area times depth times twice the integral of depth times share over the share.
func (k *known) shape() {
	part := 0.5
	k.depth = func(_, t float64) float64 { return k.deep * (1 - t*t) }
	switch k.kind {
	case "cosine":
		k.depth = func(_, t float64) float64 { return k.deep * (1 + math.Cos(math.Pi*t)) / 2 }
		part = 0.5 - 2/(math.Pi*math.Pi)
	case "cap": // of a sphere over a circle; volume pi h (3 c2 + h2) / 6
		k.b = k.a
		r := (k.a*k.a + k.deep*k.deep) / (2 * k.deep)
		k.depth = func(_, t float64) float64 { return math.Sqrt(r*r-t*t*k.a*k.a) - (r - k.deep) }
		part = (3*k.a*k.a + k.deep*k.deep) / (6 * k.a * k.a)
	case "tilted": // the tilt's integral over the oval is 0
		k.depth = func(way, t float64) float64 { return k.deep * (1 - t*t) * (1 + k.tilt*t*math.Cos(way-k.tiltsWay)) }
	}
	k.volume = part * math.Pi * k.a * k.b * k.deep
}

var kinds = []string{"paraboloid", "off-centre", "cap", "cosine", "tilted"}

func dishes(n int) []*known {
	r := rand.New(rand.NewPCG(1, 13))
	var out []*known
	for i := range n {
		k := &known{kind: kinds[i%len(kinds)], a: 1 + 4*r.Float64(), turn: math.Pi * r.Float64(), deep: 0.012 + 0.06*r.Float64()}
		k.b = k.a * (0.4 + 0.6*r.Float64())
		k.tilt, k.tiltsWay = 0.8*r.Float64(), 2*math.Pi*r.Float64()
		if k.kind == "off-centre" {
			shift, way := 0.2+0.4*r.Float64(), 2*math.Pi*r.Float64()
			k.low = orb.Point{shift * math.Cos(way), shift * math.Sin(way)}
		}
		k.shape()
		out = append(out, k)
	}
	return out
}

// survey chalks twelve marks and sounds near the deepest place and about half-way to the edge on four sides. Depths are read to 1/16 in.
func (k *known) survey(r *rand.Rand) ([]orb.Point, []dish.Sounding) {
	var marks []orb.Point
	for i := range 12 {
		marks = append(marks, k.at(2*math.Pi*(float64(i)+0.6*r.Float64()-0.3)/12, 1))
	}
	var soundings []dish.Sounding
	sound := func(way, share float64) {
		const read = inch / 16
		soundings = append(soundings, dish.Sounding{Plan: k.at(way, share), Depth: math.Round(k.depth(way, share)/read) * read})
	}
	sound(2*math.Pi*r.Float64(), 0.1*r.Float64())
	for i := range 4 {
		sound(2*math.Pi*(float64(i)+0.6*r.Float64()-0.3)/4, 0.4+0.3*r.Float64())
	}
	return marks, soundings
}

// Twelve marks and five soundings give the volume of 200 dishes of five shapes within 10 %, and it lies between the least and the most.
func TestMarksAndSoundingsRebuildKnownDishes(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 13))
	worst := map[string]float64{}
	for i, k := range dishes(200) {
		marks, soundings := k.survey(r)
		ring, reordered := dish.Around(marks)
		if reordered {
			t.Errorf("dish %d: marks in order were reordered", i)
		}
		b := dish.Of(ring, soundings)
		off := b.Volume/k.volume - 1
		worst[k.kind] = max(worst[k.kind], math.Abs(off))
		if !(math.Abs(off) <= 0.1) {
			t.Errorf("dish %d, %s of %.2f by %.2f m: volume off by %.3f", i, k.kind, k.a, k.b, off)
		}
		if k.volume < b.Least || k.volume > b.Most {
			t.Errorf("dish %d, %s: %.4f m3 is not between %.4f and %.4f", i, k.kind, k.volume, b.Least, b.Most)
		}
		if k.kind == "cosine" && !(math.Abs(b.Least/b.Volume-0.9) <= 1e-9) { // its bottom lies above straight lines, so the trial's error is the range
			t.Errorf("dish %d: least %.4f of %.4f", i, b.Least, b.Volume)
		}
		if b.Least > b.Volume || b.Volume > b.Most {
			t.Errorf("dish %d: %g, %g, %g", i, b.Least, b.Volume, b.Most)
		}
	}
	for _, kind := range kinds {
		t.Logf("%-11s volume within %.1f %%", kind, 100*worst[kind])
	}
}

// A bowl does not change when the pond is moved and turned.
func TestPlaceAndTurnDoNotMatter(t *testing.T) {
	k := dishes(2)[1]
	marks, soundings := k.survey(rand.New(rand.NewPCG(5, 5)))
	ring, _ := dish.Around(marks)
	want := dish.Of(ring, soundings).Volume
	turned := func(p orb.Point) orb.Point { return orb.Point{-p[1] + 7, p[0] - 3} }
	for i := range marks {
		marks[i] = turned(marks[i])
	}
	for i := range soundings {
		soundings[i].Plan = turned(soundings[i].Plan)
	}
	ring, _ = dish.Around(marks)
	if got := dish.Of(ring, soundings).Volume; !(math.Abs(got/want-1) <= 1e-3) {
		t.Errorf("%g, then %g", want, got)
	}
}

func TestMarksOutOfOrderAreTakenRound(t *testing.T) {
	marks := oval(8, 2, 1)
	for i := range marks { // wherever the pond lies
		marks[i] = orb.Point{marks[i][0] + 100, marks[i][1] + 50}
	}
	marks[2], marks[5] = marks[5], marks[2]
	ring, reordered := dish.Around(marks)
	if !reordered {
		t.Error("not said")
	}
	if b := dish.Of(ring, nil); !(math.Abs(b.Area/(2*math.Pi)-1) <= 0.01) || b.Volume != 0 || b.Deepest != -1 {
		t.Errorf("area %g", b.Area)
	}
}

// Marks that go round are left in their order also where lines through the sides of a small hollow pond cross; marks across each other are taken as they
// turn about their middle, wherever the pond lies. The edge is closed.
func TestOrderOfMarks(t *testing.T) {
	for _, c := range []struct {
		marks     []orb.Point
		reordered bool
		area      float64
	}{
		{[]orb.Point{{0, 0}, {0.4, 0}, {0.4, 0.2}, {0.2, 0.2}, {0.2, 0.4}, {0, 0.4}}, false, 0.12},
		{[]orb.Point{{100, 50}, {102, 52}, {102, 50}, {100, 52}}, true, 4},
	} {
		ring, reordered := dish.Around(c.marks)
		area := dish.Of(ring, nil).Area
		if reordered != c.reordered || ring[0] != ring[len(ring)-1] || !(area > 0.9*c.area) || !(area < 1.8*c.area) {
			t.Errorf("%v: reordered %t, %g m2 in %v", c.marks, reordered, area, ring)
		}
	}
}

// Two soundings on a round pond of 2 m, d deep and half way out on either side: by the nearest of them all of it is d deep, and straight lines from
// the edge to both give what a sum over fine cells gives. The first of two is the deepest where it is. Close to the edge, soundings tell of a dish
// that holds more than they reach: then the most is 1.1 times the likely volume, by the trials.
func TestTwoSoundings(t *testing.T) {
	const radius, d = 2.0, 0.04
	ring, _ := dish.Around(oval(48, radius, radius))
	two := func(x, second float64) *dish.Bowl {
		return dish.Of(ring, []dish.Sounding{{Plan: orb.Point{x, 0}, Depth: d}, {Plan: orb.Point{-x, 0}, Depth: second}})
	}
	least, inside := 0.0, 0.0
	for x := -1.99; x < radius; x += 0.02 {
		for y := -1.99; y < radius; y += 0.02 {
			if math.Hypot(x, y) > radius {
				continue
			}
			inside++
			deepest := 0.0
			for _, c := range []float64{1, -1} {
				px, far := x-c, math.Hypot(x-c, y)
				out := -px*c/far + math.Sqrt(px*c/far*px*c/far+radius*radius-c*c) // along the ray, to the circle
				deepest = max(deepest, d*(1-far/out))
			}
			least += deepest
		}
	}
	b := two(1, d)
	if got, want := b.Most/b.Area, d; !(math.Abs(got/want-1) <= 1e-9) {
		t.Errorf("at most %g m deep all over, want %g", got, want)
	}
	if got, want := b.Least/b.Area, least/inside; !(math.Abs(got/want-1) <= 0.02) {
		t.Errorf("at least %g m deep all over, want %g", got, want)
	}
	if b = two(1, d/2); b.Deepest != 0 || !(math.Abs(b.Most/b.Area/d-0.75) <= 0.01) {
		t.Errorf("the deepest is %d, at most %g of it all over, want 0 and 0.75", b.Deepest, b.Most/b.Area/d)
	}
	if b = two(1.8, d); !(b.Volume > b.Area*d) || !(math.Abs(b.Most/b.Volume-1.1) <= 1e-9) {
		t.Errorf("soundings by the edge: %g m3, at most %g", b.Volume, b.Most)
	}
}

// Three marks on one place, marks in one line: an area of nothing, and no panic.
func TestEdgesOfNothing(t *testing.T) {
	for _, marks := range [][]orb.Point{{{1, 1}, {1, 1}, {1, 1}}, {{0, 0}, {1, 0}, {2, 0}}, {{0, 0}, {1, 0}, {0.5, 0}, {2, 0}}} {
		ring, _ := dish.Around(marks)
		b := dish.Of(ring, []dish.Sounding{{Plan: orb.Point{1, 0}, Depth: 0.1}})
		for _, v := range []float64{b.Area, b.Volume, b.Least, b.Most} {
			if math.IsNaN(v) || v < 0 || v > 0.3 {
				t.Errorf("%v: %+v", marks, b)
			}
		}
	}
}
