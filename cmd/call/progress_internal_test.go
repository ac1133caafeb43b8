package call

import (
	"bytes"
	"strings"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/study"
)

// Where a step that takes 8 of 57 parts took 8 s, the other 49 take 49 s; with files there are 89 more: 97 less 8. Of a bar of 20 that is 2.8, and
// 1.6: whole ones are drawn.
func TestTimeLeft(t *testing.T) {
	for files, want := range map[bool]string{false: "\r[##------------------] surface done, about 49 s left", true: "\r[#-------------------] surface done, about 89 s left"} {
		var out bytes.Buffer
		p := NewSurveyProgress(&out, func() float64 { return 8 }, files)
		p.Step("surface")
		if !strings.Contains(out.String(), want) {
			t.Errorf("files %v: %q, want %q", files, out.String(), want)
		}
		p.End()
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

// By hand: 20 roofs in 10 s are 2 a second; 100 roofs of which 30 were done before leave 50, which take 25 s. Of a stream of which a quarter was read
// in 10 s the rest takes 30 s. On no terminal a line comes each ten seconds, with its end.
func TestProgressOfACampus(t *testing.T) {
	now := 0.0
	for says, p := range map[string]*Progress{
		"50 of 100 roofs, 2 a second, about 25 s left": {Known: 100, Before: 30, Shown: true},
		"20 roofs, 2 a second, about 30 s left":        {Known: -1, Share: func() float64 { return 0.25 }, Shown: true},
		"20 roofs, 2 a second":                         {Known: -1, Share: func() float64 { return 0 }},
	} {
		var out bytes.Buffer
		p.Out, p.Clock = &out, func() float64 { return now }
		for i := range 20 {
			now = float64(i+1) / 2
			p.Step()
		}
		text := out.String()
		if !strings.Contains(text, says) || strings.Contains(text, "\n") == p.Shown {
			t.Errorf("%q, want %q", text, says)
		}
		if !p.Shown && strings.Count(text, "\n") != 1 {
			t.Errorf("%q is not one line in ten seconds", text)
		}
		if p.End(); p.Shown && !strings.HasSuffix(out.String(), "\r") {
			t.Errorf("%q stays on the terminal", out.String())
		}
	}
	for seconds, want := range map[float64]string{5: "5 s", 150: "2 min", 7000: "2 h"} {
		if got := sayTime(seconds); got != want {
			t.Errorf("%v s is %q", seconds, got)
		}
	}
}
