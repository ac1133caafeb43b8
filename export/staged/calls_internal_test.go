package staged

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

var errPlayed = errors.New("played")

// What cannot be brought to the disk at all, as a device, does not count; any other error does. By the manual page of fsync(2), EINVAL is for what cannot be synced.
func TestWhatCannotBeSynced(t *testing.T) {
	device, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = device.Close() }()
	if err := sync1(device); err != nil {
		t.Errorf("a device: %v", err)
	}
	f, err := os.Create(filepath.Join(t.TempDir(), "file"))
	if err != nil {
		t.Fatal(err)
	}
	if err := sync1(f); err != nil {
		t.Errorf("a file: %v", err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if err := sync1(f); !errors.Is(err, os.ErrClosed) {
		t.Errorf("a file that is closed: %v", err)
	}
	for _, c := range []struct {
		err  error
		want bool
	}{
		{errors.ErrUnsupported, true},
		{&fs.PathError{Op: "sync", Path: "a", Err: syscall.EINVAL}, true},
		{&os.LinkError{Op: "link", Old: "a", New: "b", Err: syscall.EXDEV}, true},
		{syscall.EPERM, true},
		{syscall.EMLINK, true},
		{syscall.EIO, false},
		{syscall.ENOSPC, false},
		{os.ErrClosed, false},
		{nil, false},
	} {
		if got := unsupported(c.err); got != c.want {
			t.Errorf("%v cannot be done at all: %v", c.err, got)
		}
	}
}

// Each call that changes a folder or a file can be stopped, and then does nothing.
func TestCallsThatAreStopped(t *testing.T) {
	dir := t.TempDir()
	a, b := filepath.Join(dir, "a"), filepath.Join(dir, "b")
	put(t, a, "old")
	f, err := os.Open(a)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	for call, do := range map[string]func() error{
		"remove": func() error { return remove(a) }, "rename": func() error { return rename(a, b) }, "link": func() error { return link(a, b) },
		"sync": func() error { return sync1(f) }, "sync folder": func() error { return syncFolder(dir) }, "open": func() error { _, err := lockNew(b); return err },
	} {
		failing(t, call, 1, errPlayed)
		if err := do(); !errors.Is(err, errPlayed) {
			t.Errorf("%s goes on: %v", call, err)
		}
		holds(t, dir, "a=old")
		failing(t, "", 1, nil)
	}
	for name, err := range map[string]error{"a folder": syncFolder(dir), "a folder that there is not": syncFolder(filepath.Join(dir, "none"))} {
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A file is held by one at a time; whoever comes while it is held is told so, and gets it once it is let go.
func TestHold(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lock")
	first, err := Hold(path)
	if err != nil {
		t.Fatal(err)
	}
	if second, err := Hold(path); !errors.Is(err, ErrHeld) {
		t.Errorf("held twice: %v, %v", second, err)
	}
	if err := first.Close(); err != nil {
		t.Fatal(err)
	}
	again, err := Hold(path)
	if err != nil {
		t.Fatalf("let go and not to be had: %v", err)
	}
	defer func() { _ = again.Close() }()
	if _, err := Hold(filepath.Join(t.TempDir(), "none", "lock")); err == nil || errors.Is(err, ErrHeld) {
		t.Errorf("in a folder that there is not: %v", err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm()&0o077 != 0 {
		t.Errorf("others may read the lock: %v, %v", info.Mode(), err)
	}
}

// The file of a run that lives is not dead; that of one that has ended is, and one that there is not; a link is none.
func TestLockOfADeadRun(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "run")
	f, err := lockNew(path)
	if err != nil {
		t.Fatal(err)
	}
	if got, dead := lockDead(path); got != nil || dead {
		t.Errorf("a run that lives: dead %v", dead)
	}
	if other, err := lockNew(path); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a second run has it as well: %v, %v", other, err)
	}
	if !same(f, path) {
		t.Error("a file is not at its own path")
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	got, dead := lockDead(path)
	if got == nil || !dead {
		t.Fatalf("a run that has ended: dead %v", dead)
	}
	moved := filepath.Join(dir, "moved")
	if err := os.Rename(path, moved); err != nil {
		t.Fatal(err)
	}
	if put(t, path, "another"); same(got, path) || !same(got, moved) {
		t.Error("another file at the same path is taken for it")
	}
	_ = got.Close()
	if same(got, moved) {
		t.Error("a file that is closed is known")
	}
	if got, dead := lockDead(filepath.Join(dir, "none")); got != nil || !dead {
		t.Errorf("no file: dead %v", dead)
	}
	if err := os.Symlink(moved, filepath.Join(dir, "link")); err != nil {
		t.Skip(err)
	}
	if got, dead := lockDead(filepath.Join(dir, "link")); got != nil || dead {
		t.Errorf("a link: dead %v", dead)
	}
}

// Errors name what the user knows: the output and the input, not the files between, and what to do.
func TestErrorsInWords(t *testing.T) {
	dir := t.TempDir()
	in := filepath.Join(dir, "roof.json")
	put(t, in, "input")
	err := Free(Target{Dir: dir, Overwrite: true, Inputs: []string{in, filepath.Join(dir, "none")}}, []string{"a", "roof.json"})
	if want := in + " would take the place of " + in + ", which this run reads: write into another folder"; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
	var input *InputError
	if !errors.As(err, &input) || input.Output != in {
		t.Errorf("%+v", input)
	}
	if err := Free(Target{Dir: dir, Inputs: []string{in}}, []string{"a", "b"}); err != nil {
		t.Errorf("nothing stands there: %v", err)
	}
	put(t, filepath.Join(dir, "b"), "old")
	if err := Free(Target{Dir: dir}, []string{"a", "b"}); !errors.Is(err, ErrExists) || !strings.Contains(err.Error(), filepath.Join(dir, "b")) {
		t.Errorf("%v", err)
	}
	if err := Free(Target{Dir: dir, Overwrite: true}, []string{"a", "b"}); err != nil {
		t.Errorf("what may be replaced: %v", err)
	}
	if err := os.Mkdir(filepath.Join(dir, "c"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := Free(Target{Dir: dir, Overwrite: true}, []string{"c"}); !errors.Is(err, ErrExists) || !strings.Contains(err.Error(), "is not a file") {
		t.Errorf("a folder: %v", err)
	}
	if err := Free(Target{Dir: filepath.Join(dir, "b")}, []string{"a"}); err != nil {
		t.Errorf("below a file nothing stands: %v", err)
	}
	for _, c := range []struct{ err, want error }{
		{&fs.PathError{Op: "open", Path: ".runnel-x", Err: syscall.EACCES}, syscall.EACCES}, {&os.LinkError{Op: "link", Old: ".runnel-x", New: "b", Err: syscall.EIO}, syscall.EIO}, {errPlayed, errPlayed},
	} {
		if got := cause(c.err); !errors.Is(got, c.want) || strings.Contains(got.Error(), ".runnel") {
			t.Errorf("%v becomes %v", c.err, got)
		}
	}
}

// An input stays whatever its name is written like: in capitals, over a link, as another name of the same file.
func TestNamesOfOneInput(t *testing.T) {
	dir := t.TempDir()
	in := filepath.Join(dir, "Roof.csv")
	put(t, in, "input")
	link := filepath.Join(t.TempDir(), "there")
	if err := os.Symlink(dir, link); err != nil {
		t.Skip(err)
	}
	if err := os.Link(in, filepath.Join(dir, "twin.csv")); err != nil {
		t.Skip(err)
	}
	for _, c := range []struct {
		dir, name, input string
		taken            bool
	}{
		{dir, "Roof.csv", in, true},
		{dir, "roof.CSV", in, true},
		{link, "ROOF.csv", in, true},
		{dir, "Roof.csv", filepath.Join(link, "Roof.csv"), true},
		{dir, "twin.csv", in, true},
		{dir, "roof2.csv", in, false},
		{t.TempDir(), "Roof.csv", in, false},
	} {
		var input *InputError
		if err := Free(Target{Dir: c.dir, Overwrite: true, Inputs: []string{c.input}}, []string{c.name}); errors.As(err, &input) != c.taken {
			t.Errorf("%s in %s beside %s: %v", c.name, c.dir, c.input, err)
		}
	}
	if fold("ÄB") != fold("äb") || fold("a") == fold("b") {
		t.Error("capitals alone tell names apart")
	}
}

// A file is the one that a run wrote where it is a file of that size and that time to the nanosecond: one of these alone is another's.
func TestTheFileOfARun(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a")
	put(t, path, "four")
	info, err := os.Lstat(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		e    entry
		want bool
	}{
		{entry{size: 4, modified: info.ModTime()}, true},
		{entry{size: 5, modified: info.ModTime()}, false},
		{entry{size: 4, modified: info.ModTime().Add(1)}, false},
		{entry{size: 5, modified: info.ModTime().Add(1)}, false},
	} {
		if got := c.e.is(info); got != c.want {
			t.Errorf("size %d, %v later: %v", c.e.size, c.e.modified.Sub(info.ModTime()), got)
		}
	}
	folder, err := os.Lstat(dir)
	if err != nil {
		t.Fatal(err)
	}
	if e := (&entry{size: folder.Size(), modified: folder.ModTime()}); e.is(folder) {
		t.Error("a folder is the file of a run")
	}
}
