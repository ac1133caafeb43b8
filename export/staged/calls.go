package staged

import (
	"errors"
	"os"
	"slices"
	"syscall"
)

// before is called ahead of each call that changes a folder or a file, with its name. Tests have the call fail there, or
// end the process.
var before = func(string) error { return nil }

func remove(path string) error {
	if err := before("remove"); err != nil {
		return err
	}
	return os.Remove(path)
}

func rename(from, to string) error {
	if err := before("rename"); err != nil {
		return err
	}
	return os.Rename(from, to)
}

func link(from, to string) error {
	if err := before("link"); err != nil {
		return err
	}
	return os.Link(from, to)
}

// sync1 brings one file to the disk.
func sync1(f *os.File) error {
	if err := before("sync"); err != nil {
		return err
	}
	if err := f.Sync(); err != nil && !unsupported(err) {
		return err
	}
	return nil
}

// syncFolder brings the names in a folder to the disk, where the system can.
func syncFolder(dir string) error {
	if err := before("sync folder"); err != nil {
		return err
	}
	f, err := os.Open(dir)
	if err != nil {
		return nil //nolint:nilerr // a folder that may be written but not read
	}
	defer func() { _ = f.Close() }()
	if err := f.Sync(); errors.Is(err, syscall.EIO) {
		return err
	}
	return nil
}

// unsupported reports whether an error says that a file system cannot do this at all.
func unsupported(err error) bool {
	return slices.ContainsFunc([]error{errors.ErrUnsupported, syscall.EPERM, syscall.EINVAL, syscall.EMLINK, syscall.EXDEV}, func(e error) bool {
		return errors.Is(err, e)
	})
}
