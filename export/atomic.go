package export

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"syscall"
)

// Output is one file to write.
type Output struct {
	Name  string
	Write func(w io.Writer) error
}

// Staged is a set of files that are whole, but still under temporary names. Commit puts them in their
// places, Discard takes them away.
type Staged struct {
	temporary, paths []string
	fresh            []bool   // no file stood at paths[i]
	folders          []string // made for it, deepest first
}

// Stage writes all outputs into dir, each under a temporary name beside its place; dir is made where it
// is missing. On an error nothing is left behind.
func Stage(dir string, outputs []Output, overwrite bool) (*Staged, error) {
	s := &Staged{}
	if err := s.stage(dir, outputs, overwrite); err != nil {
		s.Discard()
		return nil, err
	}
	return s, nil
}

func (s *Staged) stage(dir string, outputs []Output, overwrite bool) error {
	for _, o := range outputs {
		path := filepath.Join(dir, o.Name)
		fresh, err := free(path, overwrite)
		if err != nil {
			return err
		}
		s.paths, s.fresh = append(s.paths, path), append(s.fresh, fresh)
	}
	if err := s.makeFolder(dir); err != nil {
		return fmt.Errorf("make the folder of the output: %w", err)
	}
	for i, o := range outputs {
		if err := s.write(s.paths[i], o.Write); err != nil {
			return fmt.Errorf("write %s: %w", s.paths[i], err)
		}
	}
	return nil
}

// makeFolder makes dir and the folders above it, and notes those that were missing.
func (s *Staged) makeFolder(dir string) error {
	for d := filepath.Clean(dir); ; d = filepath.Dir(d) {
		if _, err := os.Stat(d); !errors.Is(err, fs.ErrNotExist) {
			break
		}
		s.folders = append(s.folders, d)
	}
	return os.MkdirAll(dir, 0o755)
}

// free returns an error where something stands in the way of path, and whether nothing stands there.
func free(path string, overwrite bool) (bool, error) {
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return true, nil
	case err != nil:
		return false, fmt.Errorf("look for %s: %w", path, err)
	case !info.Mode().IsRegular():
		return false, fmt.Errorf("%s is not a file: %w", path, ErrExists)
	case !overwrite:
		return false, fmt.Errorf("%s: %w", path, ErrExists)
	}
	return false, nil
}

// write writes one file beside path.
func (s *Staged) write(path string, write func(io.Writer) error) error {
	gate.RLock()
	f, err := os.CreateTemp(filepath.Dir(path), temporaryName())
	gate.RUnlock()
	if err != nil {
		return err
	}
	s.temporary = append(s.temporary, f.Name())
	b := bufio.NewWriterSize(f, 1<<16)
	err = write(b)
	if err == nil {
		err = b.Flush()
	}
	if err == nil {
		err = f.Chmod(0o644)
	}
	return errors.Join(err, f.Close())
}

// temporaryName is the pattern of this process's unfinished files.
func temporaryName() string { return fmt.Sprintf(".runnel-%d-*", os.Getpid()) }

// gate is passed by whoever begins a file; Halt shuts it.
var gate sync.RWMutex

// Halt keeps every goroutine from beginning another file, for good: a process that is about to end calls it
// before Sweep, so that nothing comes after.
func Halt() { gate.Lock() }

// Sweep removes this process's unfinished files from dir, for a run that is cut short.
func Sweep(dir string) {
	left, _ := filepath.Glob(filepath.Join(dir, temporaryName())) // the pattern is well formed
	for _, path := range left {
		_ = os.Remove(path)
	}
}

// Commit gives every file its own name and returns the names. Where one cannot have it, those that did
// not exist before are taken away again.
func (s *Staged) Commit() ([]string, error) {
	for i := range s.temporary {
		if err := os.Rename(s.temporary[i], s.paths[i]); err != nil {
			for k := range s.paths[:i] {
				if s.fresh[k] {
					_ = os.Remove(s.paths[k])
				}
			}
			s.Discard()
			return nil, fmt.Errorf("write %s: %w", s.paths[i], err)
		}
	}
	return s.paths, nil
}

// Discard removes what Stage wrote and the folders it made, unless something else has come into them.
func (s *Staged) Discard() {
	for _, t := range s.temporary {
		_ = os.Remove(t)
	}
	for _, d := range s.folders {
		_ = os.Remove(d)
	}
}
