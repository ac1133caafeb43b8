package scene_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/export/drawing/scene"
)

// inside reports by counting crossings to the right whether a place lies inside rings (even-odd).
func inside(rings [][]scene.Point, p scene.Point) bool {
	in := false
	for _, ring := range rings {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
				in = !in
			}
		}
	}
	return in
}

func areaOf(rings [][]scene.Point) float64 {
	sum := 0.0
	for _, ring := range rings {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			sum += (a.X*b.Y - b.X*a.Y) / 2
		}
	}
	return sum
}

func lengthOf(path []scene.Point) float64 {
	sum := 0.0
	for i := 1; i < len(path); i++ {
		sum += math.Hypot(path[i].X-path[i-1].X, path[i].Y-path[i-1].Y)
	}
	return sum
}

// star is a polygon of n corners round a place, no two alike.
func star(rnd *rand.Rand, x, y, r float64, n int) []scene.Point {
	var out []scene.Point
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.8*rnd.Float64()) / float64(n))
		k := r * (0.4 + 0.6*rnd.Float64())
		out = append(out, scene.Point{X: x + k*cos, Y: y + k*sin})
	}
	return out
}

// Hatching against its own meaning: every line lies on X + Y = (k + 1/2) step sqrt 2, runs inside only, and together they
// are as long as the area over the step, but for the ends.
func TestHatchFillsTheInside(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	for k := range 30 {
		x, y := 60*rnd.Float64()-30, 60*rnd.Float64()-30
		rings := [][]scene.Point{star(rnd, x, y, 20, 7)}
		if k%2 == 1 {
			rings = append(rings, star(rnd, x, y, 5, 5)) // a hole
		}
		area := math.Abs(areaOf(rings[:1]))
		if k%2 == 1 {
			area -= math.Abs(areaOf(rings[1:]))
		}
		step := 0.3 + 0.4*rnd.Float64()
		sum := 0.0
		for _, line := range scene.Hatch(rings, step) {
			a, b := line[0], line[1]
			n := (a.X + a.Y) / math.Sqrt2 / step
			if !(math.Abs(a.X+a.Y-b.X-b.Y) <= 0.03) || !(math.Abs(n-math.Floor(n)-0.5) <= 0.03/step) || b.X < a.X {
				t.Fatalf("a line from %v to %v, step %g", a, b, step)
			}
			sum += lengthOf(line)
			at := func(part float64) scene.Point { return scene.Point{X: a.X + part*(b.X-a.X), Y: a.Y + part*(b.Y-a.Y)} }
			if l := lengthOf(line); l > 0.5 {
				if !inside(rings, at(0.1)) || !inside(rings, at(0.5)) || !inside(rings, at(0.9)) {
					t.Errorf("the line from %v to %v leaves the inside", a, b)
				}
			}
		}
		if !(math.Abs(sum*step-area) <= 0.02*area) {
			t.Errorf("lines of %g mm, %g apart, over %g mm2", sum, step, area)
		}
	}
}

// A circle of 24 corners stands on sines and cosines of 15 degrees, from the right round, to a hundredth of a millimetre.
func TestCircleIsRound(t *testing.T) {
	got := scene.Circle(scene.Point{X: 30, Y: -7}, 12)
	if len(got) != 24 {
		t.Fatalf("%d corners", len(got))
	}
	for i, p := range got {
		sin, cos := math.Sincos(float64(i) * math.Pi / 12)
		if !(math.Abs(p.X-30-12*cos) <= 0.006) || !(math.Abs(p.Y+7-12*sin) <= 0.006) {
			t.Errorf("corner %d at %v", i, p)
		}
	}
}

