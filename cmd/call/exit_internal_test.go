package call

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"
	"testing"

	"runnel/analysis/fault"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/export/drawing/sheet"
	"runnel/export/setout"
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
		{fmt.Errorf("plan: %w", &sheet.FitError{}), 2},
		{fmt.Errorf("set-out: %w", &setout.UnknownMarkError{}), 2},
		{fmt.Errorf("storm: %w", &study.OutletError{}), 2},
		{&staged.InputError{Output: "a", Input: "a"}, 2},
		{fmt.Errorf("a: %w", syscall.ENOSPC), 3},
		{errors.Join(refusal, ErrPartial), 4}, // some roofs failed: that wins
		{errors.Join(ErrFindings, ErrPartial), 4},
		{errors.Join(refusal, ErrFindings), 1},
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

// What is printed of an error: the error itself, and what the user may do where that is not in it.
func TestWhatIsExplained(t *testing.T) {
	for want, err := range map[string]error{
		"x: output exists\nGive --overwrite to replace it, or another folder.": fmt.Errorf("x: %w", staged.ErrExists),
		"--sheet: no": Usage("--sheet: %s", "no"),
		"full":        errors.New("full"),
		"internal fault, nothing was written: unexpected: oops\nPlease report this with the input files.": &PanicError{Value: "oops"},
	} {
		if got := Explain(err); got != want {
			t.Errorf("%v: says %q, want %q", err, got, want)
		}
	}
	if got := Explain(fault.New("flow", "sum off by %d", 3)); !strings.HasPrefix(got, "internal fault, nothing was written: ") || !strings.Contains(got, "sum off by 3") {
		t.Errorf("%q", got)
	}
}

// A program says a version, whatever it was built from.
func TestVersion(t *testing.T) {
	if v := Version(); v == "" || v == "(unknown)" {
		t.Errorf("version %q", v)
	}
}
