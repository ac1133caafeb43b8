//go:build unix

package command_test

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"runnel/export/staged"
)

func called(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	path, err := program()
	if err != nil {
		t.Fatal(err)
	}
	return exec.Command(path, args...) //nolint:gosec // our own
}

// code is the exit code of a command that has ended.
func code(t *testing.T, err error) int {
	t.Helper()
	var ended *exec.ExitError
	switch {
	case err == nil:
		return 0
	case errors.As(err, &ended):
		return ended.ExitCode()
	}
	t.Fatal(err)
	return -1
}

// A page that nobody reads any more ends each command with code 3, and nothing is left behind.
func TestReaderHasGone(t *testing.T) {
	dir := t.TempDir()
	in := filepath.Join(dir, "in")
	if err := os.Mkdir(in, 0o700); err != nil {
		t.Fatal(err)
	}
	slabFile := file(t, in, "slab.geojson", slab)
	for name, args := range map[string][]string{
		"check":   {"check", slabFile},
		"storm":   {"storm", slabFile, "--depth", "1in", "--duration", "1h"},
		"correct": {"correct", slabFile},
	} {
		for what, open := range map[string]func(t *testing.T) *os.File{"closed": goneReader, "full": fullDevice} {
			out := filepath.Join(dir, name)
			c := called(t, append(args, "-o", out)...)
			var errs bytes.Buffer
			c.Stdout, c.Stderr = open(t), &errs
			if got := code(t, c.Run()); got != 3 {
				t.Errorf("%s to a %s stdout: exit %d: %s", name, what, got, errs.String())
			}
			if left := contents(t, dir); len(left) != 1 {
				t.Errorf("%s to a %s stdout leaves %v", name, what, slices.Collect(maps.Keys(left)))
			}
			if _, err := os.Stat(out); err == nil {
				t.Errorf("%s to a %s stdout leaves its folder", name, what)
			}
		}
	}
}

// demo too: the roofs take their places once their names are printed.
func TestReaderOfDemoHasGone(t *testing.T) {
	for what, open := range map[string]func(t *testing.T) *os.File{"closed": goneReader, "full": fullDevice} {
		dir := t.TempDir()
		c := called(t, "demo", filepath.Join(dir, "roofs"))
		c.Stdout = open(t)
		if got := code(t, c.Run()); got != 3 {
			t.Errorf("to a %s stdout: exit %d", what, got)
		}
		if left, err := os.ReadDir(dir); err != nil || len(left) != 0 {
			t.Errorf("to a %s stdout: %v, %v", what, left, err)
		}
	}
}

func goneReader(t *testing.T) *os.File {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	_ = r.Close()
	t.Cleanup(func() { _ = w.Close() })
	return w
}

func fullDevice(t *testing.T) *os.File {
	t.Helper()
	f, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		return goneReader(t) // not on this system
	}
	t.Cleanup(func() { _ = f.Close() })
	return f
}

// A run that is ended from outside while its page waits for a reader leaves all as it was and says so.
func TestEndedFromOutside(t *testing.T) {
	dir := t.TempDir()
	in := file(t, dir, "in.geojson", slab)
	out := filepath.Join(dir, "out")
	if got := code(t, called(t, "correct", in, "-o", out).Run()); got != 0 {
		t.Fatalf("exit %d", got)
	}
	before := contents(t, dir)
	for _, s := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP} {
		r, w := full(t)
		c := called(t, "correct", in, "-o", out, "--overwrite", "--units-out", "us")
		var errs bytes.Buffer
		c.Stdout, c.Stderr = w, &errs
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		begun := func() bool {
			found, _ := filepath.Glob(filepath.Join(out, ".runnel-*"))
			return len(found) > 3
		}
		for !begun() { // without a limit of its own: the machine may be busy
			time.Sleep(10 * time.Millisecond)
		}
		if err := c.Process.Signal(s); err != nil {
			t.Fatal(err)
		}
		if got := code(t, c.Wait()); got != 130 || !strings.Contains(errs.String(), "nothing was written") {
			t.Errorf("%v: exit %d: %s", s, got, errs.String())
		}
		_, _ = r.Close(), w.Close()
		if after := contents(t, dir); !maps.Equal(before, after) {
			t.Errorf("%v: the folder has changed: %v", s, slices.Sorted(maps.Keys(after)))
		}
	}
}

// full returns a pipe that takes no more.
func full(t *testing.T) (r, w *os.File) {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := w.SetWriteDeadline(time.Now().Add(50 * time.Millisecond)); err != nil {
		t.Fatal(err)
	}
	_, _ = w.Write(make([]byte, 1<<20))
	return r, w
}

