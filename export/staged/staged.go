// Package staged puts a set of files in their places together: all of them or none.
//
// A Set writes every file under a temporary name in the folder that it is for, and syncs it. Commit then keeps a second
// name of each file that will be replaced, notes in a journal what it is about to do, and renames. The set stands from
// the moment that the journal is gone: a rename that fails, a signal or a kill before that leaves what was there
// before, put back at once or, after a kill, by the next run that looks at the folder (Settle). No output takes the
// place of an input.
//
// All files of a set that are not in place are called .runnel-<process>-<number>, with an ending. The one without an
// ending is held locked while its process lives, and holds the journal.
package staged

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sync"
	"syscall"
	"time"
)

// Output is one file to write.
type Output struct {
	Name  string
	Write func(w io.Writer) error
}

// Target is where files go, and what they must not take the place of.
type Target struct {
	Dir       string
	Overwrite bool     // files that exist are replaced
	Inputs    []string // paths of the files that the run reads; those that are missing do not count
}

// ErrExists is wrapped by an error that says that a file stands in the way.
var ErrExists = errors.New("output exists")

// ErrHeld is wrapped by an error that says that another process holds a file.
var ErrHeld = errors.New("another process holds it")

// Set is a set of files that are whole, but not yet in their places. Commit puts them there, Discard takes them away.
// The zero Set is empty.
type Set struct {
	// Notes say what an earlier run had left in the folder, and what was done about it. They are whole sentences.
	Notes []string

	target Target
	inputs inputs
	id     string   // what the names of its files begin with
	run    *os.File // the file of that name, locked while the set is open

	mutex   sync.Mutex
	entries []entry
	folders []string // made for it, deepest first
}

// entry is one file of a set.
type entry struct {
	name      string // in the folder, once it is in its place
	temporary string // until then
	old       bool   // a file stands at name
	size      int64  // of the new file, with modified how it is known again
	modified  time.Time
}

// Begin opens a set for a folder, which is made where it is missing, and settles what killed runs left there.
func Begin(t Target) (*Set, error) {
	gate.RLock()
	defer gate.RUnlock()
	s := &Set{target: t, inputs: inputsOf(t.Inputs)}
	if err := s.open(); err != nil {
		s.remove()
		return nil, err
	}
	register(s)
	return s, nil
}

func (s *Set) open() error {
	if err := s.makeFolder(); err != nil {
		return fmt.Errorf("make the folder of the output: %w", err)
	}
	s.Notes = Settle(s.target.Dir)
	const tries = 100
	var err error
	for range tries {
		s.id = fmt.Sprintf("%s%d-%d", prefix, os.Getpid(), rand.Uint32()) //nolint:gosec // only a name
		if s.run, err = lockNew(s.path(s.id)); err == nil {
			return nil
		}
		if !errors.Is(err, fs.ErrExist) {
			break
		}
	}
	return fmt.Errorf("write into %s: %w", s.target.Dir, cause(err))
}