// What is left of areas and lines in a rectangle, against asking at many places: area, length and where they lie.
func TestClipAgainstPlaces(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 1))
	for range 40 {
		r := scene.Rect{X: 40*rnd.Float64() - 20, Y: 40*rnd.Float64() - 20, W: 10 + 10*rnd.Float64(), H: 10 + 10*rnd.Float64()}
		path := star(rnd, r.X+r.W*rnd.Float64(), r.Y+r.H*rnd.Float64(), 12, 6)
		in := func(p scene.Point) bool { return p.X >= r.X && p.X <= r.X+r.W && p.Y >= r.Y && p.Y <= r.Y+r.H }
		const n = 120
		want := 0.0
		for i := range n {
			for j := range n {
				p := scene.Point{X: r.X + r.W*(float64(i)+0.5)/n, Y: r.Y + r.H*(float64(j)+0.5)/n}
				if inside([][]scene.Point{path}, p) {
					want += r.W * r.H / n / n
				}
			}
		}
		round, crosses := 0.0, make([]bool, len(path))
		for i, a := range path {
			b := path[(i+1)%len(path)]
			for k := range 400 {
				part := (float64(k) + 0.5) / 400
				if in(scene.Point{X: a.X + part*(b.X-a.X), Y: a.Y + part*(b.Y-a.Y)}) {
					round += math.Hypot(b.X-a.X, b.Y-a.Y) / 400
					crosses[i] = true
				}
			}
			if got := r.Crosses(a, b); crosses[i] && !got || got && !crosses[i] && !r.Inset(-0.1).Crosses(a, b) {
				t.Errorf("%v to %v crosses %v: %t", a, b, r, got)
			}
		}
		area, length := 0.0, 0.0
		for _, s := range scene.Clip(scene.Shape{Paths: [][]scene.Point{path}, Closed: true, Fill: "#FFFFFF", Stroke: "#000000"}, r) {
			for _, p := range s.Paths {
				for _, at := range p {
					if at.X < r.X-0.01 || at.X > r.X+r.W+0.01 || at.Y < r.Y-0.01 || at.Y > r.Y+r.H+0.01 {
						t.Errorf("%v is left of a shape in %v", at, r)
					}
				}
				if s.Stroke != "" && !s.Closed {
					length += lengthOf(p)
				}
				if s.Stroke != "" && s.Closed {
					length += lengthOf(append(p, p[0]))
				}
			}
			if s.Fill != "" {
				area += math.Abs(areaOf(s.Paths))
			}
		}
		if !(math.Abs(area-want) <= 0.02*r.W*r.H) || !(math.Abs(length-round) <= 0.5) {
			t.Errorf("of %v in %v: %g mm2 and %g mm, want %g and %g", path, r, area, length, want, round)
		}
	}
}

// By hand.
func TestCornersAndInset(t *testing.T) {
	r := scene.Rect{X: 1, Y: 2, W: 10, H: 20}
	if got := r.Corners(); got[0] != (scene.Point{X: 1, Y: 2}) || got[1] != (scene.Point{X: 11, Y: 2}) || got[2] != (scene.Point{X: 11, Y: 22}) || got[3] != (scene.Point{X: 1, Y: 22}) {
		t.Errorf("corners %v", got)
	}
	if got := r.Inset(3); got != (scene.Rect{X: 4, Y: 5, W: 4, H: 14}) {
		t.Errorf("inset %v", got)
	}
	for _, c := range []struct {
		q                scene.Rect
		overlaps, within bool
	}{
		{r, true, true},
		{scene.Rect{X: 0, Y: 2, W: 11, H: 20}, true, false},
		{scene.Rect{X: 1, Y: 1, W: 10, H: 20}, true, false},
		{scene.Rect{X: 2, Y: 2, W: 10, H: 20}, true, false},
		{scene.Rect{X: 1, Y: 3, W: 10, H: 20}, true, false},
		{scene.Rect{X: 1, Y: 22, W: 10, H: 1}, false, false},
		{scene.Rect{X: 1, Y: 1, W: 10, H: 1}, false, false},
		{scene.Rect{X: 11, Y: 2, W: 1, H: 20}, false, false},
		{scene.Rect{X: 0, Y: 2, W: 1, H: 20}, false, false},
		{scene.Rect{X: 3, Y: 30, W: 1, H: 1}, false, false},
		{scene.Rect{X: 30, Y: 3, W: 1, H: 1}, false, false},
		{scene.Rect{X: 3, Y: 4, W: 1, H: 1}, true, true},
	} {
		if c.q.Overlaps(r) != c.overlaps || r.Overlaps(c.q) != c.overlaps || c.q.Within(r) != c.within {
			t.Errorf("%+v: overlaps %t, within %t", c.q, c.q.Overlaps(r), c.q.Within(r))
		}
	}
	s := &scene.Scene{}
	if a, b := s.Layer("a"), s.Layer("b"); a == b || s.Layer("a") != a || s.Layer("b") != b || len(s.Layers) != 2 {
		t.Error("layers go by their names")
	}
	turned := scene.Text{At: scene.Point{X: 50, Y: 60}, Size: 10, Width: 30, Turned: true}
	if got := turned.Bounds(); !(math.Abs(got.X-42.4) <= 1e-9) || got.Y != 30 || got.W != 10 || got.H != 30 { // 0.76 of the size over the line
		t.Errorf("turned %v", got)
	}
}
