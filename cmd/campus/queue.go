//go:build !js

package campus

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/spf13/pflag"

	"runnel/analysis/study"
	"runnel/cmd/call"
	"runnel/cmd/handout"
	"runnel/cmd/workqueue"
	"runnel/export/ledger"
	"runnel/importer"
)

// unsent are flags that workers are not told: they have others of their own, or none.
var unsent = []string{"out", "overwrite", "workers", "shard", "queue", "fail-on"}

// queueFolder begins the names of the folders of runs that hand out their roofs, within that of the run.
const queueFolder = "queue-"

// Silence is after how long a worker that says nothing has lost its chunk; tests shorten it.
var Silence = workqueue.Silence

// pollEvery is how often the run looks for results of workers. They come as files: a message may be lost, or come before them.
const pollEvery = 200 * time.Millisecond

// queueFits refuses what does not go with --queue.
func (k *campusRun) queueFits() error {
	if k.address == "" {
		return nil
	}
	if err := workqueue.CheckURL(k.address); err != nil {
		return call.Usage("--queue: %v", err)
	}
	if k.shard != "" {
		return call.Usage("give --queue or --shard: a queue hands out parts by itself")
	}
	if k.output.Command.Flags().Changed("workers") {
		return call.Usage("--workers goes with runnel worker: with --queue this call checks nothing itself")
	}
	return nil
}

// giver hands the roofs of a run out to workers, and takes their results.
type giver struct {
	*campusRun
	queue  *workqueue.Queue
	book   *ledger.Ledger
	folder handout.Folder
	run    string // name of the run on the queue
	path   string // of the folder, whole
	done   chan<- struct{}

	mutex  sync.Mutex
	open   map[int]*given // chunks whose results have not come
	all    bool           // every roof is in a chunk
	said   map[string]bool
	saidAt time.Time
}

// given is a chunk that was handed out.
type given struct {
	piece handout.Piece
	again int // how often it was handed out anew
	short int // how often in a row the server had lost chunks
}

// handOut has workers check every roof that is not done yet.
func (k *campusRun) handOut(roofs *importer.Roofs, steps study.Options, book *ledger.Ledger) error {
	if roofs.Once {
		return call.Usage("--queue: workers cannot read a pipe; write it into a file that they see")
	}
	ctx, cancel := k.begin(book)
	defer cancel(nil)
	g := &giver{campusRun: k, book: book, open: map[int]*given{}, said: map[string]bool{}}
	defer call.AtEnd.Store(nil)
	var err error
	if g.queue, err = workqueue.Open(ctx, k.address, "runnel campus", Silence, g.say); err != nil {
		return err
	}
	defer g.queue.Close()
	if err := g.begin(ctx); err != nil {
		return err
	}
	defer g.end(context.WithoutCancel(ctx))
	done := make(chan struct{})
	g.done = done
	var both sync.WaitGroup
	for _, work := range []func() error{func() error { return g.giveAll(ctx, roofs, steps) }, func() error { return g.takeAll(ctx) }} {
		both.Go(func() {
			if err := work(); err != nil {
				cancel(err)
			}
		})
	}
	go func() {
		both.Wait()
		close(done)
	}()
	k.follow(roofs, book, done)
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	return nil
}

// end takes back what is left on the queue, and removes the folder of the run.
func (g *giver) end(ctx context.Context) {
	_ = g.queue.Withdraw(ctx, g.run)
	g.mutex.Lock()
	ended := g.all && len(g.open) == 0
	g.mutex.Unlock()
	if ended { // else the next call takes what workers have done since
		_ = g.remove(g.path)
	}
}

// remove removes the folder of a run. It gets another name before, so that a worker that is slow puts nothing more into it.
func (g *giver) remove(path string) error {
	away, err := os.MkdirTemp(filepath.Dir(path), "gone-")
	if err == nil {
		err = os.Rename(path, filepath.Join(away, "run"))
	}
	if err == nil {
		err = os.RemoveAll(away)
	}
	if err != nil {
		return &ledger.StoreError{Err: err}
	}
	return nil
}

// say tells something once.
func (g *giver) say(text string) {
	g.mutex.Lock()
	defer g.mutex.Unlock()
	if !g.said[text] && len(g.said) < 100 {
		call.Note(g.Err, "warning: "+text)
	}
	g.said[text] = true
}

