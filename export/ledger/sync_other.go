//go:build !linux

package ledger

import "os"

// sync waits until all that was written is on the disk.
func (l *Ledger) sync() error {
	for _, path := range l.Paths() {
		f, err := os.OpenFile(path, os.O_RDWR, 0)
		if err != nil {
			return err
		}
		err = f.Sync()
		if err != nil {
			_ = f.Close()
			return err
		}
		if err := f.Close(); err != nil {
			return err
		}
	}
	return nil
}
