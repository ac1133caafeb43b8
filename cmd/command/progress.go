package command

import (
	"fmt"
	"io"
	"strings"
)

// progress counts roofs on one line of a terminal; elsewhere it prints nothing.
type progress struct {
	out         io.Writer
	total, done int
	shown       bool
}

// step says that one more roof is done.
func (p *progress) step() {
	p.done++
	if p.shown {
		_, _ = fmt.Fprintf(p.out, "\r%d of %d roofs", p.done, p.total)
	}
}

// end clears the line.
func (p *progress) end() {
	if p.shown && p.done > 0 {
		_, _ = fmt.Fprint(p.out, "\r"+strings.Repeat(" ", 40)+"\r")
	}
}
