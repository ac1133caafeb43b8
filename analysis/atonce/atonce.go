// Package atonce runs parts of one work side by side.
package atonce

import "sync"

// Do runs parts that need nothing of each other at the same time, and returns when all are done. A panic of a part, of several
// that of the first in the list, reaches the caller once all have ended, so that whoever can recover it does.
func Do(parts ...func()) {
	panics := make([]any, len(parts))
	run := func(i int) {
		defer func() { panics[i] = recover() }()
		parts[i]()
	}
	var wait sync.WaitGroup
	for i := 1; i < len(parts); i++ {
		wait.Go(func() { run(i) })
	}
	run(0)
	wait.Wait()
	for _, v := range panics {
		if v != nil {
			panic(v)
		}
	}
}
