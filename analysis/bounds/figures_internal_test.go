package bounds

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// By hand.
func TestFiguresOfReplicates(t *testing.T) {
	four := []float64{1, 2, 4, 8}
	for share, want := range map[float64]float64{0: 1, 1.0 / 3: 2, 0.5: 3, 2.0 / 3: 4, 5.0 / 6: 6, 1: 8} {
		if got := quantile(four, share); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("quantile at %g: %g, want %g", share, got, want)
		}
	}
	if mean, deviation := moments([]float64{2, 4, 4, 6}); mean != 4 || !(math.Abs(deviation-math.Sqrt(8.0/3)) <= 1e-12) {
		t.Errorf("mean %g, deviation %g", mean, deviation)
	}
	if mean, deviation := moments([]float64{5}); mean != 5 || deviation != 0 {
		t.Errorf("of one: mean %g, deviation %g", mean, deviation)
	}
	if a, b, c := mirror(3, 5, false), mirror(3, 6, true), mirror(0, 5, true); a != 7 || b != 12 || c != 10 {
		t.Errorf("mirrored: %g, %g, %g", a, b, c)
	}
	// 1, 2, 3 and 4 about 3 have the images 5, 4, 3 and 2: five of the eight are 3 or more, three are 4 or more.
	for limit, want := range map[float64]float64{3: 5.0 / 8, 4: 3.0 / 8, 3.5: 3.0 / 8, 6: 0, 0: 1} {
		if got := over([]float64{1, 2, 3, 4}, 3, limit); got != want {
			t.Errorf("over %g: %g, want %g", limit, got, want)
		}
	}
}

// By hand, of the numbers from 0 to 100 in any order the 5th and 95th are 5 and 95; about 60 their images are 25 and 115, about 50 they are the same ones, and a
// measured figure lies in its range always. A depth is never below 0.
func TestRangeOfReplicates(t *testing.T) {
	shuffled := func() []float64 {
		out := make([]float64, 101)
		for i, k := range rand.New(rand.NewPCG(1, 5)).Perm(len(out)) {
			out[i] = float64(k)
		}
		return out
	}
	for _, c := range []struct {
		self, measured float64
		low, high      float64
	}{{50, 50, 5, 95}, {60, 50, 5, 115}, {40, 50, 0, 95}, {50, 99, 5, 99}, {50, 2, 2, 95}} {
		if got := rangeOf(shuffled(), c.self, c.measured, false, math.Inf(1)); !(math.Abs(got.Low-c.low) <= 1e-9) || !(math.Abs(got.High-c.high) <= 1e-9) {
			t.Errorf("about %g: %+v, want %g to %g", c.self, got, c.low, c.high)
		}
	}
	// As ratios about 50 the image of 5 is 500 and that of 95 is 26.3.
	if got := rangeOf(shuffled(), 50, 50, true, math.Inf(1)); !(math.Abs(got.Low-5) <= 1e-9) || !(math.Abs(got.High-500) <= 1e-9) {
		t.Errorf("as ratios: %+v", got)
	}
	// Of few the percentiles are those of a normal distribution: 1.645 deviations either way. 2, 4, 4 and 6 have 1.633.
	if fewTrials <= 4 {
		t.Fatal("four are not few")
	}
	if got := rangeOf([]float64{2, 4, 4, 6}, 4, 4, false, math.Inf(1)); !(math.Abs(got.Low-(4-1.645*math.Sqrt(8.0/3))) <= 1e-9) || !(math.Abs(got.High-(4+1.645*math.Sqrt(8.0/3))) <= 1e-9) {
		t.Errorf("of four: %+v", got)
	}
}

// The share of a normal distribution against the error function of the standard library.
func TestNormalShare(t *testing.T) {
	for x := -7.0; x <= 7; x += 0.01 {
		if got, want := share(x), 0.5*math.Erfc(-x/math.Sqrt2); !(math.Abs(got-want) <= 2e-9) {
			t.Fatalf("below %g: %.12f, want %.12f", x, got, want)
		}
	}
}

// Dice have mean 0, deviation 1 and the fourth moment of a sum of twelve even numbers: 3 less 1.2/12 (the excess of one is -1.2), and never pass 6.
func TestDiceMoments(t *testing.T) {
	e := &dice{rand.NewPCG(7, 11)}
	const n = 400000
	var m1, m2, m4 float64
	for range n {
		x := e.next()
		if !(math.Abs(x) <= 6) {
			t.Fatalf("%g", x)
		}
		m1, m2, m4 = m1+x/n, m2+x*x/n, m4+x*x*x*x/n
	}
	if !(math.Abs(m1) <= 0.006) || !(math.Abs(m2-1) <= 0.009) || !(math.Abs(m4-2.9) <= 0.06) {
		t.Errorf("moments %g, %g, %g", m1, m2, m4)
	}
}

// A front gives back the least first, whatever was put in between.
func TestFrontGivesTheLeast(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 3))
	f := &front{}
	var held []int32
	for range 4000 {
		if len(held) == 0 || rnd.IntN(5) < 3 {
			v := rnd.Int32N(500)
			f.push(v)
			held = append(held, v)
			continue
		}
		got := f.pop()
		at := slices.Index(held, got)
		if at < 0 || got != slices.Min(held) {
			t.Fatalf("gave %d of %v", got, held)
		}
		held = slices.Delete(held, at, at+1)
	}
	if len(f.list) != len(held) {
		t.Errorf("%d of %d wait", len(f.list), len(held))
	}
}

// By hand: of one value there is no deviation; 1 and 3 lie sqrt 2 about 2, as samples of two; 1, 2, 3 and 6 about 3: the root of 14/3.
func TestMomentsOfFewValues(t *testing.T) {
	for _, c := range []struct {
		values          []float64
		mean, deviation float64
	}{{[]float64{4}, 4, 0}, {[]float64{1, 3}, 2, math.Sqrt2}, {[]float64{1, 2, 3, 6}, 3, math.Sqrt(14.0 / 3)}} {
		if mean, deviation := moments(c.values); !(math.Abs(mean-c.mean) <= 1e-12) || !(math.Abs(deviation-c.deviation) <= 1e-12) {
			t.Errorf("%v: %g, %g", c.values, mean, deviation)
		}
	}
}

// By hand: a figure that was 4 on the surface and 0.1 on one replicate in twenty would mirror to 160. The roof has room for 30.
func TestNoBoundIsWiderThanTheRoofHasRoomFor(t *testing.T) {
	values := make([]float64, 100)
	for i := range values {
		values[i] = 4
		if i < 10 {
			values[i] = 0.1
		}
	}
	for _, c := range []struct{ most, high float64 }{{math.Inf(1), 160}, {30, 30}, {3, 5}} { // never without the measured 5
		if got := rangeOf(slices.Clone(values), 4, 5, true, c.most); !(math.Abs(got.Low-0.1) <= 1e-9) || !(math.Abs(got.High-c.high) <= 1e-9) {
			t.Errorf("room for %g: %v, want 0.1 to %g", c.most, got, c.high)
		}
	}
}
