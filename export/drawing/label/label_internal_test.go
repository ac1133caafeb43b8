package label

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/export/drawing/scene"
)

// Of labels put down on a crowded sheet none leaves it, and none comes within half a millimetre of another, of a symbol or of what is kept open; no leader runs
// through a label or is run over by one; each leader leads from the symbol to the nearest place of its label.
func TestLabelsKeepApart(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 2))
	placed, led := 0, 0
	for range 40 {
		p := &Placer{Room: scene.Rect{X: 10, Y: 5, W: 150, H: 110}, Open: []scene.Rect{{X: 70, Y: 40, W: 20, H: 12}}}
		line := []scene.Point{{X: 20, Y: 20}, {X: 140, Y: 100}}
		p.Avoid(line)
		type mark struct {
			at  scene.Point
			box scene.Rect
		}
		var marks []mark
		for range 30 {
			c := scene.Point{X: 12 + 146*rnd.Float64(), Y: 7 + 106*rnd.Float64()}
			box := scene.Rect{X: c.X - MarkHalf, Y: c.Y - MarkHalf, W: 2 * MarkHalf, H: 2 * MarkHalf}
			if p.Free(box) {
				p.Take(box)
				marks = append(marks, mark{c, box})
				p.Marks = append(p.Marks, c)
			}
		}
		symbols := len(p.Taken)
		var spots []Spot
		for _, m := range marks {
			w, h := 8+20*rnd.Float64(), 3.5
			s, ok := p.Beside(m.at, MarkHalf, w, h)
			if !ok {
				continue
			}
			placed++
			if !(math.Abs(s.Box.W-w) <= 1e-9) || !(math.Abs(s.Box.H-h) <= 1e-9) || !s.Box.Within(p.Room) {
				t.Fatalf("%+v of %g by %g", s.Box, w, h)
			}
			if s.Leader {
				led++
				if s.From != m.at || s.To != nearest(s.Box, m.at) {
					t.Fatalf("a leader from %v to %v", s.From, s.To)
				}
			} else if d := scene.Distance(nearest(s.Box, m.at), m.at); d > 3.6 { // 0.8 mm off a symbol of 1.7, to a corner 1.4 times as far
				t.Fatalf("without a leader %g mm off", d)
			}
			spots = append(spots, s)
		}
		for i := range p.Taken {
			for k := range i {
				if k >= symbols || i >= symbols { // a label and anything
					if d := rectsApart(p.Taken[i], p.Taken[k]); d < apart-0.02 {
						t.Fatalf("%v and %v are %g apart", p.Taken[i], p.Taken[k], d)
					}
				}
			}
			if i >= symbols && p.Taken[i].Overlaps(p.Open[0]) {
				t.Fatalf("%v stands on what is kept open", p.Taken[i])
			}
		}
		for _, s := range spots {
			for _, o := range spots {
				if s.Leader && o.Box != s.Box && o.Box.Crosses(s.From, s.To) {
					t.Fatalf("a leader from %v to %v runs through %v", s.From, s.To, o.Box)
				}
			}
		}
		sum := 0.0
		for _, s := range spots {
			if s.Leader {
				sum += scene.Distance(s.From, s.To)
			}
		}
		if !(math.Abs(sum-p.Leading()) <= 1e-9) {
			t.Fatalf("leaders of %g mm, told %g", sum, p.Leading())
		}
	}
	if placed < 500 || led < 50 {
		t.Errorf("%d labels, %d with a leader", placed, led)
	}
}

// An empty sheet has room to the right; with that taken, to the left; a line of soft points is worth a step aside.
func TestLabelStandsWhereItIsBest(t *testing.T) {
	sheet := func() *Placer { return &Placer{Room: scene.Rect{W: 200, H: 100}} }
	c := scene.Point{X: 100, Y: 50}
	if s, ok := sheet().Beside(c, 2, 20, 4); !ok || s.Leader || s.Box != (scene.Rect{X: 102.8, Y: 48, W: 20, H: 4}) {
		t.Errorf("%+v", s)
	}
	p := sheet()
	p.Take(scene.Rect{X: 105, Y: 30, W: 50, H: 40})
	if s, ok := p.Beside(c, 2, 20, 4); !ok || s.Leader || s.Box != (scene.Rect{X: 77.2, Y: 48, W: 20, H: 4}) {
		t.Errorf("%+v", s)
	}
	p = sheet()
	p.Avoid([]scene.Point{{X: 100, Y: 50}, {X: 160, Y: 50}})
	if s, ok := p.Beside(c, 2, 20, 4); !ok || s.Box.X != 77.2 {
		t.Errorf("%+v", s)
	}
	p = sheet()
	p.Marks = []scene.Point{c, {X: 124, Y: 50}} // a label on the right would be read as that of the next outlet
	if s, ok := p.Beside(c, 2, 20, 4); !ok || s.Box.X != 77.2 {
		t.Errorf("%+v", s)
	}
	if _, ok := sheet().Beside(c, 2, 300, 4); ok {
		t.Error("a label wider than the sheet has room")
	}
}

