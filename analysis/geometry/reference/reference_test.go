package reference_test

import (
	"testing"

	"runnel/analysis/geometry/reference"
)

// witness is a test that notes how it ended.
type witness struct {
	testing.TB
	ended string
}

func (w *witness) Helper() {}

func (w *witness) Fatalf(string, ...any) { w.ended = "failed"; panic(w) }

func (w *witness) Skipf(string, ...any) { w.ended = "skipped"; panic(w) }

// A test whose program is not there is skipped, unless all are asked for; one whose program refuses what it gets fails.
func TestHowACallEnds(t *testing.T) {
	for _, c := range []struct {
		references, program string
		arguments           []string
		want                string
	}{
		{"", "true", nil, ""},
		{"", "false", nil, "failed"},
		{"", "no-such-program", nil, "skipped"},
		{"", "/no/such/program", nil, "skipped"},
		{"1", "no-such-program", nil, "failed"},
		{"1", "false", nil, "failed"},
		{"", "sh", []string{"-c", "echo ModuleNotFoundError: numpy >&2; exit 1"}, "skipped"},
		{"", "sh", []string{"-c", "echo ValueError >&2; exit 1"}, "failed"},
	} {
		t.Setenv("RUNNEL_REFERENCES", c.references)
		w := &witness{TB: t}
		func() {
			defer func() {
				if v := recover(); v != nil && v != any(w) {
					t.Errorf("%s: %v", c.program, v)
				}
			}()
			reference.Run(w, "some-package", nil, c.program, c.arguments...)
		}()
		if w.ended != c.want {
			t.Errorf("%s %v with RUNNEL_REFERENCES=%q ended %q, want %q", c.program, c.arguments, c.references, w.ended, c.want)
		}
	}
}
