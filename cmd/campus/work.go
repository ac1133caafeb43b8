//go:build !js

package campus

import (
	"cmp"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"strings"
	"sync"
	"time"

	"runnel/analysis/atonce"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/cmd/call"
	"runnel/export"
	"runnel/export/campus"
	"runnel/export/ledger"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/staged"
	"runnel/importer"
)

// numberer gives names that differ: the second of a kind gets "-2", the third "-3". It keeps sums of names, not the names.
type numberer map[uint64]struct{}

// stem returns what the files of a roof of that name begin with.
func (n numberer) stem(name string) string {
	if len(n) == 0 {
		n[sumOfText("campus")] = struct{}{} // that of the files of all
	}
	return n.give(export.StemOf(name))
}

func (n numberer) has(name string) bool {
	_, ok := n[sumOfText(name)]
	return ok
}

func (n numberer) give(name string) string {
	own := name
	for k := 2; n.has(own); k++ {
		own = fmt.Sprintf("%s-%d", name, k)
	}
	n[sumOfText(own)] = struct{}{}
	return own
}

func sumOfText(texts ...string) uint64 {
	h := fnv.New64a()
	for _, t := range texts {
		_, _ = h.Write([]byte(t))
		_, _ = h.Write([]byte{0})
	}
	return h.Sum64()
}

// task is one roof to check.
type task struct {
	job       importer.Job
	stem, id  string
	key, mark uint64 // under which the record has it
}

// tasks hands the roofs of this part that are not done to take, until it returns false.
func (k *campusRun) tasks(roofs *importer.Roofs, book *ledger.Ledger, take func(task) bool) error {
	stems, ids := numberer{}, numberer{}
	number := 0
	for job := range roofs.All() {
		number++
		// an id comes from the job's name: what stands in the file is not known before it is read
		t := task{job: job, stem: stems.stem(job.Name), id: ids.give(record.RoofID(job.Name))}
		if !k.part.has(number) {
			continue
		}
		var mark [8]byte
		binary.LittleEndian.PutUint64(mark[:], job.Mark)
		t.key, t.mark = sumOfText(t.stem), sumOfText(t.id, job.Name, string(mark[:]))
		if book.Done(t.key, t.mark) {
			continue
		}
		if roofs.Once {
			if err := staged.Free(k.output.Target(job.Files), export.Names(t.stem, k.output.Kinds, k.output.Split)); err != nil && !book.Moving {
				return err
			}
		}
		if !take(t) {
			return nil
		}
	}
	return nil
}

// begin returns what stops the work, and from now on a run that is stopped says how far it came.
func (k *campusRun) begin(book *ledger.Ledger) (context.Context, context.CancelCauseFunc) {
	say := func() string {
		return fmt.Sprintf("%d roofs are done, and the same call goes on from there.", book.Roofs())
	}
	call.AtEnd.Store(&say)
	return context.WithCancelCause(cmp.Or(k.Context, context.Background()))
}

// checkAll checks every roof that is not done yet, several at a time. What comes out does not depend on how many.
func (k *campusRun) checkAll(roofs *importer.Roofs, steps study.Options, book *ledger.Ledger) error {
	ctx, cancel := k.begin(book)
	defer cancel(nil)
	defer call.AtEnd.Store(nil)
	next, done := make(chan task), make(chan struct{})
	var workers sync.WaitGroup
	for range k.workers {
		workers.Go(func() {
			for t := range next {
				if err := k.do(ctx, &t, steps, book); err != nil {
					cancel(err)
					return
				}
				done <- struct{}{}
			}
		})
	}
	go func() {
		defer close(done)
		defer workers.Wait()
		defer close(next)
		err := k.tasks(roofs, book, func(t task) bool {
			select {
			case next <- t:
				return true
			case <-ctx.Done():
				return false
			}
		})
		if err != nil {
			cancel(err)
		}
	}()
	k.follow(roofs, book, done)
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	return nil
}