// A label is mistaken for that of an outlet within 2 mm of its symbol (3.7 mm of its place), of one within 8 mm that is nearer than its own, of a pond within 2 mm, and of one within 8 mm unless its own is two thirds as far: 40 each, by hand.
func TestWhatALabelIsMistakenFor(t *testing.T) {
	box := scene.Rect{X: 10, Y: 0, W: 20, H: 4}
	for _, c := range []struct {
		own   float64 // its own place is so far to the left [mm]
		marks []scene.Point
		pools []scene.Rect
		want  float64
	}{
		{1, []scene.Point{{X: 9, Y: 2}, {X: 33.6, Y: 2}, {X: 33.75, Y: 2}}, nil, 40},
		{6, []scene.Point{{X: 4, Y: 2}, {X: 35.9, Y: 2}, {X: 36, Y: 2}, {X: 20, Y: 9.9}}, nil, 80},
		{9, []scene.Point{{X: 1, Y: 2}, {X: 37.9, Y: 2}, {X: 38, Y: 2}}, nil, 40},
		{1, nil, []scene.Rect{{X: 31.9, W: 5, H: 5}, {X: 32, W: 5, H: 5}}, 40},
		{6, nil, []scene.Rect{{X: 37.9, W: 5, H: 5}, {X: 38, W: 5, H: 5}}, 40},
		{6, nil, []scene.Rect{{X: 2, W: 4, H: 4}, {X: 35.9, W: 5, H: 5}, {X: 36, W: 5, H: 5}}, 40}, // its own pond is 4 mm off
	} {
		p := &Placer{Marks: c.marks, Pools: c.pools}
		if got := p.mistaken(box, scene.Point{X: 10 - c.own, Y: 2}); got != c.want {
			t.Errorf("%+v: %v, want %v", c, got, c.want)
		}
	}
}

// By hand: a line of 40 mm has a soft point every millimetre or closer, of which a box 10 mm wide covers a quarter; its border does not count.
func TestCovered(t *testing.T) {
	p := &Placer{}
	p.Avoid([]scene.Point{{X: 3, Y: 20}, {X: 43, Y: 20}})
	all := p.Covered(scene.Rect{X: 0, Y: 15, W: 60, H: 10})
	if all < 40 || all > 42 {
		t.Errorf("%d points on 40 mm", all)
	}
	if got := p.Covered(scene.Rect{X: 12, Y: 18, W: 10, H: 4}); got < 9 || got > 11 {
		t.Errorf("%d points in 10 mm", got)
	}
	for _, r := range []scene.Rect{{X: 0, Y: 15, W: 60, H: 5}, {X: 0, Y: 20, W: 60, H: 5}, {X: 44, Y: 15, W: 5, H: 10}, {X: 0, Y: 30, W: 60, H: 5}} {
		if got := p.Covered(r); got != 0 {
			t.Errorf("%v covers %d", r, got)
		}
	}
}

