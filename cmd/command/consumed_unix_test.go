//go:build unix

package command_test

import (
	"os"
	"syscall"
	"testing"
	"time"
)

// consumed logs speed and memory of a process that has ended.
func consumed(t *testing.T, what string, roofs int, took time.Duration, p *os.ProcessState) {
	t.Helper()
	used := p.UserTime() + p.SystemTime()
	most := int64(0)
	if usage, ok := p.SysUsage().(*syscall.Rusage); ok {
		most = usage.Maxrss >> 10 // KB on Linux
	}
	if most > 200 {
		t.Errorf("%s took %d MB", what, most)
	}
	t.Logf("%s: %.0f roofs/s, %.2f ms of CPU a roof, %d MB", what, float64(roofs)/took.Seconds(), used.Seconds()*1000/float64(roofs), most)
}
