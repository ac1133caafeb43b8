//go:build !js

package campus

import (
	"context"
	"errors"
	"fmt"
	"os"
	"time"

	"runnel/cmd/call"
	"runnel/cmd/handout"
	"runnel/cmd/workqueue"
	"runnel/export"
	"runnel/export/ledger"
)

// takeAll takes results until all have come.
func (g *giver) takeAll(ctx context.Context) error {
	looked := time.Now()
	for {
		came, err := g.takeReady()
		if err != nil {
			return err
		}
		g.mutex.Lock()
		ended := g.all && len(g.open) == 0
		g.mutex.Unlock()
		if ended {
			return nil
		}
		if came {
			looked = time.Now()
		} else if time.Since(looked) > Silence/4 {
			if err := g.look(ctx); err != nil {
				return err
			}
			looked = time.Now()
		}
		select {
		case <-ctx.Done():
			return nil
		case <-time.After(pollEvery):
		}
	}
}

// takeReady takes the results that have come.
func (g *giver) takeReady() (came bool, err error) {
	chunks, err := g.folder.Waiting()
	if err != nil {
		return false, &ledger.StoreError{Err: err}
	}
	for _, chunk := range chunks {
		g.mutex.Lock()
		of := g.open[chunk]
		g.mutex.Unlock()
		if of == nil { // it came twice
			_ = os.RemoveAll(g.folder.Ready(chunk))
			continue
		}
		if err := g.take(chunk, of); err != nil {
			return came, err
		}
		came = true
	}
	return came, nil
}

// take takes the results of one chunk. One that is not whole is handed out again.
func (g *giver) take(chunk int, of *given) error {
	items, err := g.folder.Read(of.piece)
	if err != nil {
		return &ledger.StoreError{Err: err}
	}
	from, err := ledger.Open(g.folder.Ready(chunk), "", g.signature())
	if errors.Is(err, ledger.ErrBusy) {
		return nil
	}
	if err != nil {
		return &ledger.StoreError{Err: err}
	}
	want := g.expected(items)
	open := 0 // those of a chunk that is handed out again may be done in part
	for i := range want {
		if !g.book.Done(want[i].Key, want[i].Mark) {
			open++
		}
	}
	missing, err := g.book.TakeOver(from, want)
	from.Close()
	if err != nil {
		return err
	}
	for range open - len(missing) {
		g.done <- struct{}{}
	}
	if len(missing) > 0 {
		g.say(fmt.Sprintf("the results of a chunk were not whole; %d roofs are handed out again", len(missing)))
		if err := os.RemoveAll(g.folder.Ready(chunk)); err != nil {
			return &ledger.StoreError{Err: err}
		}
		of.short = 2
		return nil
	}
	g.mutex.Lock()
	delete(g.open, chunk)
	g.mutex.Unlock()
	if err := g.folder.Took(chunk); err != nil {
		return &ledger.StoreError{Err: err}
	}
	return nil
}

// expected returns what the record of a chunk may hold.
func (k *campusRun) expected(items []handout.Item) []ledger.Expected {
	out := make([]ledger.Expected, len(items))
	for i, item := range items {
		out[i] = ledger.Expected{Key: item.Key, Mark: item.Mark, Files: export.Names(item.Stem, k.output.Kinds, k.output.Split)}
	}
	return out
}

// look says when nobody works, and hands out again what the server has lost.
func (g *giver) look(ctx context.Context) error {
	left, workers, err := g.queue.Left(ctx, g.run)
	if err != nil || ctx.Err() != nil {
		return nil //nolint:nilerr // the connection says it
	}
	if !workers && time.Since(g.saidAt) > time.Minute {
		call.Note(g.Err, fmt.Sprintf("No worker is at work. On machines that see these folders: runnel worker --queue %s", g.address))
		g.saidAt = time.Now()
	}
	g.mutex.Lock()
	lost := map[int]*given{}
	for chunk, of := range g.open {
		if left < len(g.open) {
			of.short++
		} else {
			of.short = 0
		}
		if of.short >= 2 {
			lost[chunk] = of
		}
	}
	g.mutex.Unlock()
	for chunk, of := range lost {
		of.short = 0
		of.again++
		var broken *workqueue.Error
		if err := g.queue.Put(ctx, g.chunk(chunk, of.piece), of.again); errors.As(err, &broken) {
			return err
		}
	}
	return nil
}

// takeLeft takes what workers did for an earlier run with the same call.
func (g *giver) takeLeft(folder handout.Folder) {
	before := g.book.Roofs()
	chunks, _ := folder.Waiting()
	for _, chunk := range chunks {
		piece, err := folder.Piece(chunk)
		if err != nil {
			continue
		}
		items, err := folder.Read(piece)
		if err != nil {
			continue
		}
		from, err := ledger.Open(folder.Ready(chunk), "", g.signature())
		if err == nil {
			_, _ = g.book.TakeOver(from, g.expected(items)) // what is wanting is checked anew
			from.Close()
		}
	}
	if n := g.book.Roofs() - before; n > 0 {
		call.Note(g.Err, fmt.Sprintf("Workers had done %d roofs since.", n))
	}
}
