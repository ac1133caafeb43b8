package study_test

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/rainfall"
	"runnel/analysis/study"
)

// counting is a context that says that it has ended from the last time on that it is asked; 0: never.
type counting struct {
	context.Context
	asked, last atomic.Int64
}

func (c *counting) Done() <-chan struct{} { return make(chan struct{}) }

func (c *counting) Err() error {
	if n, last := c.asked.Add(1), c.last.Load(); last > 0 && n >= last {
		return context.Canceled
	}
	return nil
}

// asking returns options with a storm, and a context that counts.
func asking(t *testing.T) (study.Options, *counting) {
	t.Helper()
	rain, err := rainfall.Even().Storm(0.075, 3600)
	if err != nil {
		t.Fatal(err)
	}
	c := &counting{Context: t.Context()}
	return study.Options{Context: c, Storm: &study.Design{Pattern: rainfall.Even(), Rain: rain}}, c
}

// A run whose context ends goes no further than to where it asks next: it asks once more in none of its steps (each case of the
// storm is routed by itself and asks by itself). Each step asks, and not less often where there are more spots.
func TestRunStopsWhenItsContextEnds(t *testing.T) {
	count := func(spots int) (total int64, steps map[string]int64) {
		o, c := asking(t)
		var at []int64
		o.Clock = func() float64 { at = append(at, c.asked.Load()); return 0 }
		if _, err := study.Run(shape.Random(5, spots), o); err != nil {
			t.Fatal(err)
		}
		steps = map[string]int64{}
		steps["surface"], steps["slope"] = at[1]-at[0], at[2]-at[1]
		steps["ponds and flow"] = at[4] - at[2] // side by side
		return c.asked.Load(), steps
	}
	total, few := count(300)
	_, many := count(1200)
	for step, n := range few {
		if n < 3 || many[step] < n || step == "surface" && many[step] < n+n/2 {
			t.Errorf("%s asks %d times with 300 spots and %d times with 1,200", step, n, many[step])
		}
	}
	for k := int64(1); k < total; k += 1 + total/12 {
		o, c := asking(t)
		c.last.Store(k)
		s, err := study.Run(shape.Random(5, 300), o)
		if err == nil && c.asked.Load() < k {
			continue // workers that share their work ask somewhat more or less often, by chance
		}
		if !errors.Is(err, context.Canceled) || s != nil {
			t.Fatalf("ended at question %d of %d: %v", k, total, err)
		}
		if more := c.asked.Load() - k; more > 20 {
			t.Errorf("ended at question %d of %d, it was asked %d times more", k, total, more)
		}
	}
}

// What ended once does not stop what is done with the results.
func TestAnEndAfterTheRunStopsNothing(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	s, err := study.Run(shape.Random(5, 200), study.Options{Context: ctx})
	if err != nil {
		t.Fatal(err)
	}
	cancel()
	if s.Surface.TIN.Halt != nil || s.Surface.Cut.Halt != nil {
		t.Error("the surface still looks at the context")
	}
	if _, err := correction.Of(&correction.Input{Study: s, Options: study.Options{Context: ctx}}); !errors.Is(err, context.Canceled) {
		t.Errorf("a correction that nobody waits for: %v", err)
	}
}
