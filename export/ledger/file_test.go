package ledger_test

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"runnel/export/ledger"
	"runnel/export/staged"
)

// work is the folder in which the run of no name works below dir.
func work(dir string) string { return filepath.Join(dir, ledger.Prefix) }

// A folder whose output is to be written holds something where there is any name but those of the work of runs; one that is not there holds nothing.
func TestWhatAFolderHolds(t *testing.T) {
	for _, c := range []struct {
		names []string
		want  bool
	}{
		{nil, false},
		{[]string{ledger.Prefix, ledger.Prefix + "-1-of-2"}, false},
		{[]string{ledger.Prefix, "campus.html"}, true},
		{[]string{"a"}, true},
		{[]string{ledger.Prefix[:len(ledger.Prefix)-1]}, true},
		{[]string{"x" + ledger.Prefix}, true},
	} {
		dir := t.TempDir()
		for _, name := range c.names {
			if err := os.Mkdir(filepath.Join(dir, name), 0o700); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := ledger.Left(dir); got != c.want || err != nil {
			t.Errorf("with %q: %v, %v; want %v", c.names, got, err, c.want)
		}
	}
	if got, err := ledger.Left(filepath.Join(t.TempDir(), "none")); got || err != nil {
		t.Errorf("a folder that is not there: %v, %v", got, err)
	}
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := ledger.Left(file); err == nil {
		t.Error("a file was listed as a folder")
	}
}

// Files of roofs and of the whole are handed out by their names and where they stand until they move; then they stand in the folder of the output,
// for others to read, and nothing is left of the work.
func TestPathsUntilFilesMove(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "deep", "out")
	l := open(t, dir, "call")
	add(t, l, 1, 0, text("a.json", "aa"), text("a.geojson", "b"))
	add(t, l, 2, 0)
	if err := l.AddLast(text("campus.csv", "rows")); err != nil {
		t.Fatal(err)
	}
	content := map[string]string{}
	for name, path := range l.Paths() {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		content[name] = string(data)
	}
	want := map[string]string{"a.json": "aa", "a.geojson": "b", "campus.csv": "rows"}
	if !maps.Equal(content, want) {
		t.Errorf("%v, want %v", content, want)
	}
	count := 0
	for range l.Paths() {
		if count++; count == 2 {
			break
		}
	}
	if count != 2 {
		t.Errorf("%d files before the end was asked for", count)
	}
	if data, err := os.ReadFile(l.PathOfLast("campus.csv")); err != nil || string(data) != "rows" {
		t.Errorf("%q, %v", data, err)
	}
	if l.Folder() != work(dir) {
		t.Errorf("the run works in %s", l.Folder())
	}
	if err := l.Place(); err != nil {
		t.Fatal(err)
	}
	if got := files(t, dir); !maps.Equal(got, want) {
		t.Errorf("placed %v, want %v", got, want)
	}
	for name := range want {
		if info, err := os.Stat(filepath.Join(dir, name)); err != nil || info.Mode().Perm()&0o644 != 0o644 || info.Mode().Perm()&0o111 != 0 {
			t.Errorf("%s: %v, %v: not for others to read", name, info.Mode(), err)
		}
	}
	if _, err := os.Stat(work(dir)); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the work is left: %v", err)
	}
}

// What is sorted lies in a file of the run, which goes with it.
func TestScratchGoesWithTheRun(t *testing.T) {
	dir := t.TempDir()
	l := open(t, dir, "call")
	names := map[string]bool{}
	for range 2 {
		f, err := l.Scratch()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(f, "rows"); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		names[f.Name()] = filepath.Dir(f.Name()) == work(dir)
	}
	if len(names) != 2 || slices.Contains(slices.Collect(maps.Values(names)), false) {
		t.Errorf("scratch files %v", names)
	}
	l.Discard()
	if left, err := os.ReadDir(dir); err != nil || len(left) != 0 {
		t.Errorf("left %v, %v", left, err)
	}
}

// A folder that goes away under a run is no roof's fault: each error says so and names the file once.
func TestFolderGone(t *testing.T) {
	dir := t.TempDir()
	l := open(t, dir, "call")
	add(t, l, 1, 0, text("a.json", "x"))
	if err := os.RemoveAll(work(dir)); err != nil {
		t.Fatal(err)
	}
	_, scratch := l.Scratch()
	for what, err := range map[string]error{
		"b.json": l.Add(2, 0, row{}, []staged.Output{text("b.json", "x")}), "last.csv": l.AddLast(text("last.csv", "x")), work(dir): scratch, "files": l.Place(),
	} {
		var broken *ledger.StoreError
		if !errors.As(err, &broken) || !errors.Is(err, os.ErrNotExist) || strings.Count(err.Error(), what) != 1 {
			t.Errorf("%s: %v", what, err)
		}
	}
	if l.Roofs() != 1 {
		t.Errorf("%d roofs are done", l.Roofs())
	}
	for name := range l.Paths() {
		t.Errorf("%s is handed out of no folder", name)
	}
}