// What nohup starts goes on when the terminal closes.
func TestHangUpThatIsIgnored(t *testing.T) {
	dir := t.TempDir()
	in := file(t, dir, "in.geojson", slab)
	c := called(t, "check", in, "-o", filepath.Join(dir, "out"))
	c = exec.Command("nohup", c.Args...) //nolint:gosec // our own
	r, w := full(t)
	c.Stdout = w
	if err := c.Start(); err != nil {
		t.Skip(err)
	}
	untilIgnored(t, c.Process.Pid)
	for range 20 {
		time.Sleep(10 * time.Millisecond)
		if err := c.Process.Signal(syscall.SIGHUP); err != nil {
			t.Fatal(err)
		}
	}
	_ = w.Close()
	drained := make(chan struct{})
	go func() {
		defer close(drained)
		_, _ = new(bytes.Buffer).ReadFrom(r)
	}()
	if got := code(t, c.Wait()); got != 0 {
		t.Errorf("exit %d", got)
	}
	<-drained
}

// untilIgnored waits until a process ignores SIGHUP, as nohup lets it, by the mask that the kernel tells; a process that ends before fails the test.
func untilIgnored(t *testing.T, pid int) {
	t.Helper()
	if _, err := os.Stat("/proc/self/status"); err != nil {
		t.Skipf("the kernel does not tell which signals are ignored: %v", err)
	}
	for {
		status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
		if err != nil || strings.Contains(string(status), "State:\tZ") {
			t.Fatalf("the program ended before it ignored the signal: %v", err)
		}
		_, after, _ := strings.Cut(string(status), "SigIgn:\t")
		mask, err := strconv.ParseUint(after[:min(16, len(after))], 16, 64)
		if err != nil {
			t.Fatalf("the mask of ignored signals: %v", err)
		}
		if mask&(1<<(syscall.SIGHUP-1)) != 0 {
			return
		}
		time.Sleep(time.Millisecond)
	}
}

// Of two runs at once into one folder, the files that stand are all of one of them.
func TestTwoProcessesAtOnce(t *testing.T) {
	dir := t.TempDir()
	in := file(t, dir, "in.geojson", slab)
	kinds := []string{"--write", "geojson,json,schedule,setout", "--overwrite"}
	alone := map[string]map[string]string{}
	for _, units := range []string{"us", "si"} {
		out := filepath.Join(dir, units)
		if got := code(t, called(t, append([]string{"check", in, "-o", out, "--units-out", units}, kinds...)...).Run()); got != 0 {
			t.Fatalf("exit %d", got)
		}
		alone[units] = contents(t, out)
	}
	out := filepath.Join(dir, "both")
	for range 3 {
		var all []*exec.Cmd
		for _, units := range []string{"us", "si", "us", "si"} {
			c := called(t, append([]string{"check", in, "-o", out, "--units-out", units}, kinds...)...)
			if err := c.Start(); err != nil {
				t.Fatal(err)
			}
			all = append(all, c)
		}
		for _, c := range all {
			if got := code(t, c.Wait()); got != 0 {
				t.Errorf("exit %d", got)
			}
		}
		if got := contents(t, out); !maps.Equal(got, alone["us"]) && !maps.Equal(got, alone["si"]) {
			t.Errorf("the folder holds files of both, or others: %v", slices.Sorted(maps.Keys(got)))
		}
	}
}

// A run that is killed at some moment leaves all old or all new, once the next has looked at the folder.
func TestKilled(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	in := file(t, dir, "in.geojson", slab)
	out := filepath.Join(dir, "out")
	args := []string{"check", in, "-o", out, "--overwrite", "--write", "geojson,json,schedule,setout", "--units-out"}
	alone := map[string]map[string]string{}
	for _, units := range []string{"us", "si"} {
		start := time.Now()
		if got := code(t, called(t, append(args, units)...).Run()); got != 0 {
			t.Fatalf("exit %d", got)
		}
		alone[units] = contents(t, out)
		t.Logf("one run takes %v", time.Since(start))
	}
	for i := range 20 {
		c := called(t, append(args, "us")...)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(i) * 10 * time.Millisecond)
		_ = c.Process.Kill()
		_ = c.Wait()
		staged.Settle(out)
		if got := contents(t, out); !maps.Equal(got, alone["us"]) && !maps.Equal(got, alone["si"]) {
			t.Errorf("killed after %d ms the folder holds files of both, or others: %v", 10*i, slices.Sorted(maps.Keys(got)))
		}
	}
}
