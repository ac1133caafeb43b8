//go:build unix

package campus

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/analysis/study"
	"runnel/cmd/call"
	"runnel/cmd/handout"
	"runnel/export/campus"
	"runnel/importer"
)

// dying is the run of newTaking as a worker does it.
func dying(t *testing.T) (*taking, *workRun) {
	t.Helper()
	x := newTaking(t)
	return x, &workRun{campusRun: x.campusRun, folder: x.folder, sign: x.signature(), steps: study.Options{}, reread: importer.NewRereader(importer.Options{})}
}

// die ends an attempt as the death of its process does: its files stay, and nobody holds them.
func die(x *try) {
	_ = x.begun.Close()
	x.book.Close()
}

// The next attempt at a chunk goes on from where those of workers that died had come: what is done is not done again, and of what was begun it is known how often a worker died.
func TestAttemptsGoOnFromThoseThatDied(t *testing.T) {
	x, r := dying(t)
	a, b := x.items[0], x.items[1]
	first, err := r.begin(1, x.items)
	if err != nil || len(first.deaths) != 0 {
		t.Fatalf("%v, %v", first, err)
	}
	if _, err := os.Stat(filepath.Join(first.path, deathsName)); !os.IsNotExist(err) {
		t.Errorf("deaths are written down where nobody died: %v", err)
	}
	for _, item := range []handout.Item{a, b} {
		if err := first.note(item.Key); err != nil {
			t.Fatal(err)
		}
	}
	if err := first.book.Add(a.Key, a.Mark, &campus.Row{Name: "a"}, nil); err != nil {
		t.Fatal(err)
	}
	// While it lives it is left alone: another worker begins anew.
	beside, err := r.begin(1, x.items)
	if err != nil || len(beside.deaths) != 0 || beside.book.Roofs() != 0 {
		t.Fatalf("beside one that lives: %v, %d roofs, %v", beside.deaths, beside.book.Roofs(), err)
	}
	beside.drop()
	if _, err := os.Stat(beside.path); !os.IsNotExist(err) {
		t.Errorf("an attempt that was thrown away stays: %v", err)
	}
	die(first)
	for n := 1; n <= 3; n++ {
		next, err := r.begin(1, x.items)
		if err != nil || next.book.Roofs() != 1 || !next.book.Done(a.Key, a.Mark) || len(next.deaths) != 1 || next.deaths[b.Key] != n {
			t.Fatalf("after %d deaths: %v, %d roofs, %v", n, next.deaths, next.book.Roofs(), err)
		}
		if left := r.folder.Begun(1); len(left) != 1 || left[0] != next.path {
			t.Errorf("after %d deaths %q are left", n, left)
		}
		if err := next.note(b.Key); err != nil {
			t.Fatal(err)
		}
		die(next)
	}
	// What a torn line or a stranger's key says counts for nothing.
	torn, err := r.begin(1, x.items)
	if err != nil || torn.deaths[b.Key] != 4 {
		t.Fatalf("%v, %v", torn.deaths, err)
	}
	if _, err := torn.begun.WriteString("zz\n00000000000000ff\n000000000000"); err != nil {
		t.Fatal(err)
	}
	die(torn)
	last, err := r.begin(1, x.items)
	if err != nil || len(last.deaths) != 1 || last.deaths[b.Key] != 4 {
		t.Fatalf("%v, %v", last.deaths, err)
	}
	die(last)
}

// A roof at which three workers died is a row that says so and is not tried again; one at which two died is tried alone, before all others.
func TestARoofThatWorkersDieOf(t *testing.T) {
	for deaths, says := range map[int]string{2: "there is no such file", 3: "internal fault: 3 workers died while they checked it", 7: "internal fault: 7 workers died while they checked it"} {
		x, r := dying(t)
		within, err := handout.NewRoot(filepath.Dir(filepath.Dir(filepath.Dir(x.path))))
		if err != nil {
			t.Fatal(err)
		}
		w := &worker{Streams: call.Streams{Err: &bytes.Buffer{}}, workers: 2, within: within}
		r.dir = string(within)
		var order []string
		AtRoof = func(stem string) { order = append(order, stem) }
		one, err := r.begin(1, x.items)
		if err != nil {
			t.Fatal(err)
		}
		one.deaths[x.items[1].Key] = deaths
		for i := range x.items { // within the root, and not there
			x.items[i].Ref.Files = []string{filepath.Join(string(within), x.items[i].Stem+".csv")}
		}
		w.workers = 1
		err = r.checkChunk(t.Context(), w, one, x.items)
		AtRoof = func(string) {}
		if err != nil {
			t.Fatal(err)
		}
		want := map[bool]string{true: "b a", false: "a"}[deaths < mostDeaths]
		if got := strings.Join(order, " "); got != want {
			t.Errorf("%d deaths: %s are tried, want %s", deaths, got, want)
		}
		rows := map[string]string{}
		if err := one.book.Rows(func(text []byte) error {
			row, err := campus.ParseRow(text)
			rows[row.Stem] = row.Reason
			return err
		}); err != nil {
			t.Fatal(err)
		}
		if len(rows) != 2 || !strings.Contains(rows["b"], says) || !strings.Contains(rows["a"], "there is no such file") {
			t.Errorf("%d deaths: rows %q, want %q", deaths, rows, says)
		}
		// All that is done is not done again.
		order = nil
		if err := r.checkChunk(t.Context(), w, one, x.items); err != nil || len(order) != 0 {
			t.Errorf("%d deaths: done again %q, %v", deaths, order, err)
		}
		one.drop()
	}
}
