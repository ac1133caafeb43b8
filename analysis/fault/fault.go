// Package fault has the error of a broken invariant: something the program itself got wrong.
package fault

import "fmt"

// Error says which step broke which invariant, with the numbers.
type Error struct {
	Step string
	Text string
}

// Error returns "step: text".
func (e *Error) Error() string { return e.Step + ": " + e.Text }

// New returns an Error for step with a formatted text.
func New(step, format string, args ...any) *Error {
	return &Error{Step: step, Text: fmt.Sprintf(format, args...)}
}
