package staged

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

func text(name, content string) Output {
	return Output{Name: name, Write: func(w io.Writer) error {
		_, err := io.WriteString(w, content)
		return err
	}}
}

// fullDisk writes a little and then finds no more room, as a full disk does.
func fullDisk(name string) Output {
	return Output{Name: name, Write: func(w io.Writer) error {
		if _, err := io.WriteString(w, "begun"); err != nil {
			return err
		}
		return syscall.ENOSPC
	}}
}

// put writes a file.
func put(t *testing.T, path, content string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
}

// holds compares a folder with names and contents, temporary ones as well.
func holds(t *testing.T, dir string, want ...string) {
	t.Helper()
	var got []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		got = append(got, name+"="+string(data))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(want)
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("the folder holds %q, want %q", got, want)
	}
}

func TestAllOrNothing(t *testing.T) {
	dir := t.TempDir()
	_, err := Stage(Target{Dir: filepath.Join(dir, "new", "deep")}, []Output{text("a", "1"), fullDisk("b")})
	if !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("got %v", err)
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 0 {
		t.Errorf("left behind: %v, %v", entries, err)
	}
}

func TestFullDevice(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("no /dev/full on this system")
	}
	defer func() { _ = full.Close() }()
	dir := t.TempDir()
	put(t, filepath.Join(dir, "a"), "old")
	_, err = Stage(Target{Dir: dir, Overwrite: true}, []Output{{"a", func(io.Writer) error {
		_, err := full.WriteString("x")
		return err
	}}})
	if !errors.Is(err, syscall.ENOSPC) {
		t.Errorf("got %v", err)
	}
	holds(t, dir, "a=old")
}

// failing has a call fail from the nth on.
func failing(t *testing.T, call string, n int, err error) {
	t.Helper()
	before = func(c string) error {
		if c == call {
			n--
		}
		if c == call && n <= 0 {
			return err
		}
		return nil
	}
	t.Cleanup(func() { before = func(string) error { return nil } })
}

// A file system that fills up while files are written: 64 kB in memory, or played where none can be mounted.
func TestFullFileSystem(t *testing.T) {
	dir := t.TempDir()
	if err := mountSmall(dir); err == nil {
		defer func() { _ = unmount(dir) }()
	} else {
		failing(t, "write", 2, syscall.ENOSPC)
	}
	put(t, filepath.Join(dir, "a"), "old")
	big := strings.Repeat("x", 40<<10)
	_, err := Stage(Target{Dir: dir, Overwrite: true}, []Output{text("a", big), text("b", big)})
	if !errors.Is(err, syscall.ENOSPC) {
		t.Errorf("got %v", err)
	}
	holds(t, dir, "a=old")
}

// A file system that may only be read, or a folder, or one that is played where root may do everything.
func TestReadOnlyFolder(t *testing.T) {
	dir := t.TempDir()
	if os.Getuid() != 0 {
		put(t, filepath.Join(dir, "a"), "old")
		if err := os.Chmod(dir, 0o500); err != nil { //nolint:gosec // a folder needs x
			t.Fatal(err)
		}
		defer func() { _ = os.Chmod(dir, 0o700) }() //nolint:gosec // a folder needs x
		refusesToWrite(t, dir, syscall.EACCES)
		return
	}
	if err := mountSmall(dir); err == nil {
		defer func() { _ = unmount(dir) }()
		put(t, filepath.Join(dir, "a"), "old")
		if err := remountReadOnly(dir); err != nil {
			t.Fatal(err)
		}
	} else {
		put(t, filepath.Join(dir, "a"), "old")
		failing(t, "open", 1, syscall.EROFS)
	}
	refusesToWrite(t, dir, syscall.EROFS)
}

func refusesToWrite(t *testing.T, dir string, want error) {
	t.Helper()
	_, err := Stage(Target{Dir: dir, Overwrite: true}, []Output{text("a", "new")})
	if !errors.Is(err, want) || !strings.Contains(err.Error(), dir) || strings.Contains(err.Error(), prefix) {
		t.Errorf("got %v", err)
	}
	holds(t, dir, "a=old")
}

