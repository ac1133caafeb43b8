package command

import (
	"io"
	"os"
	"os/signal"
	"syscall"

	"golang.org/x/term"

	"runnel/export"
)

// Streams are where a command writes.
type Streams struct {
	Out      io.Writer // results
	Err      io.Writer // warnings, progress, timings
	Terminal bool      // Err is a terminal: progress may be shown
	Process  bool      // the streams are this process's own: interrupting it takes its unfinished files away
}

// System returns the streams of this process.
func System() Streams {
	return Streams{Out: os.Stdout, Err: os.Stderr, Terminal: term.IsTerminal(int(os.Stderr.Fd())), Process: true}
}

// sweepOnInterrupt ends the process when it is interrupted, after removing its unfinished files from dir.
func (s *Streams) sweepOnInterrupt(dir string) {
	if !s.Process || dir == "" {
		return
	}
	interrupt := make(chan os.Signal, 1)
	signal.Notify(interrupt, os.Interrupt, syscall.SIGTERM)
	go func() {
		<-interrupt
		export.Halt()
		export.Sweep(dir)
		os.Exit(exitInterrupted)
	}()
}
