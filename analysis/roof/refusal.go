package roof

import (
	"fmt"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/gather"
)

// MaxProblems is how many problems are collected before reading stops.
const MaxProblems = 20

// Problem is one thing in the input that cannot be used.
type Problem struct {
	Origin Origin    // where it was read
	At     orb.Point // in the file's own coordinates, when HasAt
	HasAt  bool
	Rule   string // the rule that it breaks, lower case, no full stop
	Mend   string // what to change, lower case, no full stop
}

// String returns "file line 3 at (1, 2): rule; mend".
func (p Problem) String() string {
	var b strings.Builder
	b.WriteString(p.Origin.String())
	if p.HasAt {
		fmt.Fprintf(&b, " at (%.10g, %.10g)", p.At[0], p.At[1])
	}
	if b.Len() > 0 {
		b.WriteString(": ")
	}
	b.WriteString(p.Rule)
	if p.Mend != "" {
		b.WriteString("; ")
		b.WriteString(p.Mend)
	}
	return b.String()
}

// Refusal is the error of input that cannot be used: up to MaxProblems problems.
type Refusal struct {
	Problems []Problem
	More     int // problems beyond those kept
}

// Add keeps p, or only counts it once MaxProblems are held.
func (r *Refusal) Add(p Problem) {
	if len(r.Problems) == MaxProblems {
		r.More++
		return
	}
	r.Problems = append(r.Problems, p)
}

// Err returns r, or nil when it holds no problem.
func (r *Refusal) Err() error {
	if len(r.Problems) == 0 {
		return nil
	}
	return r
}

// Error returns one problem a line.
func (r *Refusal) Error() string {
	lines := gather.Each(r.Problems, Problem.String)
	if r.More > 0 {
		lines = append(lines, fmt.Sprintf("and %d more", r.More))
	}
	return strings.Join(lines, "\n")
}
