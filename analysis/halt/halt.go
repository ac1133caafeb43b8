// Package halt stops long work that nobody waits for any more.
//
// A loop that may be long looks at its Line once a round; where the context of the line has ended, Look leaves the loop, and
// everything that called it, by a panic that only the one who began the work catches, with Caught. So no step in between
// has an error to pass on that is none of its own.
package halt

import (
	"context"
	"sync/atomic"
)

// Line is the word of whoever waits for the work. A nil Line never stops anything. It may be looked at by several goroutines;
// each of them must bring the panic of Look back to the goroutine that catches it.
type Line struct {
	ctx   context.Context
	looks atomic.Uint32
}

// stopped is what Look panics with.
type stopped struct{ err error }

// between is how many looks pass between two questions to the context: rounds of the loops that look take up to some ten
// microseconds.
const between = 64

// Of returns the line of a context; nil where it never ends.
func Of(ctx context.Context) *Line {
	if ctx == nil || ctx.Done() == nil {
		return nil
	}
	return &Line{ctx: ctx}
}

// Look stops the work where the context has ended. It asks the context once in a while.
func (l *Line) Look() {
	if l != nil && l.looks.Add(1)%between == 0 {
		l.Ask()
	}
}

// Ask stops the work where the context has ended: for rounds of a millisecond or more.
func (l *Line) Ask() {
	if l == nil {
		return
	}
	if err := l.ctx.Err(); err != nil {
		panic(stopped{err})
	}
}

// Caught is deferred by whoever began the work: it sets err to the error of the context where Look stopped the work, and
// passes every other panic on.
func Caught(err *error) {
	switch v := recover().(type) {
	case nil:
	case stopped:
		*err = v.err
	default:
		panic(v)
	}
}
