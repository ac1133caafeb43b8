package command

import (
	"bytes"
	"strings"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/study"
)

// Where a step that takes 8 of 57 parts took 8 s, the other 49 take 49 s; with files there are 89 more: 97 less 8.
func TestTimeLeft(t *testing.T) {
	for files, want := range map[bool]string{false: "surface done, about 49 s left", true: "surface done, about 89 s left"} {
		var out bytes.Buffer
		p := newSurveyProgress(&out, func() float64 { return 8 }, files)
		p.step("surface")
		if !strings.Contains(out.String(), want) {
			t.Errorf("files %v: %q, want %q", files, out.String(), want)
		}
		p.end()
		if !strings.HasSuffix(out.String(), "\r") || strings.Contains(out.String(), "\n") {
			t.Errorf("%q stays on the terminal", out.String())
		}
	}
}

// A study tells of every step that has a share, in order, and of none twice.
func TestStudyTellsItsSteps(t *testing.T) {
	var steps []string
	if _, err := study.Run(shape.Plane(10, 8, 0.03, 4), study.Options{Step: func(name string) { steps = append(steps, name) }}); err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(steps, " "); got != "surface slope ponds flow water storm" {
		t.Errorf("steps %q", got)
	}
	for name := range shares {
		if name != "write" && !strings.Contains(strings.Join(steps, " "), name) {
			t.Errorf("no step %s", name)
		}
	}
}
