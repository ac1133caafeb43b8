package command

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"testing"

	"runnel/analysis/fault"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/export/staged"
	"runnel/importer"
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
		{errFindings, 1},
		{usage("x"), 2},
		{fmt.Errorf("a: %w", staged.ErrExists), 2},
		{refusal, 3},
		{fmt.Errorf("a: %w", fs.ErrPermission), 3},
		{errors.New("other"), 3},
		{errPartial, 4},
		{fmt.Errorf("a: %w", fault.New("flow", "sum off by %d", 3)), 5},
		{&panicError{"index out of range"}, 5},
	} {
		if got := exitCode(c.err); got != c.want {
			t.Errorf("%v: exit %d, want %d", c.err, got, c.want)
		}
		quiet := c.want == 0 || c.want == 1 || c.want == 4
		if (explain(c.err) == "") != quiet {
			t.Errorf("%v: says %q", c.err, explain(c.err))
		}
	}
}

// A panic in one roof is a row with its reason; the others go on.
func TestAPanicIsARow(t *testing.T) {
	k := &campusRun{Streams: Streams{Out: &bytes.Buffer{}, Err: &bytes.Buffer{}}, workers: 2}
	jobs := []importer.Job{
		{Name: "one", Read: func() (*roof.Roof, error) { panic("index out of range") }},
		{Name: "two", Read: func() (*roof.Roof, error) { return nil, errors.New("no outline") }},
	}
	rows := k.checkAll(jobs, []string{"one", "two"}, study.Options{}, &staged.Set{})
	if len(rows) != 2 || !strings.Contains(rows[0].Reason, "index out of range") || rows[1].Reason != "no outline" {
		t.Errorf("rows %+v", rows)
	}
}
