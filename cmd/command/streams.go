package command

import (
	"context"
	"io"
	"os"
	"slices"

	"golang.org/x/term"

	"runnel/export/staged"
)

// Streams are where a command writes.
type Streams struct {
	Context  context.Context //nolint:containedctx // of one call of the program, which its end stops; nil: nothing does
	In       io.Reader       // answers of somebody at a terminal; nil where nobody can be asked
	Out      io.Writer       // results
	Err      io.Writer       // warnings, progress, timings
	Terminal bool            // Err is a terminal: progress may be shown
	Process  bool            // the streams are this process's own: interrupting it takes its unfinished files away
	Allowed  bool            // the run is that of somebody else, which the user allowed to make again
}

// System returns the streams of this process.
func System() Streams {
	s := Streams{Out: os.Stdout, Err: os.Stderr, Terminal: term.IsTerminal(int(os.Stderr.Fd())), Process: true} //nolint:gosec // a file descriptor fits
	if s.Terminal && term.IsTerminal(int(os.Stdin.Fd())) {                                                      //nolint:gosec // a file descriptor fits
		s.In = os.Stdin
	}
	return s
}

// commit puts the files of a set in their places, warns of what there is to warn of, and of what an earlier run had left there, and names them.
func (s *Streams) commit(set *staged.Set, warnings ...string) error {
	names, err := set.Commit()
	if err == nil {
		for _, w := range slices.Concat(set.Notes, warnings) {
			note(s.Err, "warning: "+w)
		}
	}
	for _, name := range names {
		note(s.Err, "wrote "+name)
	}
	return err
}
