// Package reference runs independent programs from tests: statistics, geometry and raster tools that
// compute the same thing another way.
//
// They come from Debian packages that "make references" installs. With RUNNEL_REFERENCES=1 a missing program fails the
// test; without, the test is skipped and names the package. A program that is there and refuses what it is given fails the test.
package reference

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"testing"
)

// Run feeds stdin to a program and returns what it prints. pkg is the Debian package that holds what the call needs.
func Run(tb testing.TB, pkg string, stdin []byte, program string, args ...string) []byte {
	tb.Helper()
	out, stderr, err := run(stdin, program, args)
	if err == nil {
		return out
	}
	if os.Getenv("RUNNEL_REFERENCES") == "1" || !missing(err, stderr) {
		tb.Fatalf("%s (Debian package %s): %v\n%s", program, pkg, err, stderr)
	}
	tb.Skipf("needs Debian package %s: %v", pkg, err)
	return nil
}

// missing reports whether a call failed for want of the program or of a package that its script loads.
func missing(err error, stderr []byte) bool {
	return errors.Is(err, exec.ErrNotFound) || errors.Is(err, fs.ErrNotExist) ||
		bytes.Contains(stderr, []byte("ModuleNotFoundError")) || bytes.Contains(stderr, []byte("there is no package called"))
}

func run(stdin []byte, program string, args []string) (out, stderr []byte, err error) {
	var so, se bytes.Buffer
	cmd := exec.Command(program, args...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(stdin), &so, &se
	err = cmd.Run()
	return so.Bytes(), se.Bytes(), err
}

// Python runs a script with Debian's own Python, which sees Debian's modules.
func Python(tb testing.TB, pkg, script string, stdin []byte) []byte {
	tb.Helper()
	return Run(tb, pkg, stdin, "/usr/bin/python3", "-c", script)
}

// R runs a script with R.
func R(tb testing.TB, pkg, script string) []byte {
	tb.Helper()
	return Run(tb, pkg, nil, "Rscript", "--vanilla", "-e", script)
}