func TestCommitAndDiscard(t *testing.T) {
	dir := t.TempDir()
	s, err := Stage(Target{Dir: dir}, []Output{text("a", "1")})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "a")); err == nil {
		t.Error("the file has its name before Commit")
	}
	if paths, err := s.Commit(); err != nil || !slices.Equal(paths, []string{filepath.Join(dir, "a")}) {
		t.Fatal(paths, err)
	}
	s.Discard()
	holds(t, dir, "a=1")
	s, err = Stage(Target{Dir: dir}, []Output{text("b", "2")})
	if err != nil {
		t.Fatal(err)
	}
	s.Discard()
	holds(t, dir, "a=1")
	if paths, err := new(Set).Commit(); err != nil || paths != nil {
		t.Errorf("an empty set: %v, %v", paths, err)
	}
}

// A writer that panics leaves nothing, and the panic goes on.
func TestPanic(t *testing.T) {
	dir := t.TempDir()
	s, err := Begin(Target{Dir: dir})
	if err != nil {
		t.Fatal(err)
	}
	func() {
		defer func() {
			if recover() == nil {
				t.Error("the panic is lost")
			}
		}()
		defer s.Discard()
		_ = s.Add([]Output{text("a", "1"), {"b", func(io.Writer) error { panic("broken") }}})
	}()
	holds(t, dir)
}

// Outputs that cannot be written are taken out of a set again; the others stand.
func TestAddedByManyAtOnce(t *testing.T) {
	dir := t.TempDir()
	s, err := Begin(Target{Dir: dir})
	if err != nil {
		t.Fatal(err)
	}
	var wait sync.WaitGroup
	for _, n := range []string{"a", "b", "c", "d", "e"} {
		wait.Go(func() {
			if err := s.Add([]Output{text(n+"1", n), text(n+"2", n)}); err != nil {
				t.Error(err)
			}
			if err := s.Add([]Output{text(n+"3", n), fullDisk(n + "4")}); !errors.Is(err, syscall.ENOSPC) {
				t.Error(err)
			}
		})
	}
	wait.Wait()
	if _, err := s.Commit(); err != nil {
		t.Fatal(err)
	}
	holds(t, dir, "a1=a", "a2=a", "b1=b", "b2=b", "c1=c", "c2=c", "d1=d", "d2=d", "e1=e", "e2=e")
}

func TestOverwriteOnlyWhenAsked(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "a"), "old")
	if _, err := Stage(Target{Dir: dir}, []Output{text("a", "new")}); !errors.Is(err, ErrExists) {
		t.Errorf("got %v, want ErrExists", err)
	}
	holds(t, dir, "a=old")
	s, err := Stage(Target{Dir: dir, Overwrite: true}, []Output{text("a", "new"), text("b", "new")})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Commit(); err != nil {
		t.Fatal(err)
	}
	holds(t, dir, "a=new", "b=new")
	if err := os.Mkdir(filepath.Join(dir, "folder"), 0o700); err != nil {
		t.Fatal(err)
	}
	if _, err := Stage(Target{Dir: dir, Overwrite: true}, []Output{text("folder", "1")}); !errors.Is(err, ErrExists) {
		t.Errorf("a folder in the way: %v", err)
	}
}

// A file that comes while the others are written is not replaced.
func TestNameTakenMeanwhile(t *testing.T) {
	dir := t.TempDir()
	s, err := Stage(Target{Dir: dir}, []Output{text("a", "1"), text("b", "1")})
	if err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "b"), "another's")
	if _, err := s.Commit(); !errors.Is(err, ErrExists) || !strings.Contains(err.Error(), "nothing was replaced") {
		t.Errorf("got %v", err)
	}
	holds(t, dir, "b=another's")
}

// A rename that fails puts everything back at once.
func TestRenameFails(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "a"), "old")
	s, err := Stage(Target{Dir: dir, Overwrite: true}, []Output{text("a", "new"), text("b", "new"), text("c", "new")})
	if err != nil {
		t.Fatal(err)
	}
	renames := 0
	before = func(call string) error {
		if call == "rename" {
			if renames++; renames == 3 {
				return syscall.EIO
			}
		}
		return nil
	}
	defer func() { before = func(string) error { return nil } }()
	if _, err := s.Commit(); !errors.Is(err, syscall.EIO) || !strings.Contains(err.Error(), "nothing was replaced") {
		t.Errorf("got %v", err)
	}
	holds(t, dir, "a=old")
}