// follow tells how far the run is until all workers have ended.
func (k *campusRun) follow(roofs *importer.Roofs, book *ledger.Ledger, done <-chan struct{}) {
	began := time.Now()
	known := roofs.Known
	if k.part.of > 0 && known >= 0 {
		known = k.part.share(known)
	}
	p := call.Progress{Out: k.Err, Known: known, Share: roofs.Share, Shown: k.Terminal, Before: book.Before, Clock: func() float64 { return time.Since(began).Seconds() }}
	defer p.End()
	tick := time.NewTicker(time.Second)
	defer tick.Stop()
	for {
		select {
		case _, ok := <-done:
			if !ok {
				return
			}
			p.Step()
		case <-tick.C:
			p.Tick()
		}
	}
}

// result is what comes of a roof: its row, and the files to write.
type result struct {
	row   campus.Row
	files []staged.Output
}

// do checks one roof and puts it into the record. The error is none of the roof's.
func (k *campusRun) do(ctx context.Context, t *task, steps study.Options, book *ledger.Ledger) error {
	r := k.inTime(ctx, t, steps)
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	err := add(book, t, &r)
	var broken *ledger.StoreError
	if err == nil || errors.As(err, &broken) {
		return err
	}
	return book.Add(t.key, t.mark, t.failed(err), nil)
}

// add puts a result into the record; a panic while its files are written is an error.
func add(book *ledger.Ledger, t *task, r *result) (err error) {
	defer call.Caught(&err)
	return book.Add(t.key, t.mark, &r.row, r.files)
}

// failed is the row of a roof that could not be checked.
func (t *task) failed(err error) *campus.Row {
	return &campus.Row{Name: t.job.Name, Stem: t.stem, Reason: oneLine(err)}
}

// patience is how much longer than its time a roof may take to stop.
const patience = 2 * time.Second

// inTime checks one roof within the time that it may take. A step that does not look at the clock is left behind: the row
// says so, and what it still finds counts for nothing.
func (k *campusRun) inTime(ctx context.Context, t *task, steps study.Options) result {
	ctx, cancel := context.WithTimeout(ctx, k.timeout)
	defer cancel()
	steps.Context = ctx
	late := result{row: *t.failed(fmt.Errorf("not done within %v (--roof-timeout)", k.timeout))}
	out := make(chan result, 1)
	hand(func() {
		r, err := k.check(t, steps)
		switch {
		case errors.Is(err, context.DeadlineExceeded):
			r = late
		case err != nil:
			r = result{row: *t.failed(err)}
		}
		out <- r
	})
	timer := time.NewTimer(k.timeout + patience)
	defer timer.Stop()
	select {
	case r := <-out:
		return r
	case <-timer.C:
		return late
	}
}

// check checks one roof. A panic is an error.
func (k *campusRun) check(t *task, steps study.Options) (out result, err error) {
	defer call.Caught(&err)
	atonce.Whole(func() { out, err = k.checked(t, steps) })
	return out, err
}

// fewSpots is below how many spots the parts of a roof are done one after another, although processors may be left: a worker that does one roof at
// a time took 5 % more of them for roofs of 150 spots side by side.
const fewSpots = 1000

// checked checks one roof.
func (k *campusRun) checked(t *task, steps study.Options) (out result, err error) {
	r, err := t.job.Read()
	if err != nil {
		return out, err
	}
	if len(r.Spots) < fewSpots {
		atonce.InTurn(func() { out, err = k.judged(t, r, steps) })
		return out, err
	}
	return k.judged(t, r, steps)
}

// judged checks a roof that was read, and makes what is to be written of it.
func (k *campusRun) judged(t *task, r *roof.Roof, steps study.Options) (out result, err error) {
	steps.FindingsOnly = len(k.output.Kinds) == 0 // a row tells nothing else
	s, err := study.Run(r, k.input.StepsFor(r, steps))
	if err != nil {
		return out, err
	}
	out.row = campus.NewRow(s, t.stem)
	if len(k.output.Kinds) == 0 {
		return out, nil
	}
	b := record.NewBook(s, t.id, call.UnitsOf(k.input.US(r)))
	b.Run = k.call
	out.files, err = export.Outputs(model.Of(b), k.output.Kinds, export.Options{Stem: t.stem, Split: k.output.Split, Facets: k.output.Facets, Plan: k.output.Plan})
	return out, err
}

// oneLine writes an error for a cell of a table.
func oneLine(err error) string {
	text := err.Error()
	if call.ExitCode(err) == call.ExitFault {
		text = "internal fault: " + text
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(text, "\n", "; ")), " ")
}
