//go:build !js

package call

import (
	"fmt"
	"os"
	"os/signal"
	"sync/atomic"
	"syscall"

	"runnel/analysis/gather"
	"runnel/export/staged"
)

// Endings are the signals that end the process from outside, but those that it was started to ignore, as nohup does.
func Endings() []os.Signal {
	return gather.Where([]os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP}, func(s os.Signal) bool { return !signal.Ignored(s) })
}

// AtEnd says what a run that goes on another time has done so far; nil where there is none.
var AtEnd atomic.Pointer[func() string]

// SweepOnInterrupt ends the process when it is ended from outside, after removing its unfinished files, and has a write
// to a reader that has gone fail as any other does.
func (s *Streams) SweepOnInterrupt() {
	if !s.Process {
		return
	}
	signal.Ignore(syscall.SIGPIPE)
	interrupt := make(chan os.Signal, 1)
	signal.Notify(interrupt, Endings()...)
	go func() {
		<-interrupt
		staged.Halt()
		text := "runnel: ended from outside; nothing was written."
		if n := staged.Sweep(); n > 0 {
			text = fmt.Sprintf("runnel: ended from outside, after %d files were written; these are whole.", n)
		} else if say := AtEnd.Load(); say != nil {
			text = "runnel: ended from outside; " + (*say)()
		}
		Note(s.Err, text)
		os.Exit(ExitInterrupted)
	}()
}
