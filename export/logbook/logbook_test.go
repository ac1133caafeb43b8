package logbook_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/export/logbook"
)

func add(t *testing.T, path string, texts ...string) {
	t.Helper()
	for _, text := range texts {
		if err := logbook.Append(path, &logbook.Entry{Date: "2026-03-01", Kind: logbook.Note, Text: text, Written: "2026-03-01T10:00:00Z"}); err != nil {
			t.Fatal(err)
		}
	}
}

func read(t *testing.T, path string) *logbook.Book {
	t.Helper()
	b, err := logbook.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestAppended(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shed.log.ndjson")
	if b := read(t, path); len(b.Entries) != 0 {
		t.Fatal("a history that does not exist has entries")
	}
	add(t, path, "one", "two", "three \"quoted\" \n line")
	b := read(t, path)
	if len(b.Entries) != 3 || b.Entries[2].Number != 3 || b.Entries[2].Text != "three \"quoted\" \n line" || len(b.Broken) != 0 {
		t.Errorf("%+v", b)
	}
}

// A line that is changed, or taken out, shows at the entry after it; the last one can't show it. What is written before stays byte for byte.
func TestChangedLinesShow(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shed.log.ndjson")
	add(t, path, "one", "two", "three", "four")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.SplitAfter(string(text), "\n")
	for name, c := range map[string]struct {
		text string
		want int
	}{
		"changed": {strings.Replace(string(text), "two", "2", 1), 3},
		"removed": {lines[0] + lines[2] + lines[3], 3},
		"swapped": {lines[1] + lines[0] + lines[2] + lines[3], 2},
	} {
		other := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(other, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		if b := read(t, other); len(b.Broken) == 0 || b.Broken[0] != c.want {
			t.Errorf("%s: broken at %v, want %d", name, b.Broken, c.want)
		}
	}
	add(t, path, "five")
	if after, err := os.ReadFile(path); err != nil || !strings.HasPrefix(string(after), string(text)) {
		t.Error("what was written before has changed")
	}
}

// A write that was cut short leaves half a line: it is not read, and the next entry takes its place.
func TestTornLine(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shed.log.ndjson")
	add(t, path, "one", "two")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, text[:len(text)-20], 0o600); err != nil {
		t.Fatal(err)
	}
	if b := read(t, path); len(b.Entries) != 1 {
		t.Errorf("%d entries", len(b.Entries))
	}
	add(t, path, "again")
	if b := read(t, path); len(b.Entries) != 2 || b.Entries[1].Text != "again" || len(b.Broken) != 0 {
		t.Errorf("%+v", b)
	}
}

func TestNoHistory(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x")
	if err := os.WriteFile(path, []byte("point,x,y\n1,2,3\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := logbook.Read(path); err == nil || !strings.Contains(err.Error(), "line 1") {
		t.Errorf("%v", err)
	}
	if err := logbook.Append(path, &logbook.Entry{Text: "x"}); err == nil {
		t.Error("an entry was added to another file")
	}
	if _, err := logbook.ParseKind("party"); err == nil || !strings.Contains(err.Error(), "cleaned") {
		t.Errorf("%v", err)
	}
}
