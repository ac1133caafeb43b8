package atonce_test

import (
	"runtime"
	"sync/atomic"
	"testing"

	"runnel/analysis/atonce"
)

// Parts run side by side: here each waits for the other.
func TestPartsRunAtOnce(t *testing.T) {
	a, b := make(chan int), make(chan int)
	got := 0
	atonce.Do(func() { a <- 3; got = <-b }, func() { b <- 4 + <-a })
	if got != 7 {
		t.Errorf("%d", got)
	}
}

// The panic of the first part that breaks reaches the caller, but not before the others have ended.
func TestAPanicReachesTheCaller(t *testing.T) {
	ended := false
	defer func() {
		if v := recover(); v != "first" || !ended {
			t.Errorf("recovered %v, the last part ended: %t", v, ended)
		}
	}()
	atonce.Do(func() {}, func() { panic("first") }, func() { panic("second") }, func() { ended = true })
	t.Error("no panic")
}

// Every number is dealt out once, in runs no longer than asked, whatever their length and on one processor too.
func TestEachNumberOnce(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, processors := range []int{1, 4} {
		runtime.GOMAXPROCS(processors)
		for _, c := range []struct{ n, run int }{{0, 3}, {1, 3}, {3, 3}, {7, 3}, {1000, 1}, {5, 9}} {
			times := make([]atomic.Int32, c.n)
			atonce.Each(c.n, c.run, func() func(from, to int) {
				return func(from, to int) {
					if to-from > c.run || from >= to {
						t.Errorf("%d in runs of %d on %d processors: a run from %d to %d", c.n, c.run, processors, from, to)
					}
					for i := from; i < to; i++ {
						times[i].Add(1)
					}
				}
			})
			for i := range times {
				if times[i].Load() != 1 {
					t.Errorf("%d in runs of %d on %d processors: %d was dealt out %d times", c.n, c.run, processors, i, times[i].Load())
				}
			}
		}
	}
}

// With as many works under way as there are processors, parts run one after another, in the order of the list and to the last even if one breaks;
// with one work less they run side by side again.
func TestPartsOfManyWorksRunInTurn(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(2))
	var order []int
	part := func(i int) func() { return func() { order = append(order, i) } }
	atonce.Whole(func() {
		a, b := make(chan int), make(chan int)
		atonce.Do(func() { a <- 3; <-b }, func() { b <- <-a })
		atonce.Whole(func() {
			defer func() {
				if v := recover(); v != "broken" || len(order) != 3 {
					t.Errorf("recovered %v, order %v", v, order)
				}
			}()
			atonce.Do(part(0), func() { order = append(order, 1); panic("broken") }, part(2))
		})
		atonce.Whole(func() {
			atonce.Each(4, 1, func() func(from, to int) { return func(from, _ int) { order = append(order, 3+from) } })
		})
		atonce.Do(func() { a <- 3; <-b }, func() { b <- <-a })
	})
	for i, v := range order {
		if i != v || len(order) != 7 {
			t.Fatalf("order %v", order)
		}
	}
}

// While a small work is under way parts run one after another whatever is left of processors, and side by side again after it, also when it breaks.
func TestPartsOfASmallWorkRunInTurn(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	for range 2 {
		func() {
			defer func() { _ = recover() }()
			atonce.InTurn(func() {
				n := 0
				atonce.Do(func() { n = 1 }, func() { n *= 10 }, func() { n += 2 }) // a race, were they not
				if n != 12 {
					t.Errorf("%d", n)
				}
				panic("broken")
			})
		}()
		a, b := make(chan int), make(chan int)
		atonce.Do(func() { a <- 3; <-b }, func() { b <- <-a })
	}
}
