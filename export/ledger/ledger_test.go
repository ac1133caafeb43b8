package ledger_test

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/export/ledger"
	"runnel/export/staged"
)

func open(t *testing.T, dir, call string) *ledger.Ledger {
	t.Helper()
	l, err := ledger.Open(dir, "", call)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(l.Close)
	return l
}

func text(name, content string) staged.Output {
	return staged.Output{Name: name, Write: func(w io.Writer) error {
		_, err := io.WriteString(w, content)
		return err
	}}
}

type row struct{ Name string }

func add(t *testing.T, l *ledger.Ledger, key, mark uint64, files ...staged.Output) {
	t.Helper()
	if err := l.Add(key, mark, row{fmt.Sprint(key, "/", mark)}, files); err != nil {
		t.Fatal(err)
	}
}

func rowsOf(t *testing.T, l *ledger.Ledger) string {
	t.Helper()
	var all []string
	if err := l.Rows(func(text []byte) error {
		all = append(all, string(text))
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	return strings.Join(all, " ")
}

func files(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		all[strings.TrimPrefix(path, dir+string(filepath.Separator))] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// A run that has let go of where its roofs stand knows how many they are, and puts its files in their places.
func TestForget(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	l := open(t, dir, "call")
	defer l.Close()
	add(t, l, 1, 10, text("one.json", "1"))
	add(t, l, 2, 20)
	if got := rowsOf(t, l); got == "" || l.Roofs() != 2 {
		t.Errorf("rows %q, %d roofs", got, l.Roofs())
	}
	for range 2 {
		if l.Forget(); l.Roofs() != 2 {
			t.Errorf("%d roofs are known after it, want 2", l.Roofs())
		}
	}
	if err := l.Place(); err != nil {
		t.Fatal(err)
	}
	if got := files(t, dir); len(got) != 1 || got["one.json"] != "1" {
		t.Errorf("files %v", got)
	}
}

// What an earlier run of the same call has done is not done again; what has changed since, or is none of the run's any more, is.
func TestARunGoesOn(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "out")
	l := open(t, dir, "call")
	for key := uint64(1); key <= 4; key++ {
		add(t, l, key, 0, text(fmt.Sprint("roof-", key, ".json"), "first"))
	}
	add(t, l, 5, 0, text("roof-5.geojson", "first"), text("roof-5.json", "first"))
	l.Close()

	l = open(t, dir, "call")
	if l.Before != 5 || l.Note != "" {
		t.Errorf("%d roofs before, note %q", l.Before, l.Note)
	}
	if !l.Done(1, 0) || !l.Done(2, 0) || l.Done(5, 1) || l.Done(9, 0) {
		t.Error("what is done is not told from what is not")
	}
	add(t, l, 5, 1, text("roof-5.json", "second"))
	if got, want := rowsOf(t, l), `{"Name":"1/0"} {"Name":"2/0"} {"Name":"5/1"}`; got != want {
		t.Errorf("rows %s, want %s", got, want)
	}
	if err := l.AddLast(text("campus.csv", "all")); err != nil {
		t.Fatal(err)
	}
	if got := files(t, dir)["roof-1.json"]; got != "" {
		t.Error("a file stands in its place before all are done")
	}
	if err := l.Place(); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"roof-1.json": "first", "roof-2.json": "first", "roof-5.json": "second", "campus.csv": "all"}
	if got := files(t, dir); !maps.Equal(got, want) {
		t.Errorf("files %v, want %v", got, want)
	}
}

// The record of another call is thrown away, and said.
func TestAnotherCallBeginsAnew(t *testing.T) {
	dir := t.TempDir()
	l := open(t, dir, "call")
	add(t, l, 1, 0, text("a.json", "x"))
	l.Close()
	l = open(t, dir, "another")
	if l.Before != 0 || l.Done(1, 0) || !strings.Contains(l.Note, "after 1 roof;") {
		t.Errorf("%d roofs before, note %q", l.Before, l.Note)
	}
	l.Discard()
	if left := files(t, dir); len(left) != 0 {
		t.Errorf("left %v", left)
	}
}

// Wherever a kill cuts the journal off, the roofs whose lines are whole are done, and no others; a file that is shorter than the journal
// says counts as not written.
func TestTornJournal(t *testing.T) {
	dir := t.TempDir()
	l := open(t, dir, "call")
	var ends []int64
	path := filepath.Join(dir, ledger.Prefix, "journal")
	for key := uint64(1); key <= 3; key++ {
		add(t, l, key, 0, text(fmt.Sprint(key, ".json"), "whole"))
		info, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		ends = append(ends, info.Size())
	}
	l.Close()
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for cut := len(whole); cut > int(ends[0]); cut-- {
		if err := os.WriteFile(path, whole[:cut], 0o600); err != nil {
			t.Fatal(err)
		}
		l := open(t, dir, "call")
		want := 0
		for _, end := range ends {
			if int64(cut) >= end {
				want++
			}
		}
		if l.Before != want {
			t.Fatalf("cut at %d of %d: %d roofs, want %d", cut, len(whole), l.Before, want)
		}
		l.Close()
	}
	broken := append([]byte{}, whole...)
	broken[ends[1]-5] ^= 1 // a bit of the second roof
	if err := os.WriteFile(path, broken, 0o600); err != nil {
		t.Fatal(err)
	}
	if l := open(t, dir, "call"); l.Before != 1 {
		t.Errorf("a line with a wrong bit: %d roofs, want 1", l.Before)
	} else {
		l.Close()
	}
	if err := os.WriteFile(path, whole, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(filepath.Join(dir, ledger.Prefix, "files", "2.json"), 3); err != nil {
		t.Fatal(err)
	}
	if l := open(t, dir, "call"); l.Before != 2 || l.Done(2, 0) || !l.Done(3, 0) {
		t.Errorf("a file that is cut off: %d roofs", l.Before)
	}
}

// Of two runs into one folder the second is refused; runs of other names go on beside it.
func TestASecondRunIsRefused(t *testing.T) {
	dir := t.TempDir()
	l := open(t, dir, "call")
	if _, err := ledger.Open(dir, "", "call"); !errors.Is(err, ledger.ErrBusy) {
		t.Errorf("%v", err)
	}
	add(t, l, 1, 0, text("a.json", "x"))
	other, err := ledger.Open(dir, "-1-of-2", "call")
	if err != nil {
		t.Fatal(err)
	}
	other.Discard()
	l.Close()
	if again := open(t, dir, "call"); again.Before != 1 {
		t.Error("the first run has lost what it did")
	}
}

// A disk that is full ends the run with an error that is no roof's; what was done before stays.
func TestFullDisk(t *testing.T) {
	if _, err := os.Stat("/dev/full"); err != nil {
		t.Skip(err)
	}
	dir := t.TempDir()
	l := open(t, dir, "call")
	add(t, l, 1, 0, text("a.json", "x"))
	if err := os.Symlink("/dev/full", filepath.Join(dir, ledger.Prefix, "files", "b.json")); err != nil {
		t.Fatal(err)
	}
	err := l.Add(2, 0, row{}, []staged.Output{text("b.geojson", "x"), text("b.json", strings.Repeat("x", 1<<20))})
	var broken *ledger.StoreError
	if !errors.As(err, &broken) || !strings.Contains(err.Error(), "b.json: no space left") {
		t.Errorf("%v", err)
	}
	l.Close()
	l = open(t, dir, "call")
	if l.Before != 1 || l.Done(2, 0) {
		t.Errorf("%d roofs", l.Before)
	}
	if _, err := os.Stat(filepath.Join(dir, ledger.Prefix, "files", "b.geojson")); err == nil {
		t.Error("a file of the roof that failed stays")
	}
}

// A run that is killed while its files move to their places goes on moving: as the same call, or before another one begins.
func TestKilledWhileMoving(t *testing.T) {
	for _, call := range []string{"call", "another"} {
		dir := t.TempDir()
		if err := os.Mkdir(filepath.Join(dir, "b.json"), 0o700); err != nil { // which stops the move
			t.Fatal(err)
		}
		l := open(t, dir, "call")
		for key, name := range map[uint64]string{1: "a.json", 2: "b.json", 3: "c.json"} {
			add(t, l, key, 0, text(name, "x"))
		}
		if err := l.Place(); err == nil {
			t.Fatal("a folder was replaced")
		}
		l.Close()
		if err := os.Remove(filepath.Join(dir, "b.json")); err != nil {
			t.Fatal(err)
		}
		l = open(t, dir, call)
		if call == "call" {
			if !l.Moving || !l.Done(1, 0) || !l.Done(2, 0) || !l.Done(3, 0) {
				t.Error("what was done is forgotten")
			}
			if err := l.Place(); err != nil {
				t.Fatal(err)
			}
		} else {
			if l.Moving || !strings.Contains(l.Note, "they are all there now") {
				t.Errorf("note %q", l.Note)
			}
			l.Discard()
		}
		if got, want := files(t, dir), map[string]string{"a.json": "x", "b.json": "x", "c.json": "x"}; !maps.Equal(got, want) {
			t.Errorf("%s: %v", call, got)
		}
	}
}

// Nothing but a folder can hold results.
func TestOutputThatIsAFile(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(dir, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := ledger.Open(dir, "", "call"); err == nil {
		t.Error("a file was taken for a folder")
	}
}

// Whatever stands in a journal, opening it neither fails nor counts a line that is not whole.
func FuzzJournal(f *testing.F) {
	f.Add([]byte("00000000 x\n"))
	f.Add([]byte(""))
	f.Add([]byte("\n\n"))
	f.Fuzz(func(t *testing.T, journal []byte) {
		dir := t.TempDir()
		if err := os.MkdirAll(filepath.Join(dir, ledger.Prefix), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, ledger.Prefix, "journal"), journal, 0o600); err != nil {
			t.Fatal(err)
		}
		l := open(t, dir, "call")
		if l.Before != 0 {
			t.Errorf("%q: %d roofs", journal, l.Before)
		}
		add(t, l, 1, 0, text("a.json", "x"))
		if err := l.Place(); err != nil {
			t.Fatal(err)
		}
	})
}
