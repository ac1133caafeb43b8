// Package ledger keeps what a run over many roofs has done, so that one that was killed goes on where it stopped.
//
// A run works in a folder of its own within that of its output, ".runnel-campus". The files of a roof are written there;
// then one line of the journal says that the roof is done: its key, a mark of its input, its files with their sizes, its
// row. A roof counts as done where its line is whole (a checksum begins it), its input bears the same mark and its files
// have those sizes; a line that a kill cut off is taken off again, and that roof is done anew. When all are done, the files
// are on the disk and the journal says "placing", they move to their places; a run that is killed meanwhile goes on
// moving. So the folder of the output holds either what was there before, or all files of the run once it, or the next
// one, has ended.
//
// The journal is only ever added to, in the order in which roofs are done. Memory grows by some 32 bytes a roof.
package ledger

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"

	"runnel/export/staged"
)

// Prefix begins the names of the folders in which runs work.
const Prefix = ".runnel-campus"

// Names within such a folder.
const (
	lockName    = "lock"
	journalName = "journal"
	roofFolder  = "files" // of the roofs
	lastFolder  = "last"  // of the whole, placed last
)

// ErrBusy is wrapped by the error of Open where another run works in the folder.
var ErrBusy = errors.New("another run is at work")

// Ledger is the record of one run. Its methods may be called by several goroutines at once, but for Rows, Place, Close and Discard.
type Ledger struct {
	Before int    // roofs that an earlier run had done
	Note   string // what an earlier run had left, a whole sentence; empty for nothing
	Moving bool   // an earlier run had begun to move files to their places

	dir, work string
	made      []string // folders that were made for it, deepest first
	lock      *os.File
	journal   *os.File
	err       error // of the store: nothing more is added after it

	mutex sync.Mutex
	size  int64 // of the journal
	done  map[uint64]entry
	told  int // roofs that were done when Forget let go of done; 0 before
}

// entry is where the journal says of a roof that it is done.
type entry struct {
	mark uint64
	at   int64
	seen bool // the roof is one of this run's
}

// StoreError says that the folder of the output cannot be written: no roof's fault.
type StoreError struct{ Err error }

// Error names the file and what is wrong.
func (e *StoreError) Error() string { return e.Err.Error() }

// Unwrap returns the cause.
func (e *StoreError) Unwrap() error { return e.Err }

// Open opens the record of a run whose files go to dir; name tells apart the runs that may be at work there at once, and
// is empty where there is only one. call is what the run was called with: the record of another call is thrown away.
// The error wraps ErrBusy where a run of this name is at work.
func Open(dir, name, call string) (*Ledger, error) {
	l := &Ledger{dir: dir, work: filepath.Join(dir, Prefix+name), done: map[uint64]entry{}}
	if err := l.open(call); err != nil {
		l.Close()
		l.removeMade()
		return nil, err
	}
	return l, nil
}

func (l *Ledger) open(call string) error {
	if err := l.makeFolders(); err != nil {
		return fmt.Errorf("make the folder of the output: %w", err)
	}
	var err error
	if l.lock, err = staged.Hold(filepath.Join(l.work, lockName)); err != nil {
		l.made = nil
		if errors.Is(err, staged.ErrHeld) {
			return fmt.Errorf("%s: %w in this folder; let it end, or write into another one", l.dir, ErrBusy)
		}
		return fmt.Errorf("write into %s: %w", l.dir, err)
	}
	if l.journal, err = os.OpenFile(l.path(journalName), os.O_RDWR|os.O_CREATE, 0o600); err != nil {
		return fmt.Errorf("write into %s: %w", l.dir, err)
	}
	same, err := l.load(call)
	if err != nil {
		return fmt.Errorf("read %s: %w", l.path(journalName), err)
	}
	if same {
		return l.sweep()
	}
	return l.begin(call)
}

// begin throws away what an earlier run left, and begins the journal.
func (l *Ledger) begin(call string) error {
	if l.Before > 0 {
		roofs := "1 roof"
		if l.Before > 1 {
			roofs = fmt.Sprint(l.Before, " roofs")
		}
		l.Note = fmt.Sprintf("%s: an earlier run with other flags, over other files or of another version had stopped here after %s; this one begins anew.", l.dir, roofs)
	}
	if l.Moving {
		if err := l.move(); err != nil {
			return err
		}
		l.Note = l.dir + ": an earlier run had been stopped while its files moved to their places; they are all there now."
	}
	l.Before, l.Moving, l.done, l.size = 0, false, map[uint64]entry{}, 0
	for _, folder := range []string{roofFolder, lastFolder} {
		if err := os.RemoveAll(l.path(folder)); err != nil {
			return &StoreError{err}
		}
		if err := os.MkdirAll(l.path(folder), 0o755); err != nil {
			return &StoreError{err}
		}
	}
	if err := l.journal.Truncate(0); err != nil {
		return &StoreError{err}
	}
	return l.append(call)
}

func (l *Ledger) path(name string) string { return filepath.Join(l.work, name) }

// makeFolders makes the folders of the run, and notes those that were missing above them.
func (l *Ledger) makeFolders() error {
	for d := filepath.Clean(l.dir); ; d = filepath.Dir(d) {
		if _, err := os.Stat(d); !errors.Is(err, fs.ErrNotExist) {
			break
		}
		l.made = append(l.made, d)
	}
	for _, folder := range []string{roofFolder, lastFolder} {
		if err := os.MkdirAll(l.path(folder), 0o755); err != nil {
			return err
		}
	}
	return nil
}

// Done reports whether the roof of that key, of an input with that mark, is done.
func (l *Ledger) Done(key, mark uint64) bool {
	l.mutex.Lock()
	defer l.mutex.Unlock()
	e, ok := l.done[key]
	if !ok {
		return false
	}
	e.seen = e.mark == mark
	l.done[key] = e
	return e.seen
}

// Roofs is how many roofs are done.
func (l *Ledger) Roofs() int {
	l.mutex.Lock()
	defer l.mutex.Unlock()
	return len(l.done) + l.told
}

// Forget lets go of where each roof stands in the journal, once Rows has read it: what is made of the rows needs the memory. After it only AddLast, Roofs, Place, Close and
// Discard may be called.
func (l *Ledger) Forget() {
	l.mutex.Lock()
	defer l.mutex.Unlock()
	l.told, l.done = len(l.done)+l.told, nil
}

// Left reports whether the folder of the output holds anything but the work of this run and others.
func Left(dir string) (bool, error) {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	for _, e := range entries {
		if len(e.Name()) < len(Prefix) || e.Name()[:len(Prefix)] != Prefix {
			return true, err
		}
	}
	return false, err
}

// Close ends the record; what was done stays for the next run.
func (l *Ledger) Close() {
	if l.journal != nil {
		_ = l.journal.Close()
	}
	if l.lock != nil {
		_ = l.lock.Close()
	}
	l.journal, l.lock = nil, nil
}

// Discard takes away what the run has written, and the folders made for it unless something else has come into them.
func (l *Ledger) Discard() {
	if l.lock == nil {
		return
	}
	l.removeWork()
	l.Close()
	l.removeMade()
}

func (l *Ledger) removeMade() {
	for _, d := range l.made {
		_ = os.Remove(d)
	}
}

// removeWork removes the folder of the run; the lock goes last, so that it is held as long as anything is left.
func (l *Ledger) removeWork() {
	for _, name := range []string{roofFolder, lastFolder, journalName} {
		_ = os.RemoveAll(l.path(name))
	}
	_ = os.RemoveAll(l.work)
}
