package ledger

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"path/filepath"

	"runnel/export/staged"
)

// Add writes the files of a roof and says that it is done. The error is a *StoreError where the folder cannot be written;
// any other is the roof's own, and the roof is not done. Files that a panic leaves behind are written again or removed.
func (l *Ledger) Add(key, mark uint64, row any, outputs []staged.Output) error {
	e := line{Key: key, Mark: mark}
	for _, o := range outputs {
		size, err := l.write(roofFolder, o)
		if err != nil {
			l.drop(e.Files)
			return err
		}
		e.Files = append(e.Files, file{o.Name, size})
	}
	var err error
	if e.Row, err = json.Marshal(row); err != nil {
		l.drop(e.Files)
		return fmt.Errorf("write down the row: %w", err)
	}
	return l.note(&e)
}

// note adds the line of a roof whose files are in the folder: from now on it is done.
func (l *Ledger) note(e *line) error {
	text, err := json.Marshal(e)
	if err != nil {
		return fmt.Errorf("write down the row: %w", err)
	}
	l.mutex.Lock()
	defer l.mutex.Unlock()
	at := l.size
	if err := l.append(string(text)); err != nil {
		return err
	}
	l.done[e.Key] = entry{mark: e.Mark, at: at, seen: true}
	return nil
}

// AddLast writes a file of the whole.
func (l *Ledger) AddLast(o staged.Output) error {
	_, err := l.write(lastFolder, o)
	return err
}

// Scratch makes a file for what is sorted, which goes when it is closed or the run ends.
func (l *Ledger) Scratch() (*os.File, error) {
	f, err := os.CreateTemp(l.work, "sort-")
	if err != nil {
		return nil, &StoreError{fmt.Errorf("write into %s: %w", l.work, cause(err))}
	}
	return f, nil
}

// PathOfLast returns where a file of the whole stands until Place.
func (l *Ledger) PathOfLast(name string) string { return filepath.Join(l.work, lastFolder, name) }

func (l *Ledger) drop(files []file) {
	for _, f := range files {
		_ = os.Remove(filepath.Join(l.work, roofFolder, f.Name))
	}
}

// write writes one file and returns its size. What is left of it on an error is removed.
func (l *Ledger) write(folder string, o staged.Output) (size int64, err error) {
	path := filepath.Join(l.work, folder, o.Name)
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o644) //nolint:gosec // results are for others to read
	if err != nil {
		return 0, &StoreError{fmt.Errorf("write %s: %w", filepath.Join(l.dir, o.Name), cause(err))}
	}
	whole := false
	defer func() {
		if !whole {
			_ = f.Close()
			_ = os.Remove(path)
		}
	}()
	out := &store{f: f}
	b := bufio.NewWriterSize(out, 1<<16)
	err = o.Write(b)
	if err == nil {
		err = b.Flush()
	}
	if err = errors.Join(out.err, err); err == nil {
		if out.err = f.Close(); out.err == nil {
			whole = true
			return out.size, nil
		}
	}
	if out.err != nil {
		return 0, &StoreError{fmt.Errorf("write %s: %w", filepath.Join(l.dir, o.Name), cause(out.err))}
	}
	return 0, err
}

// store is a file that remembers how writing to it failed.
type store struct {
	f    io.Writer
	size int64
	err  error
}

func (s *store) Write(b []byte) (int, error) {
	n, err := s.f.Write(b)
	s.size += int64(n)
	if err != nil {
		s.err = err
	}
	return n, err
}

// Paths hands out the files that Place moves, by their names.
func (l *Ledger) Paths() iter.Seq2[string, string] {
	return func(yield func(name, path string) bool) {
		for _, folder := range []string{roofFolder, lastFolder} {
			names, err := namesIn(l.path(folder), -1)
			if err != nil {
				return
			}
			for _, name := range names {
				if !yield(name, filepath.Join(l.work, folder, name)) {
					return
				}
			}
		}
	}
}

// Place moves all files to their places, where they replace what stands there, and ends the record.
func (l *Ledger) Place() error {
	if err := l.sync(); err != nil {
		return &StoreError{fmt.Errorf("write into %s: %w", l.dir, cause(err))}
	}
	if !l.Moving {
		if err := l.append(placing); err != nil {
			return err
		}
		if err := l.journal.Sync(); err != nil {
			return &StoreError{err}
		}
		l.Moving = true
	}
	if err := l.move(); err != nil {
		return err
	}
	l.removeWork()
	l.Close()
	return nil
}

// atOnce is how many files of a folder are listed at once.
const atOnce = 4096

// move moves the files of the roofs, and then those of the whole.
func (l *Ledger) move() error {
	for _, folder := range []string{roofFolder, lastFolder} {
		for {
			names, err := namesIn(l.path(folder), atOnce)
			if err != nil {
				return &StoreError{err}
			}
			if len(names) == 0 {
				break
			}
			for _, name := range names {
				if err := os.Rename(filepath.Join(l.work, folder, name), filepath.Join(l.dir, name)); err != nil {
					return &StoreError{err}
				}
			}
		}
	}
	return nil
}

// namesIn returns up to most names of a folder, all where most is negative.
func namesIn(folder string, most int) ([]string, error) {
	f, err := os.Open(folder)
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }()
	names, err := f.Readdirnames(most)
	if errors.Is(err, io.EOF) {
		err = nil
	}
	return names, err
}
