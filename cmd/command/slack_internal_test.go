package command

import (
	"runtime/debug"
	"testing"
)

// Memory is collected by the program's limits while it works, and by the former ones after that; GOGC, where it is set, wins.
func TestSlackEndsWithTheWork(t *testing.T) {
	now := func() int {
		percent := debug.SetGCPercent(100)
		debug.SetGCPercent(percent)
		return percent
	}
	before := now()
	for _, c := range []struct {
		gogc string
		want int
	}{{"", slackPercent}, {"70", before}} {
		t.Setenv("GOGC", c.gogc)
		end := slack()
		if got := now(); got != c.want {
			t.Errorf("GOGC %q: %d while it works, want %d", c.gogc, got, c.want)
		}
		if end(); now() != before {
			t.Errorf("GOGC %q: %d after it, was %d", c.gogc, now(), before)
		}
	}
}
