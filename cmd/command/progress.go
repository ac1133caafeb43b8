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

// manySpots is from how many spots on a survey takes long enough to say how far it is.
const manySpots = 20000

// shares are how the time of a large survey is spent, by the steps of the study and the writing of all files; of 100,000 spots on four-way
// falls and on an exact grid.
var shares = map[string]float64{"surface": 8, "slope": 7, "ponds": 13, "flow": 27, "water": 2, "write": 40}

// surveyProgress says on one line of a terminal which step of a large survey is done, and about how long the rest takes.
type surveyProgress struct {
	out         io.Writer
	clock       func() float64 // seconds since the survey was read
	done, total float64        // shares
}

// newSurveyProgress returns the progress of a survey; files says whether files are written.
func newSurveyProgress(out io.Writer, clock func() float64, files bool) *surveyProgress {
	p := &surveyProgress{out: out, clock: clock}
	for step, share := range shares {
		if step != "write" || files {
			p.total += share
		}
	}
	return p
}

// step says that a step is done.
func (p *surveyProgress) step(name string) {
	p.done += shares[name]
	left := p.clock() / p.done * (p.total - p.done)
	_, _ = fmt.Fprintf(p.out, "\r%-50s", fmt.Sprintf("%s done, about %.0f s left", name, left))
}

// end clears the line; nil shows none.
func (p *surveyProgress) end() {
	if p != nil {
		_, _ = fmt.Fprint(p.out, "\r"+strings.Repeat(" ", 50)+"\r")
	}
}
