package command_test

import (
	"path/filepath"
	"strings"
	"testing"
)

// The bench mark of the set-out sheet is an outlet or a spot that exists; without the sheet the flag is refused.
func TestBenchMarkFlag(t *testing.T) {
	dir := t.TempDir()
	in := file(t, dir, "slab.geojson", slab)
	for i, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"--write", "setout", "--bench-mark", "2"}, 0, "slab.setout.pdf"},
		{[]string{"--write", "setout", "--bench-mark", "none"}, 2, `bench mark "none"`},
		{[]string{"--write", "json", "--bench-mark", "2"}, 2, "--bench-mark"},
	} {
		out := filepath.Join(dir, string(rune('a'+i)))
		code, _, err := run(t, append([]string{"check", in, "-o", out}, c.args...)...)
		if code != c.code || !strings.Contains(err, c.says) {
			t.Errorf("%q: exit %d, %q", c.args, code, err)
		}
	}
	if code, _, err := run(t, "check", in, "--bench-mark", "2"); code != 2 || !strings.Contains(err, "-o FOLDER") {
		t.Errorf("without a folder: exit %d, %q", code, err)
	}
}
