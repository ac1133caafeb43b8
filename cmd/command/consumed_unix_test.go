//go:build unix

package command_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// outputOf runs a call and returns what it writes and the greatest memory that it had [MB], 0 where the system does not say. What wait tells of a process counts
// the memory of the one that started it, too: so this looks again and again until the process ends.
func outputOf(c *exec.Cmd) (text string, most int64, err error) {
	var out bytes.Buffer
	c.Stdout, c.Stderr = &out, &out
	if err := c.Start(); err != nil {
		return "", 0, err
	}
	ended, told := make(chan struct{}), make(chan int64)
	go func() {
		var kilobytes int64
		for {
			if status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", c.Process.Pid)); err == nil {
				if _, peak, ok := strings.Cut(string(status), "VmHWM:"); ok {
					_, _ = fmt.Sscan(peak, &kilobytes) // it only grows; what cannot be read leaves the last
				}
			}
			select {
			case <-ended:
				told <- kilobytes >> 10
				return
			case <-time.After(2 * time.Millisecond):
			}
		}
	}()
	err = c.Wait()
	close(ended)
	return out.String(), <-told, err
}

// consumed logs speed and memory of a call that has ended; most is its memory [MB].
func consumed(t *testing.T, what string, roofs int, took time.Duration, most int64, p *os.ProcessState) {
	t.Helper()
	used := p.UserTime() + p.SystemTime()
	if most > 200 {
		t.Errorf("%s took %d MB", what, most)
	}
	t.Logf("%s: %.0f roofs/s, %.2f ms of CPU a roof, %d MB", what, float64(roofs)/took.Seconds(), used.Seconds()*1000/float64(roofs), most)
}
