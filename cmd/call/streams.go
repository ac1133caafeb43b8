// Package call is one call of runnel: the streams that it writes to, how it ends, the flags that its commands share, the files that it may read beside a survey, and the record
// by which it can be made again.
package call

import (
	"context"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"unicode"

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

// Commit puts the files of a set in their places, warns of what there is to warn of, and of what an earlier run had left there, and names them.
func (s *Streams) Commit(set *staged.Set, warnings ...string) error {
	names, err := set.Commit()
	if err == nil {
		for _, w := range slices.Concat(set.Notes, warnings) {
			Note(s.Err, "warning: "+w)
		}
	}
	for _, name := range names {
		Note(s.Err, "wrote "+name)
	}
	return err
}

// Note writes one line for the user; where it cannot be written there is nobody to tell.
func Note(w io.Writer, line string) { _, _ = fmt.Fprintln(w, drawn(line)) }

// drawn keeps a text from drawing on a terminal: names of files and roofs are chosen by whoever made them.
func drawn(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\n' && r != '\t' || unicode.Is(unicode.Bidi_Control, r) {
			return '?'
		}
		return r
	}, text)
}
