//go:build unix

package command_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The last line that `make test` writes begins with how the run ended, also where a package did not build, so that no test failed, and where no test ran.
// By hand, over programs that stand for go.
func TestLastLineOfAllTests(t *testing.T) {
	script, err := filepath.Abs("../../.ci/test")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ does, skips, last string }{
		{`echo "--- PASS: TestA"`, "", "PASSED: 1 passed, 0 failed, 0 skipped"},
		{`echo "--- PASS: TestA"; echo "--- SKIP: TestB"`, "", "PASSED: 1 passed, 0 failed, 1 skipped"},
		{`echo "--- PASS: TestA"; echo "--- SKIP: TestB"`, "1", "FAILED (a skipped test is a failure here): 1 passed, 0 failed, 1 skipped"},
		{`echo "--- PASS: TestA"; echo "--- FAIL: TestB"; exit 1`, "", "FAILED (go test ended with 1): 1 passed, 1 failed, 0 skipped"},
		{`echo "--- PASS: TestA"; echo "# runnel/analysis/slope"; exit 2`, "", "FAILED (go test ended with 2): 1 passed, 0 failed, 0 skipped"},
		{`true`, "", "FAILED (no test ran): 0 passed, 0 failed, 0 skipped"},
	} {
		dir := t.TempDir()
		program := filepath.Join(dir, "go")
		if err := os.WriteFile(program, []byte("#!/bin/sh\n"+c.does+"\n"), 0o700); err != nil { //nolint:gosec // a program
			t.Fatal(err)
		}
		run := exec.CommandContext(t.Context(), "sh", script)
		run.Dir, run.Env = dir, append(os.Environ(), "GO="+program, "RUNNEL_NO_SKIP="+c.skips)
		out, err := run.Output()
		lines := strings.Split(strings.TrimRight(string(out), "\n"), "\n")
		if got := lines[len(lines)-1]; got != c.last || (err == nil) != strings.HasPrefix(c.last, "PASSED") {
			t.Errorf("%s: the last line is %q, want %q: %v", c.does, got, c.last, err)
		}
	}
}
