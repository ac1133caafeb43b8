package command

import (
	"io"
	"os"

	"golang.org/x/term"
)

// Streams are where a command writes.
type Streams struct {
	Out      io.Writer // results
	Err      io.Writer // warnings, progress, timings
	Terminal bool      // Err is a terminal: progress may be shown
}

// System returns the streams of this process.
func System() Streams {
	return Streams{Out: os.Stdout, Err: os.Stderr, Terminal: term.IsTerminal(int(os.Stderr.Fd()))}
}
