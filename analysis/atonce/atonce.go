// Package atonce runs parts of one work side by side, as long as there are processors for them.
package atonce

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// whole counts the works under way of those that Whole runs.
var whole atomic.Int32

// Whole runs one of many works of a kind, several of which run side by side. While there are as many as processors, the parts of each are done
// one after another: side by side they would wait for each other, and gain nothing.
func Whole(work func()) {
	whole.Add(1)
	defer whole.Add(-1)
	work()
}

// InTurn runs a work so small that its parts cost more side by side than they gain: they are done one after another, and so are, while it is under way,
// those of any other.
func InTurn(work func()) {
	all := int32(runtime.GOMAXPROCS(0)) //nolint:gosec // a count of processors
	whole.Add(all)
	defer whole.Add(-all)
	work()
}

// spare reports whether processors are left beside the works under way.
func spare() bool { return int(whole.Load()) < runtime.GOMAXPROCS(0) }

// Do runs parts that need nothing of each other, at the same time where processors are left, and returns when all are done. A panic of a part, of
// several that of the first in the list, reaches the caller once all have ended, so that whoever can recover it does.
func Do(parts ...func()) {
	panics := make([]any, len(parts))
	run := func(i int) {
		defer func() { panics[i] = recover() }()
		parts[i]()
	}
	if spare() {
		var wait sync.WaitGroup
		for i := 1; i < len(parts); i++ {
			wait.Go(func() { run(i) })
		}
		run(0)
		wait.Wait()
	} else {
		for i := range parts {
			run(i)
		}
	}
	for _, v := range panics {
		if v != nil {
			panic(v)
		}
	}
}
