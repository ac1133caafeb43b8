package atonce

import (
	"runtime"
	"sync/atomic"
)

// Each deals the numbers from 0 to n-1 out in runs of at most so many to workers that work side by side. begin makes a worker, with what it needs
// for itself alone; the worker is called with one run after the other, from the first number to the one past the last. Which worker does which run
// is left to chance, so that nothing that comes out may hang on it. There is one worker where one run is all, or one processor, or none is left.
func Each(n, run int, begin func() (worker func(from, to int))) {
	runs := (n + run - 1) / run
	workers := min(runtime.GOMAXPROCS(0), runs)
	if workers <= 1 || !spare() {
		for from, worker := 0, begin(); from < n; from += run {
			worker(from, min(n, from+run))
		}
		return
	}
	var next atomic.Int64
	parts := make([]func(), workers)
	for i := range parts {
		parts[i] = func() {
			worker := begin()
			for from := int(next.Add(1)-1) * run; from < n; from = int(next.Add(1)-1) * run {
				worker(from, min(n, from+run))
			}
		}
	}
	Do(parts...)
}
