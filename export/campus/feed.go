package campus

import (
	"cmp"
	"errors"
	"io"
	"os"
	"sync"
	"sync/atomic"

	"runnel/export/layer"
	"runnel/export/staged"
)

// entry is a row in its order, with what several files say of it. Nobody changes it.
type entry struct {
	Row
	number  int            // from 1
	outline *layer.Outline // its properties are the number and the headline numbers
}

// Entries are handed on by so many, and so many such parts wait before a file at most.
const (
	entriesAtATime = 64
	partsAhead     = 4
)

// errNotAll ends a file where not all rows come.
var errNotAll = errors.New("not all rows came")

// feed hands entries to a file that is written beside others.
type feed struct {
	parts  chan []entry
	failed error
	broken any // of a panic
}

// files writes all files side by side, with the rows that each hands to its argument. The page for reading is printed when all else is written.
func (w *writer) files(page io.Writer, each Source) error {
	makers := w.makers()
	feeds := make([]feed, len(makers))
	var stop, whole atomic.Bool // a file cannot be written; all rows came
	var wait sync.WaitGroup
	for i := range makers {
		f := &feeds[i]
		f.parts = make(chan []entry, partsAhead)
		wait.Go(func() {
			defer func() {
				if f.broken = recover(); f.broken != nil || f.failed != nil {
					stop.Store(true)
				}
				for range f.parts { // whoever hands them out must not wait
				}
			}()
			f.failed = w.file(&makers[i], f.parts, &whole)
		})
	}
	last := newPage(page, w.total, w.Options)
	err := w.hand(each, feeds, last, &stop)
	whole.Store(err == nil)
	for i := range feeds {
		close(feeds[i].parts)
	}
	wait.Wait()
	for i := range feeds {
		if feeds[i].broken != nil {
			panic(feeds[i].broken)
		}
		if !errors.Is(feeds[i].failed, errNotAll) {
			err = cmp.Or(err, feeds[i].failed)
		}
	}
	if err != nil {
		for i := range makers { // of those that were whole
			_ = os.Remove(w.store.PathOfLast(makers[i].name))
		}
		return err
	}
	return last.end()
}

// hand hands the rows out to all feeds, and to the page.
func (w *writer) hand(each Source, feeds []feed, page *page, stop *atomic.Bool) error {
	var part []entry
	send := func() {
		for i := range feeds {
			feeds[i].parts <- part
		}
		part = nil
	}
	number := 0
	err := each(func(r *Row) error {
		if stop.Load() {
			return errNotAll
		}
		number++
		part = append(part, entry{*r, number, outline(r, number, w.Units)})
		page.row(r, number)
		if len(part) == entriesAtATime {
			send()
		}
		return nil
	})
	if errors.Is(err, errNotAll) {
		return nil // the file that stopped it says why
	}
	send()
	return err
}

// file writes one file with the entries that come.
func (w *writer) file(m *maker, parts <-chan []entry, whole *atomic.Bool) error {
	run := func(out io.Writer) error {
		s, err := m.make(out)
		if err != nil {
			return err
		}
		for part := range parts {
			for i := range part {
				if err = cmp.Or(err, s.row(&part[i])); err != nil {
					break
				}
			}
		}
		if err == nil && !whole.Load() {
			err = errNotAll
		}
		if err != nil {
			if p, ok := s.(*packed); ok {
				_ = p.Discard()
			}
			return err
		}
		return s.end()
	}
	if m.name == packageName { // it writes its file by itself
		return run(nil)
	}
	return w.store.AddLast(staged.Output{Name: m.name, Write: run})
}
