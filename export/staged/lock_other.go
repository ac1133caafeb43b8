//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd)

package staged

import (
	"errors"
	"io/fs"
	"os"
)

// lockNew makes the file of a set. A system that keeps open files from being removed thereby locks it.
func lockNew(path string) (*os.File, error) {
	if err := before("open"); err != nil {
		return nil, err
	}
	return os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
}

// lockDead opens the file of a set whose process has ended: where it lives, the file cannot be renamed.
func lockDead(path string) (f *os.File, dead bool) {
	aside := path + ".busy"
	err := os.Rename(path, aside)
	if err != nil {
		return nil, errors.Is(err, fs.ErrNotExist)
	}
	if err := os.Rename(aside, path); err != nil {
		return nil, false
	}
	f, err = os.OpenFile(path, os.O_RDWR, 0)
	return f, err == nil
}

// removeLocked removes the file of a set, which must not be open for that.
func removeLocked(f *os.File, path string) error {
	_ = f.Close()
	return remove(path)
}

// lockFolder does nothing here: two runs that replace the same files at once are not kept apart on this system.
func lockFolder(string) (unlock func()) { return func() {} }

// Hold opens the file at path, which is made where it is missing. A system that keeps open files from being renamed thereby
// locks it; the error is ErrHeld where another process has it.
func Hold(path string) (*os.File, error) {
	aside := path + ".busy"
	if err := os.Rename(path, aside); err == nil {
		if err := os.Rename(aside, path); err != nil {
			return nil, err
		}
	} else if !errors.Is(err, fs.ErrNotExist) {
		return nil, errors.Join(ErrHeld, err)
	}
	return os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
}
