//go:build !js

package campus

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"

	"runnel/analysis/roof"
	"runnel/cmd/handout"
	"runnel/cmd/workqueue"
	"runnel/export/ledger"
	"runnel/importer"
)

// mostDeaths is how often a worker may die of a roof before that is the roof's row.
const mostDeaths = 3

// AtRoof is called before a roof is checked; tests let a worker die there.
var AtRoof = func(string) {}

// try is one attempt at a chunk. Its folder holds the record of the roofs that are done, and the keys of those that were begun, so
// that the next attempt goes on from it should this process die.
type try struct {
	path   string
	book   *ledger.Ledger
	mutex  sync.Mutex
	begun  *os.File
	deaths map[uint64]int // how often a worker died while it checked a roof
}

// Names in the folder of an attempt.
const (
	begunName  = "begun"
	deathsName = "deaths"
)

// chunk checks the roofs of a chunk and puts the results where the run takes them.
func (r *workRun) chunk(ctx context.Context, w *worker, d *workqueue.Delivery) error {
	items, err := r.folder.Read(handout.Piece{From: d.From, To: d.To})
	if err != nil {
		return r.unless(err)
	}
	t, err := r.begin(d.Number, items)
	if err != nil {
		return r.unless(err)
	}
	began := filepath.Join(t.path, begunName)
	w.begun.Store(&began)
	defer w.begun.Store(nil)
	if err := r.checkChunk(ctx, w, t, items); err != nil {
		t.drop()
		return r.unless(err)
	}
	t.close()
	return r.unless(r.folder.Finish(d.Number, t.path))
}

// unless turns what goes wrong when the run ends meanwhile into errGone.
func (r *workRun) unless(err error) error {
	if err != nil {
		if _, gone := os.Stat(string(r.folder)); errors.Is(gone, os.ErrNotExist) {
			return errGone
		}
	}
	return err
}

// begin begins an attempt, from where those of workers that have died had come.
func (r *workRun) begin(chunk int, items []handout.Item) (*try, error) {
	old := r.folder.Begun(chunk)
	path, err := r.folder.Begin(chunk)
	if err != nil {
		return nil, &ledger.StoreError{Err: err}
	}
	t := &try{path: path, deaths: map[uint64]int{}}
	if t.book, err = ledger.Open(path, "", r.sign); err != nil {
		return nil, err
	}
	if t.begun, err = os.OpenFile(filepath.Join(path, begunName), os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o600); err != nil {
		return nil, &ledger.StoreError{Err: err}
	}
	for _, before := range old {
		if err := t.inherit(before, r.sign, r.expected(items)); err != nil {
			return nil, err
		}
	}
	text, err := json.Marshal(t.deaths)
	if err == nil && len(t.deaths) > 0 {
		err = os.WriteFile(filepath.Join(path, deathsName), text, 0o600)
	}
	return t, err
}

// inherit takes what an attempt of a worker that has died had done. One whose worker lives is left alone.
func (t *try) inherit(path, sign string, want []ledger.Expected) error {
	from, err := ledger.Open(path, "", sign)
	if err != nil {
		return nil //nolint:nilerr // it lives, or there is nothing to take
	}
	defer from.Close()
	if _, err := t.book.TakeOver(from, want); err != nil {
		return err
	}
	if text, err := os.ReadFile(filepath.Join(path, deathsName)); err == nil {
		var before map[uint64]int
		if json.Unmarshal(text, &before) == nil {
			for key, n := range before {
				t.deaths[key] = max(t.deaths[key], n)
			}
		}
	}
	text, _ := os.ReadFile(filepath.Join(path, begunName))
	for line := range strings.Lines(string(text)) {
		key, err := strconv.ParseUint(strings.TrimSpace(line), 16, 64)
		of := slices.IndexFunc(want, func(e ledger.Expected) bool { return e.Key == key })
		if err == nil && of >= 0 && !t.book.Done(key, want[of].Mark) {
			t.deaths[key]++
		}
	}
	from.Discard()
	return os.RemoveAll(path)
}

// note writes down that a roof is begun.
func (t *try) note(key uint64) error {
	t.mutex.Lock()
	defer t.mutex.Unlock()
	if _, err := fmt.Fprintf(t.begun, "%016x\n", key); err != nil {
		return &ledger.StoreError{Err: err}
	}
	return nil
}

// close ends the attempt; what it has done stays.
func (t *try) close() {
	_ = t.begun.Close()
	t.book.Close()
}

// drop throws the attempt away.
func (t *try) drop() {
	_ = t.begun.Close()
	t.book.Discard()
	_ = os.RemoveAll(t.path)
}

// checkChunk checks the roofs that are not done. Those of which a worker may have died come first, each alone, so that the next
// death tells which it was.
func (r *workRun) checkChunk(ctx context.Context, w *worker, t *try, items []handout.Item) error {
	var alone, rest []handout.Item
	for _, item := range items {
		switch {
		case t.book.Done(item.Key, item.Mark):
		case t.deaths[item.Key] > 0:
			alone = append(alone, item)
		default:
			rest = append(rest, item)
		}
	}
	if err := r.checkItems(ctx, w, t, alone, 1); err != nil {
		return err
	}
	return r.checkItems(ctx, w, t, rest, w.workers)
}

// checkItems checks roofs, several at a time.
func (r *workRun) checkItems(ctx context.Context, w *worker, t *try, items []handout.Item, atOnce int) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	next := make(chan task)
	var workers sync.WaitGroup
	for range min(atOnce, len(items)) {
		workers.Go(func() {
			for one := range next {
				if err := r.one(ctx, t, &one); err != nil {
					cancel(err)
					return
				}
			}
		})
	}
	holds := w.within.Keeper(r.dir)
	for i := range items {
		one, err := r.task(holds, &items[i])
		if err != nil {
			cancel(err)
			break
		}
		select {
		case next <- one:
			continue
		case <-ctx.Done():
		}
		break
	}
	close(next)
	workers.Wait()
	return context.Cause(ctx)
}

// task finds a roof of the list again; holds refuses files outside of the worker's root.
func (r *workRun) task(holds func(path string) error, item *handout.Item) (task, error) {
	for _, path := range item.Ref.Files {
		if err := holds(path); err != nil && !errors.Is(err, os.ErrNotExist) {
			return task{}, err
		}
	}
	job, err := r.reread.Job(item.Ref)
	if err != nil { // what was there when it was listed has gone
		job = importer.Job{Name: item.Stem, Read: func() (*roof.Roof, error) { return nil, err }}
	}
	return task{job: job, stem: item.Stem, id: item.ID, key: item.Key, mark: item.Mark}, nil
}

func (r *workRun) one(ctx context.Context, t *try, one *task) error {
	if n := t.deaths[one.key]; n >= mostDeaths {
		err := fmt.Errorf("internal fault: %d workers died while they checked it", n)
		return t.book.Add(one.key, one.mark, one.failed(err), nil)
	}
	if err := t.note(one.key); err != nil {
		return err
	}
	AtRoof(one.stem)
	return r.do(ctx, one, r.steps, t.book)
}
