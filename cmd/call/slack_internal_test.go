package call

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
		gogc        string
		want, tight int
	}{{"", slackPercent, tightPercent}, {"70", before, before}} {
		t.Setenv("GOGC", c.gogc)
		end := Slack()
		if got := now(); got != c.want {
			t.Errorf("GOGC %q: %d while it works, want %d", c.gogc, got, c.want)
		}
		if Tighten(heavyRoof - 1); now() != c.want {
			t.Errorf("GOGC %q: %d with few spots, want %d", c.gogc, now(), c.want)
		}
		if Tighten(heavyRoof); now() != min(c.want, c.tight) {
			t.Errorf("GOGC %q: %d with many spots, want %d", c.gogc, now(), c.tight)
		}
		if end(); now() != before {
			t.Errorf("GOGC %q: %d after it, was %d", c.gogc, now(), before)
		}
	}
}