// begin takes what workers did for an earlier run that was stopped, and makes the folder of this one.
func (g *giver) begin(ctx context.Context) error {
	sign := g.signature()
	old, err := filepath.Glob(filepath.Join(g.book.Folder(), queueFolder+"*"))
	if err != nil {
		return err
	}
	for _, path := range old {
		run := strings.TrimPrefix(filepath.Base(path), queueFolder)
		if call, err := handout.Folder(path).Call(); err == nil && call.Sign == sign {
			g.takeLeft(handout.Folder(path))
		}
		if err := g.queue.Withdraw(ctx, run); err != nil {
			g.say("what an earlier run had handed out cannot be taken back: " + err.Error())
		}
		if err := g.remove(path); err != nil {
			return err
		}
	}
	var id [8]byte
	if _, err := rand.Read(id[:]); err != nil {
		return err
	}
	g.run = hex.EncodeToString(id[:])
	if g.path, err = filepath.Abs(filepath.Join(g.book.Folder(), queueFolder+g.run)); err != nil {
		return err
	}
	if g.path, err = realPath(g.path); err != nil {
		return err
	}
	dir, err := os.Getwd()
	if err != nil {
		return err
	}
	call := &handout.Run{Version: call.Version(), Dir: dir, Out: g.output.Dir, Paths: g.paths, Flags: sent(g.output.Command.Flags()), Sign: sign}
	if g.folder, err = handout.Make(g.path, call); err != nil {
		return &ledger.StoreError{Err: err}
	}
	return g.queue.Listen(g.run, func(text string) { g.say("a worker says: " + text) })
}

// realPath follows the links on the way to a file that is not there yet.
func realPath(path string) (string, error) {
	dir, err := filepath.EvalSymlinks(filepath.Dir(path))
	return filepath.Join(dir, filepath.Base(path)), err
}

// sent writes the flags that workers are told.
func sent(flags *pflag.FlagSet) (out []string) {
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Changed && !slices.Contains(unsent, f.Name) {
			for _, value := range call.ValuesOf(f) {
				out = append(out, "--"+f.Name+"="+value)
			}
		}
	})
	return out
}

// giveAll lists the roofs and hands them out in chunks.
func (g *giver) giveAll(ctx context.Context, roofs *importer.Roofs, steps study.Options) error {
	list, err := g.folder.NewList()
	if err != nil {
		return &ledger.StoreError{Err: err}
	}
	chunk := 0
	give := func(p handout.Piece, whole bool, err error) error {
		if err != nil {
			return &ledger.StoreError{Err: err}
		}
		if !whole {
			return nil
		}
		chunk++
		return g.give(ctx, chunk, p)
	}
	var wrong error
	err = g.tasks(roofs, g.book, func(t task) bool {
		if t.job.Ref.None() { // it cannot be read
			if wrong = g.do(ctx, &t, steps, g.book); wrong == nil {
				g.done <- struct{}{}
			}
			return wrong == nil
		}
		wrong = give(list.Add(&handout.Item{Stem: t.stem, ID: t.id, Key: t.key, Mark: t.mark, Ref: t.job.Ref}, sizeOf(&t.job.Ref)))
		return wrong == nil
	})
	if err = errors.Join(err, wrong); err != nil {
		return err
	}
	if err := give(list.End()); err != nil {
		return err
	}
	g.mutex.Lock()
	defer g.mutex.Unlock()
	g.all = true
	return nil
}

// sizeOf is how much is read of a roof [bytes].
func sizeOf(r *importer.Ref) (size int64) {
	if r.Outline > 0 {
		return 0 // all files are read at once
	}
	if r.Number > 0 {
		return r.To - r.From
	}
	for _, path := range r.Files {
		if info, err := os.Stat(path); err == nil {
			size += info.Size()
		}
	}
	return size
}

// give hands out a chunk for the first time.
func (g *giver) give(ctx context.Context, chunk int, p handout.Piece) error {
	g.mutex.Lock()
	g.open[chunk] = &given{piece: p}
	g.mutex.Unlock()
	return g.put(ctx, chunk, p)
}

func (g *giver) chunk(number int, p handout.Piece) *workqueue.Chunk {
	return &workqueue.Chunk{Version: call.Version(), Run: g.run, Folder: g.path, Number: number, From: p.From, To: p.To}
}

// put brings a chunk to the server, and waits while that does not answer, or has no room and somebody makes some.
func (g *giver) put(ctx context.Context, chunk int, p handout.Piece) error {
	c := g.chunk(chunk, p)
	for {
		err := g.queue.Put(ctx, c, 0)
		var broken *workqueue.Error
		if err == nil || errors.As(err, &broken) {
			return err
		}
		if errors.Is(err, workqueue.ErrFull) {
			if _, workers, left := g.queue.Left(ctx, g.run); left == nil && !workers {
				return &workqueue.Error{What: "the stream on the NATS server takes no more chunks", Mend: "start workers, or raise its limits or those of its account", Err: err}
			}
			g.say(err.Error() + "; the rest is handed out as workers take from it")
		}
		select {
		case <-ctx.Done():
			return context.Cause(ctx)
		case <-time.After(time.Second):
		}
	}
}
