package ponding

import (
	"math"
	"math/rand/v2"
	"testing"
)

// total returns the water in depressions and at outlets.
func (w *Water) total() float64 {
	sum := 0.0
	for _, v := range w.Held {
		sum += v
	}
	for _, v := range w.Off {
		sum += v
	}
	return sum
}

// differs reports whether two waters differ by more than rounding.
func differs(a, b *Water) bool {
	for k := range a.Held {
		if !(math.Abs(a.Held[k]-b.Held[k]) <= 1e-8) {
			return true
		}
	}
	for o := range a.Off {
		if !(math.Abs(a.Off[o]-b.Off[o]) <= 1e-8) {
			return true
		}
	}
	return false
}

func rain(rng *rand.Rand, ps *Ponds, amount float64) []float64 {
	pour := make([]float64, len(ps.Tree))
	for k := range pour {
		if ps.Tree[k].Left < 0 && rng.IntN(3) > 0 {
			pour[k] = amount * rng.Float64()
		}
	}
	return pour
}

func times(volume []float64, by float64) []float64 {
	scaled := make([]float64, len(volume))
	for k, v := range volume {
		scaled[k] = v * by
	}
	return scaled
}

// TestPourProperties holds pouring against the properties of fill-spill-merge (Barnes, Callaghan and
// Wickert, Earth Surface Dynamics 9, 2021): heavy flooding equals priority-flood; a repeated run changes
// nothing; ten small pours equal one big; mass is conserved.
func TestPourProperties(t *testing.T) {
	rng := random(4)
	merged := 0
	for trial := range 300 {
		tin, outlets := randomCase(rng, 9, 2+trial%9)
		ps := find(t, tin, outlets...)
		pour := rain(rng, ps, math.Pow(10, float64(trial%5)))
		one, ten, again := ps.Empty(), ps.Empty(), ps.Empty()
		one.Pour(pour)
		sum := 0.0
		for _, v := range pour {
			sum += v
		}
		if !(math.Abs(one.total()-sum) <= 1e-9*(1+sum)) {
			t.Fatalf("trial %d: poured %v, found %v", trial, sum, one.total())
		}
		for range 10 {
			ten.Pour(times(pour, 0.1))
		}
		if differs(one, ten) {
			t.Fatalf("trial %d: ten small pours %v %v, one big %v %v", trial, ten.Held, ten.Off, one.Held, one.Off)
		}
		again.Pour(pour)
		again.Pour(make([]float64, len(ps.Tree)))
		if differs(one, again) {
			t.Fatalf("trial %d: a repeated run changed the water", trial)
		}
		flooded := ps.Empty()
		heavy := make([]float64, len(ps.Tree))
		for k := range heavy {
			if ps.Tree[k].Left < 0 {
				heavy[k] = 1e6
			} else {
				merged++
			}
		}
		flooded.Pour(heavy)
		held := make([]float64, len(ps.Ponds))
		for k := range ps.Tree {
			held[ps.Tree[k].Pond] += flooded.Held[k]
		}
		level := priorityFlood(ps)
		for i := range ps.Ponds {
			p := &ps.Ponds[i]
			if !p.Undrained && !(math.Abs(held[i]-p.Volume) <= 1e-9*(1+p.Volume)) {
				t.Fatalf("trial %d pond %d: flooded holds %v, want %v", trial, i, held[i], p.Volume)
			}
			if l := flooded.Level(p.node); p.Depth > 0 && (l != p.Level || l != level[p.Pits[0]]) {
				t.Fatalf("trial %d pond %d: flooded to %v, priority-flood %v", trial, i, l, level[p.Pits[0]])
			}
		}
	}
	if merged < 200 {
		t.Errorf("only %d merged depressions were tried", merged)
	}
}

func TestPourStepByStep(t *testing.T) {
	// Profile 2 0 1 -1 3 per unit width, open over 2 at the left end. By hand: below 1 the left pit holds
	// 1/2*1*1/2 + 1/2*1 = 0.75, the right 1/2*2*1 + 1/2*2*1/2 = 1.5; together below 2, 5.625 (1 + 1.5 + 2 + 1.125).
	profile := []float64{2, 0, 1, -1, 3}
	tin := grid(5, 2, 1, rising, func(i, _ int) float64 { return profile[i] })
	ps := find(t, tin, pointOutlet(tin, 0, 0, 5))
	left, right := ps.Tree[0], ps.Tree[1]
	if left.Pit != 3 || right.Pit != 1 {
		t.Fatalf("tree %+v", ps.Tree)
	}
	w := ps.Empty()
	for i, step := range []struct {
		pour, deep, shallow, both, off float64
	}{
		{0.75, 0.75, 0, 0, 0},
		{0.75 + 0.5, 1.5, 0.5, 0, 0},        // the deep pit is full, 0.5 runs on
		{0.25, 1.5, 0.75, 0, 0},             // both are full
		{1, 1.5, 0.75, 1, 0},                // they are one
		{3.375, 1.5, 0.75, 5.625 - 2.25, 1}, // full; 1 runs off
	} {
		w.Pour([]float64{step.pour, 0, 0})
		if got := (Water{Held: w.Held, Off: w.Off}); !(math.Abs(got.Held[0]-step.deep)+math.Abs(got.Held[1]-step.shallow)+
			math.Abs(got.Held[2]-step.both)+math.Abs(got.Off[0]-step.off) <= 1e-12) {
			t.Errorf("step %d: held %v off %v, want %+v", i, w.Held, w.Off, step)
		}
	}
	if w.Level(2) != 2 || w.Level(0) != 1 {
		t.Errorf("levels %v %v", w.Level(2), w.Level(0))
	}
}

func TestPourRunsDownTheCascade(t *testing.T) {
	profile := []float64{3, 0, 2, 0, 1, 0}
	tin := grid(6, 2, 1, falling, func(i, _ int) float64 { return profile[i] })
	ps := find(t, tin, edgeOutlet(tin, nil, []int32{5, 11}))
	w := ps.Empty()
	left := ps.Ponds[0].node
	pour := make([]float64, 2)
	pour[left] = ps.Ponds[0].Volume + 0.25
	w.Pour(pour)
	if !(math.Abs(w.Held[left]-5.0/3) <= 1e-12) || !(math.Abs(w.Held[1-left]-0.25) <= 1e-12) || w.Off[0] != 0 {
		t.Errorf("held %v off %v", w.Held, w.Off)
	}
	// a third of the right pond's water: it is 1 deep, its section a triangle of 1.5 by 1 below a rim at 1
	if l := w.Level(1 - left); !(math.Abs(l-math.Sqrt(0.25/0.75)) <= 1e-12) {
		t.Errorf("level %v", l)
	}
	pour[left] = 1
	w.Pour(pour)
	if !(math.Abs(w.Off[0]-0.5) <= 1e-12) {
		t.Errorf("off %v, want 0.5", w.Off)
	}
}
