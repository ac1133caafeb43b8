package campus

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
)

// Sizes of the sort: rows that are held, and files that are merged at once. Held rows take some 2 KB each.
const (
	mostHeld   = 4096
	mostMerged = 64
)

// Sorter puts any number of rows in order. Parts of some thousand rows are sorted in memory and kept on the disk, and merged in the end.
type Sorter struct {
	compare func(a, b *Row) int
	scratch func() (*os.File, error)
	held    []Row
	runs    []*os.File
	size    int // rows that are held
}

// NewSorter returns a sorter by rank; scratch makes files for the parts, which the sorter removes.
func NewSorter(rank Rank, scratch func() (*os.File, error)) *Sorter {
	return &Sorter{compare: rank.rows(), scratch: scratch, size: mostHeld}
}

// take adds all rows, and returns what they have in common.
func (s *Sorter) take(rows Source) (*Total, error) {
	total := &Total{}
	err := rows(func(r *Row) error {
		total.add(r)
		return s.Add(*r)
	})
	if err != nil {
		return nil, err
	}
	return total, nil
}

// Add adds a row.
func (s *Sorter) Add(r Row) error {
	s.held = append(s.held, r)
	if len(s.held) < s.size {
		return nil
	}
	return s.spill()
}

// spill writes the rows that are held to a file, sorted.
func (s *Sorter) spill() error {
	s.sortHeld()
	f, err := s.keep(func(take func(*Row) error) error {
		for i := range s.held {
			if err := take(&s.held[i]); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	s.held = s.held[:0]
	s.runs = append(s.runs, f)
	if len(s.runs) < mostMerged {
		return nil
	}
	runs := s.runs
	merged, err := s.keep(func(take func(*Row) error) error { return s.merge(runs, take) })
	if err != nil {
		return err
	}
	for _, f := range runs {
		discard(f)
	}
	s.runs = []*os.File{merged}
	return nil
}

func (s *Sorter) sortHeld() { slices.SortFunc(s.held, func(a, b Row) int { return s.compare(&a, &b) }) }

// keep writes rows to a file of its own.
func (s *Sorter) keep(each func(take func(*Row) error) error) (*os.File, error) {
	f, err := s.scratch()
	if err != nil {
		return nil, err
	}
	out := bufio.NewWriterSize(f, 1<<16)
	err = each(func(r *Row) error {
		text, err := json.Marshal(r)
		if err != nil {
			return err
		}
		_, err = out.Write(append(text, '\n'))
		return err
	})
	if err = errors.Join(err, out.Flush()); err != nil {
		discard(f)
		return nil, fmt.Errorf("sort the rows: %w", err)
	}
	return f, nil
}

// Each hands the rows to take in order, and removes what was kept. An error of take ends it.
func (s *Sorter) Each(take func(*Row) error) error {
	defer s.discard()
	s.sortHeld()
	if len(s.runs) == 0 {
		for i := range s.held {
			if err := take(&s.held[i]); err != nil {
				return err
			}
		}
		return nil
	}
	if len(s.held) > 0 {
		if err := s.spill(); err != nil {
			return err
		}
	}
	return s.merge(s.runs, take)
}

// discard removes what was kept.
func (s *Sorter) discard() {
	for _, f := range s.runs {
		discard(f)
	}
	s.runs, s.held = nil, nil
}

func discard(f *os.File) { _, _ = f.Close(), os.Remove(f.Name()) }

// run is a file of rows in order, and the first that was not taken.
type run struct {
	in   *bufio.Reader
	next Row
	done bool
}

func (r *run) read() error {
	text, err := r.in.ReadBytes('\n')
	if errors.Is(err, io.EOF) && len(text) == 0 {
		r.done = true
		return nil
	}
	if err != nil {
		return fmt.Errorf("sort the rows: %w", err)
	}
	r.next, err = ParseRow(text)
	return err
}

// merge hands the rows of several files to take in order.
func (s *Sorter) merge(files []*os.File, take func(*Row) error) error {
	runs := make([]run, len(files))
	for i, f := range files {
		runs[i].in = bufio.NewReaderSize(io.NewSectionReader(f, 0, 1<<62), 1<<16)
		if err := runs[i].read(); err != nil {
			return err
		}
	}
	for {
		first := -1
		for i := range runs {
			if !runs[i].done && (first < 0 || s.compare(&runs[i].next, &runs[first].next) < 0) {
				first = i
			}
		}
		if first < 0 {
			return nil
		}
		if err := take(&runs[first].next); err != nil {
			return err
		}
		if err := runs[first].read(); err != nil {
			return err
		}
	}
}