// A roof whose results cannot be written is not done and leaves nothing; its error is its own, and the run goes on.
func TestARoofsOwnError(t *testing.T) {
	dir := t.TempDir()
	l := open(t, dir, "call")
	own := errors.New("no such pond")
	fails := staged.Output{Name: "b.json", Write: func(w io.Writer) error {
		_, err := io.WriteString(w, strings.Repeat("half ", 40000)) // more than is held back
		return errors.Join(err, own)
	}}
	err := l.Add(1, 0, row{}, []staged.Output{text("a.json", "x"), fails})
	var broken *ledger.StoreError
	if !errors.Is(err, own) || errors.As(err, &broken) {
		t.Errorf("%v", err)
	}
	if err := l.Add(2, 0, func() {}, []staged.Output{text("c.json", "x")}); err == nil || errors.As(err, &broken) || !strings.Contains(err.Error(), "write down the row") {
		t.Errorf("a row that is no text: %v", err)
	}
	if err := l.AddLast(fails); !errors.Is(err, own) {
		t.Errorf("%v", err)
	}
	if l.Roofs() != 0 || l.Done(1, 0) || l.Done(2, 0) {
		t.Errorf("%d roofs are done", l.Roofs())
	}
	add(t, l, 3, 0, text("d.json", "x"))
	if err := l.Place(); err != nil {
		t.Fatal(err)
	}
	if got, want := files(t, dir), map[string]string{"d.json": "x"}; !maps.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// An error of whoever takes the rows ends the reading and comes back; so does one within a record taken over.
func TestRowsEndWithAnError(t *testing.T) {
	l := open(t, t.TempDir(), "call")
	for key := range uint64(3) {
		add(t, l, key, 0)
	}
	enough, taken := errors.New("enough"), 0
	if err := l.Rows(func([]byte) error { taken++; return enough }); !errors.Is(err, enough) || taken != 1 {
		t.Errorf("%v after %d rows", err, taken)
	}
	from := open(t, t.TempDir(), "call")
	add(t, from, 7, 0, text("seven.json", "x"))
	if err := os.Remove(filepath.Join(from.Folder(), "files", "seven.json")); err != nil {
		t.Fatal(err)
	}
	_, err := l.TakeOver(from, []ledger.Expected{{Key: 7, Files: []string{"seven.json"}}})
	var broken *ledger.StoreError
	if !errors.As(err, &broken) || !strings.Contains(err.Error(), "take over seven.json") {
		t.Errorf("%v", err)
	}
	if l.Done(7, 0) {
		t.Error("a roof without its file is done")
	}
}

// Folders that were made for a run go with it, but only as far up as nothing else has come into them.
func TestFoldersMadeForARunGoWithIt(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "a", "b", "c")
	l := open(t, dir, "call")
	if err := os.WriteFile(filepath.Join(top, "a", "own"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	l.Discard()
	l.Discard() // once more does nothing
	if _, err := os.Stat(filepath.Join(top, "a", "b")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a folder that was made for the run is left: %v", err)
	}
	if _, err := os.Stat(filepath.Join(top, "a", "own")); err != nil {
		t.Error(err)
	}
}

// What an earlier call left is thrown away, and a sentence says how many roofs it had done; nothing is said where it had done none.
func TestWhatIsSaidOfAnEarlierRun(t *testing.T) {
	for roofs, want := range map[int]string{0: "", 1: ": an earlier run with other flags, over other files or of another version had stopped here after 1 roof; this one begins anew.", 3: "here after 3 roofs; this one begins anew."} {
		dir := t.TempDir()
		l := open(t, dir, "call")
		for key := range roofs {
			add(t, l, uint64(key), 0, text(fmt.Sprint(key), "x")) //nolint:gosec // a small number
		}
		l.Close()
		l = open(t, dir, "another")
		if !strings.HasSuffix(l.Note, want) || (want == "") != (l.Note == "") || l.Before != 0 || l.Roofs() != 0 {
			t.Errorf("after %d roofs: %q, %d before", roofs, l.Note, l.Before)
		}
		for name := range l.Paths() {
			t.Errorf("%s is left of another call", name)
		}
	}
}
