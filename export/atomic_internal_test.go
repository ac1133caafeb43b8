package export

import (
	"io"
	"os"
	"testing"
	"time"
)

// An interrupted batch sweeps while its other workers go on; none may begin a file after that.
func TestNoFileBeginsAfterHalt(t *testing.T) {
	dir := t.TempDir()
	Halt()
	done := make(chan error)
	go func() {
		_, err := Stage(dir, []Output{{Name: "a", Write: func(io.Writer) error { return nil }}}, false)
		done <- err
	}()
	select {
	case err := <-done:
		t.Errorf("a file was begun: %v", err)
	case <-time.After(50 * time.Millisecond):
	}
	Sweep(dir)
	if left, err := os.ReadDir(dir); err != nil || len(left) != 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
	gate.Unlock()
	if err := <-done; err != nil {
		t.Errorf("after the gate opened again: %v", err)
	}
}
