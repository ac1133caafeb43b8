//go:build !js

package campus

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync/atomic"
	"time"

	"github.com/spf13/cobra"

	"runnel/analysis/study"
	"runnel/cmd/call"
	"runnel/cmd/handout"
	"runnel/cmd/workqueue"
	"runnel/export/ledger"
	"runnel/importer"
)

// worker is one call of "runnel worker".
type worker struct {
	call.Streams
	address string
	root    string
	workers int
	idle    time.Duration

	within handout.Root
	begun  atomic.Pointer[string] // path of what says which roofs are begun
	queue  *workqueue.Queue
	now    *workRun // the run of the last chunk; nil before
}

// NewWorker returns the command worker.
func NewWorker(s call.Streams) *cobra.Command {
	w := &worker{Streams: s}
	c := &cobra.Command{
		Use:   "worker",
		Short: "Check roofs for campus runs on other machines",
		Long: `worker takes roofs from the queue on which campus --queue puts them, some 200 at a time, checks them, and
puts the results where that run takes them from. It needs the folders of the roofs and of the results at
the paths at which the run has them, reads and writes nothing outside of --root, and goes on until it is
ended. Any number of workers may be started and ended at any time.

Who may use the queue is read from the environment: NATS_USER and NATS_PASSWORD, NATS_TOKEN, or NATS_CREDS
and NATS_NKEY, which name files; NATS_CA, NATS_CERT and NATS_KEY name those of an encrypted connection.`,
		Example: `  runnel worker --queue nats://10.0.0.5:4222 --root /data
  runnel worker --root /data --idle 1m          # ends when there has been no work for a minute`,
		Args: call.NoArguments,
		RunE: func(*cobra.Command, []string) error { return w.run() },
	}
	f := c.Flags()
	f.StringVar(&w.address, "queue", workqueue.Local, "the `URL` of a NATS server with JetStream")
	f.StringVar(&w.root, "root", ".", "read and write nothing outside of this `FOLDER`")
	f.IntVar(&w.workers, "workers", runtime.NumCPU(), "`NUMBER` of roofs at a time")
	f.DurationVar(&w.idle, "idle", 0, "end after this `TIME` without work, such as 1m (default: never)")
	return c
}

// Times of a worker.
const (
	askFor   = 2 * time.Second  // how long the server holds a question for work
	rest     = time.Second      // after a question that failed
	giveBack = 10 * time.Second // before another worker gets what this one could not do
)

// mostTimes is how often a chunk that nobody can do is handed out; the run hands it out anew as long as it lasts.
const mostTimes = 50

func (w *worker) run() error {
	switch {
	case w.workers < 1:
		return call.Usage("--workers %d: give 1 or more", w.workers)
	case w.idle < 0:
		return call.Usage("--idle %v: give a time above 0", w.idle)
	}
	if err := workqueue.CheckURL(w.address); err != nil {
		return call.Usage("--queue: %v", err)
	}
	var err error
	if w.within, err = handout.NewRoot(w.root); err != nil {
		return call.Usage("--root: %v", err)
	}
	ctx := w.Context
	if ctx == nil {
		ctx = context.Background()
	}
	say := func(text string) { call.Note(w.Err, "warning: "+text) }
	if w.queue, err = workqueue.Open(ctx, w.address, "runnel worker", Silence, say); err != nil {
		return err
	}
	defer w.queue.Close()
	call.Note(w.Err, fmt.Sprintf("Waits for work on %s; works below %s.", w.address, w.within))
	return w.serve(ctx)
}

// serve does one chunk after the other.
func (w *worker) serve(ctx context.Context) error {
	defer call.Slack()()
	w.waits()
	defer call.AtEnd.Store(nil)
	worked := time.Now()
	for ctx.Err() == nil {
		d, err := w.queue.Next(ctx, askFor)
		if err == nil {
			if err := w.deliver(ctx, d); err != nil {
				return err
			}
			worked = time.Now()
			continue
		}
		if w.idle > 0 && time.Since(worked) > w.idle {
			return nil
		}
		if !errors.Is(err, workqueue.ErrNone) {
			select {
			case <-ctx.Done():
			case <-time.After(rest):
			}
		}
	}
	return ctx.Err()
}

// deliver does what a message asks for, and answers it. Whoever reaches the server may have written it: so an error ends the worker
// only where a run within its root shows that it can do no chunk of it, or nothing can be written.
func (w *worker) deliver(ctx context.Context, d *workqueue.Delivery) error {
	if d.Bad != nil {
		call.Note(w.Err, "warning: "+d.Bad.Error())
		d.Drop()
		return nil
	}
	interrupted := func() string {
		w.returnBegun(d)
		return "what was begun goes back to the queue."
	}
	call.AtEnd.Store(&interrupted)
	defer w.waits()
	err := w.chunk(ctx, d)
	switch fateOf(err, d.Times, func() bool { return isOver(handout.Folder(d.Folder)) }) {
	case isDone:
		d.Done()
	case isDropped:
		d.Drop()
	case isReturned:
		w.giveBack(d, err)
		call.Note(w.Err, "warning: "+err.Error())
	case endsIt:
		w.giveBack(d, err)
		return err
	}
	return nil
}

