//go:build unix

package campus

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"runnel/cmd/call"
	"runnel/cmd/handout"
	"runnel/cmd/workqueue"
	"runnel/export/campus"
	"runnel/export/ledger"
	"runnel/importer"
)

// taking is a run that has handed out one chunk of two roofs, "a" and "b", and takes its results.
type taking struct {
	*giver
	errs  bytes.Buffer
	done  chan struct{}
	items []handout.Item
}

func newTaking(t *testing.T) *taking {
	t.Helper()
	x := &taking{done: make(chan struct{}, 9)}
	k := calling(t, "--write=json")
	k.Err = &x.errs
	out := filepath.Join(t.TempDir(), "out")
	book, err := ledger.Open(out, "", k.signature())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(book.Close)
	folder, err := handout.Make(filepath.Join(book.Folder(), "queue-1"), &handout.Run{Version: call.Version(), Dir: t.TempDir(), Out: out, Paths: []string{"in"}, Sign: k.signature()})
	if err != nil {
		t.Fatal(err)
	}
	list, err := folder.NewList()
	if err != nil {
		t.Fatal(err)
	}
	x.items = []handout.Item{{Stem: "a", ID: "A", Key: 1, Mark: 11, Ref: importer.Ref{Files: []string{"a.csv"}}}, {Stem: "b", ID: "B", Key: 2, Mark: 12, Ref: importer.Ref{Files: []string{"b.csv"}}}}
	for i := range x.items {
		if _, _, err := list.Add(&x.items[i], 1); err != nil {
			t.Fatal(err)
		}
	}
	piece, _, err := list.End()
	if err != nil {
		t.Fatal(err)
	}
	x.giver = &giver{campusRun: k, book: book, folder: folder, path: string(folder), run: "0123456789abcdef", done: x.done, open: map[int]*given{1: {piece: piece}}, said: map[string]bool{}, all: true}
	return x
}

// worked puts results of the chunk where the run takes them: rows of these items.
func (x *taking) worked(t *testing.T, items ...handout.Item) {
	t.Helper()
	path, err := x.folder.Begin(1)
	if err != nil {
		t.Fatal(err)
	}
	book, err := ledger.Open(path, "", x.signature())
	if err != nil {
		t.Fatal(err)
	}
	for _, item := range items {
		if err := book.Add(item.Key, item.Mark, &campus.Row{Name: item.Stem, Stem: item.Stem}, nil); err != nil {
			t.Fatal(err)
		}
	}
	book.Close()
	if err := x.folder.Finish(1, path); err != nil {
		t.Fatal(err)
	}
}

// told counts the roofs of which the run was told that they are done.
func (x *taking) told() (n int) {
	for {
		select {
		case <-x.done:
			n++
		default:
			return n
		}
	}
}

// The results of a chunk are taken once, and each of its roofs is told once; results of a chunk that nobody waits for are thrown away.
func TestResultsOfAChunkAreTaken(t *testing.T) {
	x := newTaking(t)
	if came, err := x.takeReady(); came || err != nil || x.told() != 0 {
		t.Errorf("before any have come: %v, %v", came, err)
	}
	x.worked(t, x.items...)
	came, err := x.takeReady()
	if !came || err != nil || x.told() != 2 || x.book.Roofs() != 2 || len(x.open) != 0 || x.errs.Len() > 0 {
		t.Errorf("%v, %v: %d roofs, %d chunks open, %s", came, err, x.book.Roofs(), len(x.open), x.errs.String())
	}
	if came, err := x.takeReady(); came || err != nil || x.told() != 0 {
		t.Errorf("taken again: %v, %v", came, err)
	}
	other := newTaking(t)
	other.worked(t, other.items...)
	other.open = map[int]*given{}
	if came, err := other.takeReady(); came || err != nil || other.book.Roofs() != 0 || other.told() != 0 {
		t.Errorf("of a chunk that nobody waits for: %v, %v, %d roofs", came, err, other.book.Roofs())
	}
	if _, err := os.Stat(other.folder.Ready(1)); !os.IsNotExist(err) {
		t.Errorf("its results stay: %v", err)
	}
}

