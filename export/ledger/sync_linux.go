package ledger

import "golang.org/x/sys/unix"

// sync waits until all that was written is on the disk.
func (l *Ledger) sync() error { return unix.Syncfs(int(l.journal.Fd())) } //nolint:gosec // a file descriptor fits
