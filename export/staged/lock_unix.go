//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package staged

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// flock locks an open file; a signal that comes meanwhile does not count.
func flock(f *os.File, how int) error {
	for {
		err := syscall.Flock(int(f.Fd()), how) //nolint:gosec // a file descriptor fits
		if !errors.Is(err, syscall.EINTR) {
			return err
		}
	}
}

// lockNew makes the file of a set and locks it for as long as it stays open. The error is fs.ErrExist where another run
// has it. A file system without locks does without.
func lockNew(path string) (*os.File, error) {
	if err := before("open"); err != nil {
		return nil, err
	}
	return locked(path, os.O_EXCL, fs.ErrExist) // not locked: it was taken for a leftover and is being removed
}

// locked opens the file at path, makes it where it is missing, and locks it for as long as it stays open; the error is held where another
// process has it.
func locked(path string, flags int, held error) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|flags, 0o600)
	if err != nil {
		return nil, err
	}
	if err := flock(f, syscall.LOCK_EX|syscall.LOCK_NB); errors.Is(err, syscall.EWOULDBLOCK) || !same(f, path) {
		return nil, errors.Join(held, f.Close())
	}
	return f, nil
}

// lockDead locks the file of a set whose process has ended. dead is false where it lives, or where that cannot be
// told; where no file is left of the set, f is nil.
func lockDead(path string) (f *os.File, dead bool) {
	f, err := os.OpenFile(path, os.O_RDWR|syscall.O_NOFOLLOW, 0)
	if err != nil {
		return nil, errors.Is(err, fs.ErrNotExist)
	}
	if flock(f, syscall.LOCK_EX|syscall.LOCK_NB) != nil || !same(f, path) {
		_ = f.Close()
		return nil, false
	}
	return f, true
}

// same reports whether an open file is still the one at path.
func same(f *os.File, path string) bool {
	mine, err := f.Stat()
	if err != nil {
		return false
	}
	there, err := os.Lstat(path)
	return err == nil && os.SameFile(mine, there)
}

// removeLocked removes the file of a set while it is open.
func removeLocked(_ *os.File, path string) error { return remove(path) }

// lockFolder keeps other runs from placing files in dir until the function that it returns is called. A file system
// without locks does without.
func lockFolder(dir string) (unlock func()) {
	f, err := os.Open(dir)
	if err != nil {
		return func() {}
	}
	_ = flock(f, syscall.LOCK_EX)
	return func() { _ = f.Close() }
}

// Hold opens the file at path, which is made where it is missing, and locks it for as long as it stays open. The error is
// ErrHeld where another process has it. A file system without locks does without.
func Hold(path string) (*os.File, error) { return locked(path, 0, ErrHeld) }
