//go:build unix

package command_test

import (
	"bufio"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"runnel/export/record"
)

// limited is a call of the program that may write no file longer than so many blocks of 512 bytes (of 1024 in some shells), as on a disk that is full.
func limited(t *testing.T, blocks int, args ...string) *exec.Cmd {
	t.Helper()
	c := called(t, args...)
	return exec.Command("/bin/sh", append([]string{"-c", fmt.Sprintf(`ulimit -f %d; exec "$0" "$@"`, blocks)}, c.Args...)...) //nolint:gosec // our own
}

// A run whose files do not fit, be it those of a roof or those of the whole, ends with what is wrong and leaves nothing in its place; once
// there is room it goes on, and ends as one that nothing disturbed.
func TestCampusOnAFullDisk(t *testing.T) {
	dir := t.TempDir()
	in, whole, out := filepath.Join(dir, "in"), filepath.Join(dir, "whole"), filepath.Join(dir, "out")
	makeCampus(t, in, 12)
	if got := code(t, called(t, "campus", in, "--write", "json", "-o", whole).Run()); got != 4 { // one is broken
		t.Fatalf("exit %d", got)
	}
	want := contents(t, whole)
	for _, c := range []struct {
		what   string
		blocks int
	}{{"a roof's file", 8}, {"a file of the whole", len(want["/campus.gpkg"])/1024 - 1}} {
		what := c.what
		text, err := limited(t, c.blocks, "campus", in, "--write", "json", "-o", out).CombinedOutput()
		if got := code(t, err); got != 3 || !strings.Contains(string(text), "file too large") && !strings.Contains(string(text), "write campus.gpkg: ") {
			t.Errorf("%s: exit %d: %s", what, got, text)
		}
		if _, err := os.Stat(out); err != nil {
			continue // nothing was done, and nothing stays
		}
		for name := range contents(t, out) {
			if !strings.HasPrefix(name, "/.runnel-campus/") {
				t.Errorf("%s: %s is in its place", what, name)
			}
		}
	}
	if text, err := called(t, "campus", in, "--write", "json", "-o", out).CombinedOutput(); code(t, err) != 4 || !strings.Contains(string(text), "An earlier run had done") {
		t.Errorf("it does not go on: %s", text)
	}
	if got := contents(t, out); !maps.Equal(got, want) {
		t.Errorf("the results differ: %v", differing(got, want))
	}
}

// A folder that may not be written into is refused before anything is checked.
func TestCampusIntoAFolderThatMayOnlyBeRead(t *testing.T) {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in"), filepath.Join(dir, "out")
	makeCampus(t, in, 3)
	if err := os.Mkdir(out, 0o500); err != nil {
		t.Fatal(err)
	}
	c := called(t, "campus", in, "-o", out)
	if os.Getuid() == 0 { // who may do everything: as somebody who may not
		program, err := os.ReadFile(c.Path)
		if err != nil {
			t.Fatal(err)
		}
		c.Path = filepath.Join(dir, "runnel")
		if err := os.WriteFile(c.Path, program, 0o755); err != nil { //nolint:gosec // others run it
			t.Fatal(err)
		}
		for _, path := range []string{filepath.Dir(dir), dir, in, out} {
			if err := os.Chmod(path, 0o755); err != nil { //nolint:gosec // others read it
				t.Fatal(err)
			}
		}
		c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	}
	text, err := c.CombinedOutput()
	if got := code(t, err); got != 3 || !strings.Contains(string(text), "permission denied") || strings.Contains(string(text), "Roofs checked") {
		t.Errorf("exit %d: %s", got, text)
	}
	if left := contents(t, out); len(left) > 0 {
		t.Errorf("%d files are left", len(left))
	}
}

// A folder of very many files is listed by each part without being held: of 200,000 with RUNNEL_LONG=1.
func TestManyFilesInAFolder(t *testing.T) {
	dir := t.TempDir()
	in, files, parts := filepath.Join(dir, "in"), inLong(5000, 200000), 100
	if err := os.Mkdir(in, 0o700); err != nil {
		t.Fatal(err)
	}
	for i := range files {
		if err := os.WriteFile(filepath.Join(in, fmt.Sprintf("a-roof-with-a-name-of-some-length-%06d.geojson", i)), []byte(pit), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	out := filepath.Join(dir, "out")
	c := called(t, "campus", in, "-o", out, "--write", "none", "--shard", fmt.Sprintf("3/%d", parts))
	text, most, err := outputOf(c)
	if code(t, err) != 0 || !strings.Contains(text, fmt.Sprintf("Part 3 of %d: roofs checked: %d. Could not be checked: 0.", parts, files/parts)) {
		t.Fatalf("%s", text)
	}
	used := c.ProcessState.UserTime() + c.ProcessState.SystemTime()
	t.Logf("%d files: %.1f s of CPU, %d MB", files, used.Seconds(), most)
	if most > 150 {
		t.Errorf("it took %d MB", most)
	}
}

// Once there are more roofs than the pages for people show, memory grows by the record of what is done and of names alone, some 200 bytes a
// roof: 100,000 take at most 22 MB more than 10,000 (RUNNEL_LONG=1; else 2,000 stay below 150 MB).
func TestMemoryOfManyRoofs(t *testing.T) {
	dir := t.TempDir()
	line := strings.ReplaceAll(pit, "\n", "") + "\n"
	peak := func(roofs int) int64 {
		path := filepath.Join(dir, fmt.Sprintf("%d.ndjson", roofs))
		f, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		w := bufio.NewWriter(f)
		for range roofs {
			_, _ = w.WriteString(line)
		}
		if err := w.Flush(); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		c := called(t, "campus", path, "-o", filepath.Join(dir, fmt.Sprint(roofs)), "--write", "none")
		text, most, err := outputOf(c)
		if code(t, err) != 0 || !strings.Contains(text, fmt.Sprintf("Roofs checked: %s.", record.Count(float64(roofs)))) {
			t.Fatalf("%s", text)
		}
		t.Logf("%d roofs: %.2f ms of CPU a roof, %d MB", roofs, float64((c.ProcessState.UserTime()+c.ProcessState.SystemTime()).Microseconds())/1000/float64(roofs), most)
		return most
	}
	if os.Getenv("RUNNEL_LONG") == "" {
		if most := peak(2000); most > 150 {
			t.Errorf("%d MB", most)
		}
		return
	}
	if few, many := peak(10000), peak(100000); many > few+22 {
		t.Errorf("100,000 roofs take %d MB, 10,000 take %d", many, few)
	}
}
