//go:build unix

package command_test

import (
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"
)

// The greatest memory of the whole program, as DEVELOPERS.md and the README state it. The long form has a million spots.
func TestMemory(t *testing.T) {
	limits := []struct {
		spots int
		waves bool
		most  int64 // MiB
	}{{10_000, false, 64}}
	if os.Getenv("RUNNEL_LONG") != "" {
		limits = append(limits, limits[0], limits[0])
		limits[1].spots, limits[1].most = 1_000_000, 2048
		limits[2].spots, limits[2].waves, limits[2].most = 1_000_000, true, 5120
	}
	for _, l := range limits {
		dir := t.TempDir()
		outline, spots := bigSurvey(t, dir, l.spots, l.waves)
		c := called(t, "check", outline, spots, "-o", filepath.Join(dir, "out"), "--write", "geojson")
		if text, err := c.CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		used, ok := c.ProcessState.SysUsage().(*syscall.Rusage)
		if !ok {
			t.Fatal("the system does not say how much memory was used")
		}
		peak := used.Maxrss / 1024
		if runtime.GOOS == "darwin" {
			peak /= 1024 // which counts bytes
		}
		t.Logf("%d spots, waves %v: %d MiB", l.spots, l.waves, peak)
		if peak > l.most {
			t.Errorf("%d spots, waves %v: %d MiB, more than %d", l.spots, l.waves, peak, l.most)
		}
	}
}
