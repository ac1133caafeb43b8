//go:build unix

package surveyfile

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// A pipe without a writer, and one whose writer says nothing more, end with a message instead of waiting for ever.
func TestSilentPipes(t *testing.T) {
	defer func(usual time.Duration) { patience = usual }(patience)
	patience = 50 * time.Millisecond
	path := filepath.Join(t.TempDir(), "pipe.csv")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip(err)
	}
	_, _, rule, mend := Load(nil, path)
	if rule != errSilent.Error() || mend != "start what writes into it, or give a file" {
		t.Errorf("no writer: %q, %q", rule, mend)
	}
	w, err := os.OpenFile(path, os.O_RDWR, 0) // does not wait for a reader
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = w.Close() }()
	if _, err := w.WriteString("point,x,y,z\n1,2,"); err != nil {
		t.Fatal(err)
	}
	if _, _, rule, _ := Load(nil, path); rule != errSilent.Error() {
		t.Errorf("a writer that stops: %q", rule)
	}
}