// Where every rename fails from then on, the next run puts it back.
func TestRenameFailsForGood(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "a"), "old")
	s, err := Stage(Target{Dir: dir, Overwrite: true}, []Output{text("a", "new"), text("b", "new"), text("c", "new")})
	if err != nil {
		t.Fatal(err)
	}
	failing(t, "rename", 3, syscall.EIO)
	if _, err := s.Commit(); !errors.Is(err, syscall.EIO) || !strings.Contains(err.Error(), "put back") {
		t.Errorf("got %v", err)
	}
	before = func(string) error { return nil }
	if notes := Settle(dir); len(notes) != 1 || !strings.Contains(notes[0], "all is again as it was before that run") {
		t.Errorf("the next run says %q", notes)
	}
	holds(t, dir, "a=old")
}

func TestInputsStay(t *testing.T) {
	base := t.TempDir()
	dir := filepath.Join(base, "out")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "roof.geojson"), "survey")
	put(t, filepath.Join(dir, "Upper.geojson"), "survey")
	put(t, filepath.Join(base, "linked.geojson"), "survey")
	put(t, filepath.Join(base, "hard.geojson"), "survey")
	for _, err := range []error{
		os.Symlink(filepath.Join(dir, "roof.geojson"), filepath.Join(base, "way.geojson")),
		os.Symlink(filepath.Join(base, "linked.geojson"), filepath.Join(dir, "link.geojson")),
		os.Link(filepath.Join(base, "hard.geojson"), filepath.Join(dir, "two.geojson")),
		os.Symlink(dir, filepath.Join(base, "door")),
	} {
		if err != nil {
			t.Skip(err)
		}
	}
	t.Chdir(dir)
	for name, c := range map[string]struct{ dir, output, input string }{
		"path":             {dir, "roof.geojson", filepath.Join(dir, "roof.geojson")},
		"path from there":  {".", "roof.geojson", "./roof.geojson"},
		"case":             {".", "upper.geojson", "Upper.geojson"},
		"input is a link":  {dir, "roof.geojson", filepath.Join(base, "way.geojson")},
		"output is a link": {dir, "link.geojson", filepath.Join(base, "linked.geojson")},
		"two names":        {dir, "two.geojson", filepath.Join(base, "hard.geojson")},
		"folder is a link": {filepath.Join(base, "door"), "roof.geojson", "roof.geojson"},
	} {
		for _, overwrite := range []bool{false, true} {
			target := Target{Dir: c.dir, Overwrite: overwrite, Inputs: []string{"none", c.input}}
			_, err := Stage(target, []Output{text("new", "1"), text(c.output, "1")})
			var in *InputError
			if !errors.As(err, &in) || in.Input != c.input || errors.Is(err, ErrExists) {
				t.Errorf("%s, overwrite %v: %v", name, overwrite, err)
			}
			if err := Free(target, []string{"roof.geojson~", c.output}); !errors.As(err, &in) {
				t.Errorf("%s, overwrite %v: Free: %v", name, overwrite, err)
			}
		}
	}
	holds(t, dir, "roof.geojson=survey", "Upper.geojson=survey", "link.geojson=survey", "two.geojson=survey")
}

// Of two runs at once into one folder each replaces all files or none.
func TestTwoRunsAtOnce(t *testing.T) {
	dir := t.TempDir()
	var wait sync.WaitGroup
	for _, who := range []string{"1", "2", "3", "4"} {
		wait.Go(func() {
			for range 20 {
				s, err := Stage(Target{Dir: dir, Overwrite: true}, []Output{text("a", who), text("b", who), text("c", who)})
				if err == nil {
					_, err = s.Commit()
				}
				if err != nil {
					t.Error(err)
				}
			}
		})
	}
	wait.Wait()
	a, err := os.ReadFile(filepath.Join(dir, "a"))
	if err != nil {
		t.Fatal(err)
	}
	holds(t, dir, "a="+string(a), "b="+string(a), "c="+string(a))
}

// Of two runs that may not overwrite one wins.
func TestTwoRunsAtOnceIntoAnEmptyFolder(t *testing.T) {
	dir := t.TempDir()
	errs := make([]error, 4)
	var wait sync.WaitGroup
	for i := range errs {
		wait.Go(func() {
			s, err := Stage(Target{Dir: dir}, []Output{text("a", "x"), text("b", "x")})
			if err == nil {
				_, err = s.Commit()
			}
			errs[i] = err
		})
	}
	wait.Wait()
	won := 0
	for _, err := range errs {
		switch {
		case err == nil:
			won++
		case !errors.Is(err, ErrExists):
			t.Error(err)
		}
	}
	if won != 1 {
		t.Errorf("%d runs wrote", won)
	}
	holds(t, dir, "a=x", "b=x")
}