// By hand.
func TestBoxesAndLines(t *testing.T) {
	c := scene.Point{X: 10, Y: 20}
	for d, want := range map[scene.Point]scene.Rect{
		{X: 1}: {X: 13, Y: 18, W: 8, H: 4}, {X: -1}: {X: -1, Y: 18, W: 8, H: 4}, {Y: 1}: {X: 6, Y: 23, W: 8, H: 4}, {Y: -1}: {X: 6, Y: 13, W: 8, H: 4},
		{X: 0.7, Y: 0.7}: {X: 12.1, Y: 22.1, W: 8, H: 4}, {X: -0.7, Y: -0.7}: {X: -0.1, Y: 13.9, W: 8, H: 4},
	} {
		if got := BoxToward(c, d, 3, 8, 4); got != want {
			t.Errorf("towards %v: %v, want %v", d, got, want)
		}
	}
	a, b := scene.Rect{X: 0, Y: 0, W: 4, H: 2}, scene.Rect{X: 7, Y: 6, W: 1, H: 1}
	if rectsApart(a, b) != 5 || rectsApart(b, a) != 5 || rectsApart(a, scene.Rect{X: 3, Y: 1, W: 9, H: 9}) != 0 || rectsApart(a, scene.Rect{X: 1, Y: 5, W: 1, H: 1}) != 3 {
		t.Errorf("%g and %g apart", rectsApart(a, b), rectsApart(b, a))
	}
	if got := nearest(a, scene.Point{X: 6, Y: -1}); got != (scene.Point{X: 4, Y: 0}) {
		t.Errorf("%v", got)
	}
	if !holds(a, scene.Point{X: 4, Y: 1}) || holds(a, scene.Point{X: 4.1, Y: 1}) {
		t.Error("what a box holds")
	}
	for _, l := range []struct {
		a, b, c, d scene.Point
		want       bool
	}{
		{scene.Point{}, scene.Point{X: 4, Y: 4}, scene.Point{Y: 4}, scene.Point{X: 4}, true},
		{scene.Point{}, scene.Point{X: 4, Y: 4}, scene.Point{Y: 4}, scene.Point{X: 1, Y: 3}, false},
		{scene.Point{}, scene.Point{X: 1, Y: 1}, scene.Point{Y: 4}, scene.Point{X: 4}, false},
		{scene.Point{}, scene.Point{X: 4}, scene.Point{Y: 1}, scene.Point{X: 4, Y: 1}, false},
	} {
		if meet(l.a, l.b, l.c, l.d) != l.want || meet(l.c, l.d, l.b, l.a) != l.want {
			t.Errorf("%v", l)
		}
	}
}

// Of centres the first with room is taken, unless it hides more lines than the next; one that would hide a part of what must stay whole is none.
func TestOver(t *testing.T) {
	sheet := &Placer{Room: scene.Rect{W: 100, H: 100}, Taken: []scene.Rect{{X: 40, Y: 40, W: 20, H: 20}}}
	sheet.Avoid([]scene.Point{{X: 0, Y: 20}, {X: 50, Y: 20}})
	whole := []scene.Point{{X: 70, Y: 0}, {X: 90, Y: 0}, {X: 90, Y: 30}, {X: 70, Y: 30}}
	centres := []scene.Point{{X: 50, Y: 50}, {X: 20, Y: 20}, {X: 70, Y: 20}, {X: 20, Y: 80}}
	if r, ok := sheet.Over(centres, 10, 4, whole...); !ok || r != (scene.Rect{X: 15, Y: 78, W: 10, H: 4}) {
		t.Errorf("%v, %t", r, ok)
	}
	if r, ok := sheet.Over(centres[:2], 10, 4); !ok || r != (scene.Rect{X: 15, Y: 18, W: 10, H: 4}) {
		t.Errorf("%v, %t", r, ok)
	}
	if _, ok := sheet.Over(centres[:1], 10, 4); ok {
		t.Error("a label stands on a label")
	}
}

// Labels stand alike on all sides of a symbol: the directions mirrored left to right, and upside down, are the same eight, each once.
func TestDirectionsAreMirrored(t *testing.T) {
	seen := map[scene.Point]int{}
	for _, d := range around {
		seen[d]++
		if n := math.Hypot(d.X, d.Y); !(n <= 1+1e-9) || n < 0.98 {
			t.Errorf("%v is %v long", d, n)
		}
	}
	if len(seen) != 8 {
		t.Errorf("%d directions", len(seen))
	}
	for d := range seen {
		if seen[scene.Point{X: -d.X, Y: d.Y}] != 1 || seen[scene.Point{X: d.X, Y: -d.Y}] != 1 {
			t.Errorf("%v has no mirror", d)
		}
	}
	for i := 1; i < len(reaches); i++ {
		if reaches[i] <= reaches[i-1] {
			t.Errorf("reach %v follows %v", reaches[i], reaches[i-1])
		}
		if i > 1 && !(reaches[i]-reaches[i-1] >= reaches[i-1]-reaches[i-2] && reaches[i]-reaches[i-1] <= 1.5*(reaches[i-1]-reaches[i-2])) { // farther off, labels are tried at growing steps, none half as long again as the one before
			t.Errorf("reach %v follows %v and %v", reaches[i], reaches[i-1], reaches[i-2])
		}
	}
}