// giveBack tells the run what stopped a chunk and hands the chunk back, for another time or worker.
func (w *worker) giveBack(d *workqueue.Delivery, err error) {
	w.queue.Tell(d.Run, err.Error())
	d.Return(giveBack)
}

// fate is what becomes of a chunk that a worker took.
type fate int

const (
	isDone     fate = iota // its rows are written
	isDropped              // nobody waits for it, or it was tried often enough
	isReturned             // another time or worker may do it
	endsIt                 // as isReturned, and this worker ends
)

// fateOf returns what becomes of a chunk that ended with an error, or none, when it was handed out for the nth time; over is asked whether its run is over,
// where the error would end the worker.
func fateOf(err error, n int, over func() bool) fate {
	switch {
	case err == nil:
		return isDone
	case errors.Is(err, errGone) || n > mostTimes || endsWorker(err) && over():
		return isDropped
	case endsWorker(err):
		return endsIt
	default:
		return isReturned
	}
}

// isOver reports whether a run has taken its folder away, as one does that goes on from a run that was killed: whatever could not be read or written there
// meanwhile says nothing about this worker.
func isOver(run handout.Folder) bool {
	_, err := run.Call()
	return errors.Is(err, os.ErrNotExist)
}

// endsWorker reports whether an error shows that this worker can do no chunk of a run that goes on, or can write nothing.
func endsWorker(err error) bool {
	var unfit *unfitError
	var broken *ledger.StoreError
	return errors.As(err, &unfit) || errors.As(err, &broken)
}

// returnBegun gives a chunk back when the worker is ended from outside, which is no roof's fault.
func (w *worker) returnBegun(d *workqueue.Delivery) {
	if path := w.begun.Load(); path != nil {
		_ = os.Remove(*path)
	}
	d.Return(0)
	w.queue.Flush()
}

// waits says that nothing is begun.
func (w *worker) waits() {
	idle := func() string { return "no work was begun." }
	call.AtEnd.Store(&idle)
}

// unfitError says why this worker can do nothing of a run.
type unfitError struct{ text string }

// Error says it.
func (e *unfitError) Error() string { return e.text }

// errGone says that the run of a chunk is over.
var errGone = errors.New("the run is over")

// workRun is a run whose chunks this worker does.
type workRun struct {
	*campusRun
	folder handout.Folder
	dir    string // in which it was called
	sign   string
	steps  study.Options
	reread *importer.Rereader
}

func (w *worker) chunk(ctx context.Context, d *workqueue.Delivery) error {
	if err := w.within.Holds("", d.Folder); errors.Is(err, os.ErrNotExist) {
		return gone(d)
	} else if err != nil {
		return err
	}
	if d.Version != call.Version() {
		return &unfitError{fmt.Sprintf("the run is of runnel %s, and this worker of %s: use one version for both", d.Version, call.Version())}
	}
	folder := handout.Folder(d.Folder)
	if w.now == nil || w.now.folder != folder {
		r, err := w.open(folder)
		if err != nil {
			return err
		}
		w.now = r
	}
	if folder.Has(d.Number) {
		return nil
	}
	return w.now.chunk(ctx, w, d)
}

// gone says whether the folder of a run is not there any more, or never was on this machine.
func gone(d *workqueue.Delivery) error {
	out := filepath.Dir(filepath.Dir(d.Folder)) // the folder of the run stands in that of its work, and that in the output
	if _, err := os.Stat(out); err != nil {
		return fmt.Errorf("%s is not there on this machine: workers need the folders of a run at the paths at which the run has them", out)
	}
	return errGone
}

// open reads how a run was called, and checks that this worker would check its roofs alike.
func (w *worker) open(folder handout.Folder) (*workRun, error) {
	asked, err := folder.Call()
	if errors.Is(err, os.ErrNotExist) {
		return nil, errGone
	}
	if err != nil {
		return nil, err
	}
	command, k := newRun(call.Streams{Context: w.Context, Out: w.Out, Err: w.Err})
	args := []string{"--out=" + asked.Out}
	for _, flag := range asked.Flags {
		name, value, ok := strings.Cut(strings.TrimPrefix(flag, "--"), "=")
		f := command.Flags().Lookup(name)
		if !ok || f == nil || !strings.HasPrefix(flag, "--") || slices.Contains(unsent, name) {
			return nil, fmt.Errorf("the run was called with %.40q, which a worker is not told", flag)
		}
		if call.IsPath(f) && !call.IsWord(f, value) {
			if err := w.within.Holds(asked.Dir, value); err != nil {
				return nil, fmt.Errorf("--%s: %w", name, err)
			}
		}
		args = append(args, flag)
	}
	if err := command.ParseFlags(args); err != nil {
		return nil, err
	}
	if err := os.Chdir(asked.Dir); err != nil {
		return nil, fmt.Errorf("the run was called in %s, which is not there on this machine: call it in a folder that workers see", asked.Dir)
	}
	steps, read, err := k.parse()
	if err != nil {
		return nil, err
	}
	k.paths, k.call = asked.Paths, k.output.Run(asked.Paths)
	if k.signature() != asked.Sign {
		return nil, &unfitError{"this worker would check otherwise than the run asks: the files that its flags name differ on this machine"}
	}
	return &workRun{campusRun: k, folder: folder, dir: asked.Dir, sign: asked.Sign, steps: steps, reread: importer.NewRereader(read)}, nil
}
