package staged

import (
	"sync"
	"sync/atomic"
)

// gate is passed by whoever begins or places a file; Halt shuts it.
var gate sync.RWMutex

// Halt keeps every goroutine from beginning or placing another file, for good: a process that is about to end calls it
// before Sweep, so that nothing comes after. It waits for files that are just put in their places.
func Halt() { gate.Lock() }

// open are the sets of this process that are neither in place nor discarded.
var open struct {
	sync.Mutex
	sets map[*Set]bool
}

func register(s *Set) {
	open.Lock()
	defer open.Unlock()
	if open.sets == nil {
		open.sets = map[*Set]bool{}
	}
	open.sets[s] = true
}

func forget(s *Set) {
	open.Lock()
	defer open.Unlock()
	delete(open.sets, s)
}

// written counts the files that this process has put in place.
var written atomic.Int64

// Sweep removes this process's unfinished files, for a run that is cut short after Halt, and returns how many files it
// had put in their places before.
func Sweep() int {
	open.Lock()
	sets := make([]*Set, 0, len(open.sets))
	for s := range open.sets {
		sets = append(sets, s)
	}
	open.Unlock()
	for _, s := range sets {
		s.Discard()
	}
	return int(written.Load())
}
