package call

import (
	"fmt"
	"io"
	"strings"
)

// Progress counts roofs: on one line of a terminal, elsewhere on a line each ten seconds.
type Progress struct {
	Out    io.Writer
	Known  int            // roofs in all, -1 where that is not known
	Share  func() float64 // of the input that was handed out, where the number of roofs is not known
	Shown  bool           // on a terminal
	Clock  func() float64 // seconds since the run began
	Before int            // roofs that an earlier run had done

	done int
	said float64 // when something was printed
	wide int     // characters on the line of the terminal
}

// How often progress is told [s].
const (
	onTerminal = 0.1
	elsewhere  = 10
)

// Step says that one more roof is done.
func (p *Progress) Step() {
	p.done++
	p.Tick()
}

// Tick says that time has passed.
func (p *Progress) Tick() {
	now := p.Clock()
	if p.Shown {
		if now-p.said >= onTerminal || p.said == 0 || p.Before+p.done == p.Known {
			text := p.text(now)
			_, _ = fmt.Fprintf(p.Out, "\r%-*s", p.wide, text)
			p.said, p.wide = now, max(p.wide, len(text))
		}
		return
	}
	if now-p.said >= elsewhere {
		_, _ = fmt.Fprintln(p.Out, p.text(now))
		p.said = now
	}
}

// text says how far the run is, how fast it goes, and how long the rest takes.
func (p *Progress) text(now float64) string {
	text := fmt.Sprintf("%d roofs", p.Before+p.done)
	left := 0.0 // of the work, as a multiple of what is done
	if p.Known >= 0 {
		text = fmt.Sprintf("%d of %d roofs", p.Before+p.done, p.Known)
		left = float64(p.Known-p.Before-p.done) / float64(max(1, p.done))
	} else if share := p.Share(); share > 0 {
		left = 1/share - 1
	}
	if now < 1 || p.done == 0 {
		return text
	}
	text += fmt.Sprintf(", %.3g a second", float64(p.done)/now)
	if left > 0 {
		text += ", about " + sayTime(now*left) + " left"
	}
	return text
}

// sayTime says a time [s] as people do.
func sayTime(seconds float64) string {
	switch {
	case seconds < 90:
		return fmt.Sprintf("%.0f s", seconds)
	case seconds < 90*60:
		return fmt.Sprintf("%.0f min", seconds/60)
	}
	return fmt.Sprintf("%.0f h", seconds/3600)
}

// End clears the line.
func (p *Progress) End() {
	if p.wide > 0 {
		_, _ = fmt.Fprint(p.Out, "\r"+strings.Repeat(" ", p.wide)+"\r")
	}
}

// ManySpots is from how many spots on a survey takes long enough to say how far it is.
const ManySpots = 20000

// shares are how the time of a large survey is spent, by the steps of the study and the writing of all files; of 100,000 spots on four-way
// falls and on an exact grid.
var shares = map[string]float64{"surface": 8, "slope": 7, "ponds": 13, "flow": 27, "water": 2, "write": 40}

// How wide the bar of a survey's progress is, and its line with what stands behind [characters].
const (
	barWide  = 20
	lineWide = 72
)

// SurveyProgress draws a bar on one line of a terminal, and says which step of a large survey is done, and about how long the rest takes.
type SurveyProgress struct {
	out         io.Writer
	clock       func() float64 // seconds since the survey was read
	done, total float64        // shares
}

// NewSurveyProgress returns the progress of a survey; files says whether files are written.
func NewSurveyProgress(out io.Writer, clock func() float64, files bool) *SurveyProgress {
	p := &SurveyProgress{out: out, clock: clock}
	for step, share := range shares {
		if step != "write" || files {
			p.total += share
		}
	}
	return p
}

// Step says that a step is done.
func (p *SurveyProgress) Step(name string) {
	p.done += shares[name]
	left := p.clock() / p.done * (p.total - p.done)
	full := min(barWide, int(barWide*p.done/p.total))
	text := fmt.Sprintf("[%s%s] %s done, about %s left", strings.Repeat("#", full), strings.Repeat("-", barWide-full), name, sayTime(left))
	_, _ = fmt.Fprintf(p.out, "\r%-*s", lineWide, text)
}

// End clears the line; nil shows none.
func (p *SurveyProgress) End() {
	if p != nil {
		_, _ = fmt.Fprint(p.out, "\r"+strings.Repeat(" ", lineWide)+"\r")
	}
}