func TestSettle(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "mine"), "1")
	put(t, filepath.Join(dir, ".runnel-notes"), "mine")
	put(t, filepath.Join(dir, ".runnel-1-22334"), "of an earlier version")
	put(t, filepath.Join(dir, ".runnel-1-9.0"), "no run file")
	put(t, filepath.Join(dir, ".runnel-1-9.0.old"), "no run file")
	alive, err := Stage(Target{Dir: dir}, []Output{text("a", "1")})
	if err != nil {
		t.Fatal(err)
	}
	if notes := Settle(dir); notes != nil {
		t.Errorf("nothing was put back, yet it says %q", notes)
	}
	if _, err := alive.Commit(); err != nil {
		t.Fatal(err)
	}
	holds(t, dir, "mine=1", ".runnel-notes=mine", "a=1")
}

// A journal is a file that anybody may have put there: it reaches nothing outside of the folder, and what has changed
// since stays.
func TestJournalsOfOthers(t *testing.T) {
	base := t.TempDir()
	dir := filepath.Join(base, "out")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(base, "outside"), "kept")
	put(t, filepath.Join(dir, "survey.csv"), "newer than the journal")
	for i, e := range []entry{
		{name: "../outside", temporary: "x", old: true},
		{name: "../outside", temporary: "x", size: 4},
		{name: "survey.csv", temporary: ".runnel-3-1.0", old: true, size: 1, modified: time.Now()},
	} {
		j := &journal{id: ".runnel-3-" + string(rune('1'+i)), entries: []entry{e}}
		put(t, filepath.Join(dir, j.id), j.text())
		put(t, filepath.Join(dir, j.kept(0)), "planted")
	}
	Settle(dir)
	holds(t, base, "outside=kept", "out/survey.csv=newer than the journal")
	whole := &journal{id: ".runnel-4-1", entries: []entry{{name: "a b\n", temporary: "c", old: true, size: 3, modified: time.Unix(1, 2)}}}
	got, ok := parseJournal(whole.id, whole.text())
	if !ok || len(got.entries) != 1 || got.entries[0] != whole.entries[0] {
		t.Errorf("read again: %+v, %v", got, ok)
	}
	for cut := range whole.text() {
		if _, ok := parseJournal(whole.id, whole.text()[:cut]); ok {
			t.Errorf("cut after %d bytes it counts", cut)
		}
	}
}

// An interrupted batch sweeps while its other workers go on; none may begin a file after that.
func TestNoFileBeginsAfterHalt(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "mine"), "1")
	s, err := Stage(Target{Dir: filepath.Join(dir, "new")}, []Output{text("a", "1")})
	if err != nil {
		t.Fatal(err)
	}
	Halt()
	done := make(chan error)
	go func() {
		_, err := Stage(Target{Dir: dir}, []Output{text("b", "1")})
		done <- err
	}()
	placed := make(chan error)
	go func() {
		_, err := s.Commit()
		placed <- err
	}()
	for range 100 {
		runtime.Gosched()
	}
	select {
	case err := <-done:
		t.Errorf("a file was begun: %v", err)
	case err := <-placed:
		t.Errorf("a file was placed: %v", err)
	case <-time.After(50 * time.Millisecond):
	}
	Sweep()
	holds(t, dir, "mine=1")
	gate.Unlock()
	if err := <-done; err != nil {
		t.Errorf("after the gate opened again: %v", err)
	}
	if err := <-placed; err != nil {
		t.Logf("the other set: %v", err)
	}
}

// An error of the system names the file that the user asked for, not the temporary one.
func TestFullDiskNamesTheOutput(t *testing.T) {
	before = func(call string) error {
		if call == "write" {
			return &fs.PathError{Op: "write", Path: ".runnel-1-1.0", Err: syscall.ENOSPC}
		}
		return nil
	}
	defer func() { before = func(string) error { return nil } }()
	dir := t.TempDir()
	_, err := Stage(Target{Dir: dir}, []Output{{"a.json", func(w io.Writer) error { _, err := io.WriteString(w, "{}"); return err }}})
	if !errors.Is(err, syscall.ENOSPC) || strings.Contains(err.Error(), ".runnel-") || !strings.Contains(err.Error(), filepath.Join(dir, "a.json")) {
		t.Errorf("got %v", err)
	}
}