// cause strips names that the user does not know from an error.
func cause(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

func (s *Set) path(name string) string { return filepath.Join(s.target.Dir, name) }

// makeFolder makes the folder and those above it, and notes those that were missing.
func (s *Set) makeFolder() error {
	for d := filepath.Clean(s.target.Dir); ; d = filepath.Dir(d) {
		if _, err := os.Stat(d); !errors.Is(err, fs.ErrNotExist) {
			break
		}
		s.folders = append(s.folders, d)
	}
	if err := before("mkdir"); err != nil {
		return err
	}
	return os.MkdirAll(s.target.Dir, 0o755)
}

// Stage begins a set and adds outputs to it. On an error nothing is left behind.
func Stage(t Target, outputs []Output) (*Set, error) {
	s, err := Begin(t)
	if err != nil {
		return nil, err
	}
	if err := s.Add(outputs); err != nil {
		s.Discard()
		return nil, err
	}
	return s, nil
}

// Add writes outputs into the set. It may be called by several goroutines at once. Where one cannot be written, or
// panics, none of them is added. The error is an *InputError or wraps ErrExists where something stands in the way.
func (s *Set) Add(outputs []Output) error {
	for _, o := range outputs {
		if _, err := s.free(o.Name); err != nil {
			return err
		}
	}
	added := make([]entry, 0, len(outputs))
	whole := false
	defer func() {
		if !whole {
			s.drop(added)
		}
	}()
	for _, o := range outputs {
		f, err := s.begin(o.Name)
		if err != nil {
			return fmt.Errorf("write %s: %w", s.path(o.Name), cause(err))
		}
		added = append(added, entry{name: o.Name, temporary: filepath.Base(f.Name())})
		info, err := fill(f, o.Write)
		if err != nil {
			return fmt.Errorf("write %s: %w", s.path(o.Name), cause(err))
		}
		e := &added[len(added)-1]
		e.size, e.modified = info.Size(), info.ModTime()
	}
	whole = true
	s.mutex.Lock()
	defer s.mutex.Unlock()
	for _, e := range added {
		for i := range s.entries {
			if s.entries[i].temporary == e.temporary {
				s.entries[i] = e
			}
		}
	}
	return nil
}

// begin opens the temporary file of a name. It is a file of the set from now on, so that it is taken away with it.
func (s *Set) begin(name string) (*os.File, error) {
	gate.RLock()
	defer gate.RUnlock()
	s.mutex.Lock()
	defer s.mutex.Unlock()
	temporary := fmt.Sprintf("%s.%d", s.id, len(s.entries))
	if err := before("open"); err != nil {
		return nil, err
	}
	f, err := os.OpenFile(s.path(temporary), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err == nil {
		s.entries = append(s.entries, entry{name: name, temporary: temporary, size: -1})
	}
	return f, err
}

// Paths returns where the files of the set stand now, by the names that they will have.
func (s *Set) Paths() map[string]string {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	paths := map[string]string{}
	for _, e := range s.entries {
		if e.temporary != "" {
			paths[e.name] = s.path(e.temporary)
		}
	}
	return paths
}

// drop takes entries out of the set and their files away.
func (s *Set) drop(dropped []entry) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	for _, e := range dropped {
		_ = remove(s.path(e.temporary))
		for i := range s.entries {
			if s.entries[i].temporary == e.temporary {
				s.entries[i].temporary = "" // its number is used up
			}
		}
	}
}

func fill(f *os.File, write func(io.Writer) error) (info fs.FileInfo, err error) {
	open := true
	defer func() {
		if open { // write panicked
			_ = f.Close()
		}
	}()
	b := bufio.NewWriterSize(&checked{f}, 1<<16)
	err = write(b)
	if err == nil {
		err = b.Flush()
	}
	if err == nil {
		err = errors.Join(before("chmod"), f.Chmod(0o644))
	}
	if err == nil {
		err = sync1(f)
	}
	if err == nil {
		info, err = f.Stat()
	}
	open = false
	return info, errors.Join(err, before("close"), f.Close())
}

// checked is a file whose writes are seen by before.
type checked struct{ f *os.File }

func (c *checked) Write(b []byte) (int, error) {
	if err := before("write"); err != nil {
		return 0, err
	}
	return c.f.Write(b)
}

// free returns whether nothing stands at a name of the folder, and an error where something may not be replaced.
func (s *Set) free(name string) (bool, error) {
	if err := s.inputs.guard(s.target.Dir, placeOf(s.target.Dir), name); err != nil {
		return false, err
	}
	return free(s.path(name), s.target.Overwrite)
}

// Free returns an error where one of these names in the target's folder is taken: an *InputError where it is that of an
// input, else one that wraps ErrExists.
func Free(t Target, names []string) error {
	s := &Set{target: t, inputs: inputsOf(t.Inputs)}
	place := placeOf(t.Dir)
	for _, n := range names {
		if err := s.inputs.guard(t.Dir, place, n); err != nil {
			return err
		}
	}
	for _, n := range names {
		if _, err := free(s.path(n), t.Overwrite); err != nil {
			return err
		}
	}
	return nil
}

func free(path string, overwrite bool) (bool, error) {
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return true, nil
	case err != nil:
		return false, fmt.Errorf("look for %s: %w", path, cause(err))
	case !info.Mode().IsRegular():
		return false, fmt.Errorf("%s is not a file: %w", path, ErrExists)
	case !overwrite:
		return false, fmt.Errorf("%s: %w", path, ErrExists)
	}
	return false, nil
}

// Discard removes what the set wrote and the folders made for it, unless something else has come into them. After
// Commit it does nothing.
func (s *Set) Discard() {
	if s.run == nil {
		return
	}
	forget(s)
	s.remove()
}

// remove takes the files of the set away, the locked one last: as long as it stands they belong to a run that lives.
func (s *Set) remove() {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	for _, e := range s.entries {
		if e.temporary != "" {
			_ = remove(s.path(e.temporary))
		}
	}
	s.entries = nil
	if s.run != nil {
		_ = removeLocked(s.run, s.path(s.id))
		_ = s.run.Close()
		s.run = nil
	}
	for _, d := range s.folders {
		_ = os.Remove(d)
	}
	s.folders = nil
}