// Results that are not whole are said and handed out again; what is there counts, and no roof is told twice when the rest comes.
func TestResultsThatAreNotWhole(t *testing.T) {
	x := newTaking(t)
	x.worked(t, x.items[1])
	if came, err := x.takeReady(); !came || err != nil || x.told() != 1 || x.book.Roofs() != 1 || len(x.open) != 1 || x.open[1].short != 2 {
		t.Errorf("%v, %v: %d roofs, %+v", came, err, x.book.Roofs(), x.open[1])
	}
	if got := x.errs.String(); got != "warning: the results of a chunk were not whole; 1 roofs are handed out again\n" {
		t.Errorf("said %q", got)
	}
	if _, err := os.Stat(x.folder.Ready(1)); !os.IsNotExist(err) {
		t.Errorf("the results stay: %v", err)
	}
	x.worked(t, x.items...) // the chunk is done as a whole
	if came, err := x.takeReady(); !came || err != nil || x.book.Roofs() != 2 || len(x.open) != 0 {
		t.Errorf("%v, %v: %d roofs, %d chunks open", came, err, x.book.Roofs(), len(x.open))
	}
	if n := x.told(); n != 1 {
		t.Errorf("the second roof is told %d times", n)
	}
}

// A chunk that the server has lost is handed out again at the second look in a row, not at the first; one that the server has is not, however often the run looks.
func TestLostChunksAreHandedOutAgain(t *testing.T) {
	x := newTaking(t)
	url := broker(t)
	var err error
	if x.queue, err = workqueue.Open(t.Context(), url, "test", time.Second, x.say); err != nil {
		t.Fatal(err)
	}
	defer x.queue.Close()
	x.address = url
	left := func() int {
		n, _, err := x.queue.Left(t.Context(), x.run)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	look := func(want int, what string) {
		t.Helper()
		if err := x.look(t.Context()); err != nil || left() != want {
			t.Errorf("%s: %d chunks on the server, want %d: %v", what, left(), want, err)
		}
	}
	if err := x.put(t.Context(), 1, x.open[1].piece); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		look(1, "it is there")
	}
	for range 2 {
		if err := x.queue.Withdraw(t.Context(), x.run); err != nil {
			t.Fatal(err)
		}
		look(0, "lost, at the first look")
		look(1, "lost, at the second look")
		look(1, "it is there again")
	}
	if x.open[1].again != 2 {
		t.Errorf("handed out again %d times", x.open[1].again)
	}
	d, err := x.queue.Next(t.Context(), 5*time.Second)
	if err != nil || d.Number != 1 || d.From != x.open[1].piece.From || d.To != x.open[1].piece.To || d.Folder != x.path || d.Version != call.Version() {
		t.Errorf("%+v, %v", d, err)
	}
	if n := strings.Count(x.errs.String(), "No worker is at work."); n != 1 {
		t.Errorf("said %d times: %s", n, x.errs.String())
	}
}

// What workers did for an earlier run is taken as far as it is whole, and how many roofs that are is said; of another call nothing is.
func TestWhatIsLeftOfAnEarlierRun(t *testing.T) {
	x := newTaking(t)
	x.takeLeft(x.folder)
	if x.book.Roofs() != 0 || x.errs.Len() > 0 {
		t.Errorf("of nothing: %d roofs, %s", x.book.Roofs(), x.errs.String())
	}
	x.worked(t, x.items[0])
	x.takeLeft(x.folder)
	if x.book.Roofs() != 1 || x.errs.String() != "Workers had done 1 roofs since.\n" {
		t.Errorf("%d roofs, %s", x.book.Roofs(), x.errs.String())
	}
	if err := x.remove(x.path); err != nil {
		t.Fatal(err)
	}
	if entries, err := os.ReadDir(filepath.Dir(x.path)); err != nil || strings.Contains(names(entries), "queue-1") || strings.Contains(names(entries), "gone-") {
		t.Errorf("left behind: %s, %v", names(entries), err)
	}
}

// names are the names of the files of a folder.
func names(entries []os.DirEntry) string {
	var all []string
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return strings.Join(all, " ")
}
