package call

import (
	"errors"
	"fmt"
	"io/fs"
	"testing"

	"runnel/analysis/fault"
	"runnel/analysis/roof"
	"runnel/export/staged"
)

// Exit codes as the README states them.
func TestExitCodeOfEveryError(t *testing.T) {
	refusal := &roof.Refusal{}
	refusal.Add(roof.Problem{Rule: "x"})
	for _, c := range []struct {
		err  error
		want int
	}{
		{nil, 0},
		{ErrFindings, 1},
		{Usage("x"), 2},
		{fmt.Errorf("a: %w", staged.ErrExists), 2},
		{refusal, 3},
		{fmt.Errorf("a: %w", fs.ErrPermission), 3},
		{errors.New("other"), 3},
		{ErrPartial, 4},
		{fmt.Errorf("a: %w", fault.New("flow", "sum off by %d", 3)), 5},
		{&PanicError{Value: "index out of range"}, 5},
	} {
		if got := ExitCode(c.err); got != c.want {
			t.Errorf("%v: exit %d, want %d", c.err, got, c.want)
		}
		quiet := c.want == 0 || c.want == 1 || c.want == 4
		if (Explain(c.err) == "") != quiet {
			t.Errorf("%v: says %q", c.err, Explain(c.err))
		}
	}
}
