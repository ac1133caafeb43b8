package call

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A file beside a survey is read up to its greatest size and not a byte more; what is no file is refused without waiting for it. Each error names the path once and says
// what to do where that is not plain.
func TestFilesBesideASurvey(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	sized := func(name string, size int64) string {
		if err := os.WriteFile(at(name), []byte("{"), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Truncate(at(name), size); err != nil {
			t.Fatal(err)
		}
		return at(name)
	}
	if err := syscall.Mkfifo(at("pipe"), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		path string
		size int
		says string // after the path; empty: read
	}{
		"empty":           {sized("nothing.json", 0), 0, ""},
		"small":           {sized("für dich.json", 10), 10, ""},
		"1 MB":            {sized("whole.json", 1<<20), 1 << 20, ""},
		"1 MB and 1":      {sized("more.json", 1<<20+1), 0, ": the file is over 1 MB, more than any of its kind needs; look whether it is the right one"},
		"a folder":        {dir, 0, ": this is a folder, not a file; name the file in it"},
		"a pipe":          {at("pipe"), 0, ": this is a pipe or a device, not a file; write what it gives into a file"},
		"a device":        {os.DevNull, 0, ": this is a pipe or a device, not a file; write what it gives into a file"},
		"no such file":    {at("lost.json"), 0, ": no such file or directory"},
		"within a file":   {filepath.Join(at("whole.json"), "x"), 0, ": not a directory"},
		"an empty name":   {"", 0, ": no such file or directory"},
		"a very long one": {at(strings.Repeat("x", 300)), 0, ": file name too long"},
	} {
		data, err := ReadSide(c.path)
		if c.says == "" {
			if err != nil || len(data) != c.size {
				t.Errorf("%s: %d bytes, %v; want %d", name, len(data), err, c.size)
			}
			continue
		}
		if err == nil || err.Error() != c.path+c.says || data != nil || ExitCode(err) != ExitRefused {
			t.Errorf("%s: %v, want %q", name, err, c.path+c.says)
		}
	}
	f, err := OpenSide(sized("rain.csv", 2<<20), MostRain)
	if err != nil {
		t.Fatal(err)
	}
	if n, err := io.Copy(io.Discard, f); n != 2<<20 || err != nil {
		t.Errorf("%d bytes, %v", n, err)
	}
	_ = f.Close()
	if _, err := OpenSide(sized("flood.csv", MostRain+1), MostRain); err == nil || !strings.Contains(err.Error(), "the file is over 16 MB") {
		t.Errorf("%v", err)
	}
}

// A file that the user may not read says so, with its path once.
func TestFilesThatMayNotBeRead(t *testing.T) {
	err := SideError("a/b.json", &fs.PathError{Op: "open", Path: "a/b.json", Err: fs.ErrPermission})
	if err.Error() != "a/b.json: permission denied" || !errors.Is(err, fs.ErrPermission) {
		t.Errorf("%v", err)
	}
	if err := SideError("a", io.ErrUnexpectedEOF); err.Error() != "a: unexpected EOF" || !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("%v", err)
	}
}
