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
	for seconds, want := range map[float64]string{0: "0 s", 5: "5 s", 89.4: "89 s", 90: "2 min", 150: "2 min", 89*60 + 59: "90 min", 90 * 60: "2 h", 7000: "2 h", 100 * 3600: "100 h"} {
		if got := sayTime(seconds); got != want {
			t.Errorf("%v s is %q", seconds, got)
		}
	}
}

// At the end nothing is left, and that is not said; nor is a speed in the first second, or where all that is done was done before.
func TestProgressSaysNothingThatItCannotKnow(t *testing.T) {
	for _, c := range []struct {
		known, before, done int
		now                 float64
		says                string
	}{
		{20, 0, 20, 10, "20 of 20 roofs, 2 a second"},
		{20, 0, 19, 10, "19 of 20 roofs, 1.9 a second, about 1 s left"}, // 10 s for 19: 0.5 s
		{20, 0, 1, 10, "1 of 20 roofs, 0.1 a second, about 3 min left"}, // 190 s
		{20, 0, 5, 0.99, "5 of 20 roofs"},
		{20, 0, 5, 1, "5 of 20 roofs, 5 a second, about 3 s left"},
		{20, 5, 0, 10, "5 of 20 roofs"},
		{0, 0, 0, 10, "0 of 0 roofs"},
	} {
		p := &Progress{Known: c.known, Before: c.before, done: c.done}
		if got := p.text(c.now); got != c.says {
			t.Errorf("%+v: %q, want %q", c, got, c.says)
		}
	}
}

// On a terminal a line comes ten times a second at most, and at the end in any case; a shorter line covers all of the one before. Elsewhere a line comes each ten seconds.
func TestHowOftenProgressIsTold(t *testing.T) {
	now := 0.0
	var out bytes.Buffer
	p := &Progress{Out: &out, Known: 1000, Shown: true, Clock: func() float64 { return now }}
	told := func() string { text := out.String(); out.Reset(); return text }
	steps := []struct {
		at   float64
		want string
	}{
		{0.5, "\r1 of 1000 roofs"},
		{0.59, ""},
		{0.61, "\r3 of 1000 roofs"},
		{2, "\r4 of 1000 roofs, 2 a second, about 8 min left"}, // half a second each: 996 roofs are 498 s
	}
	for _, s := range steps {
		now = s.at
		if p.Step(); told() != s.want {
			t.Errorf("at %g s: not %q", s.at, s.want)
		}
	}
	p.Known, now = 5, 2.01
	if p.Step(); told() != "\r"+"5 of 5 roofs, 2.49 a second"+strings.Repeat(" ", len("4 of 1000 roofs, 2 a second, about 8 min left")-len("5 of 5 roofs, 2.49 a second")) {
		t.Error("the end is not told at once, over the line before")
	}
	if p.End(); told() != "\r"+strings.Repeat(" ", len("4 of 1000 roofs, 2 a second, about 8 min left"))+"\r" {
		t.Error("the line stays")
	}
	p = &Progress{Out: &out, Known: 3, Clock: func() float64 { return now }}
	for _, s := range []struct {
		at   float64
		want string
	}{{9.9, ""}, {10, "2 of 3 roofs, 0.2 a second, about 5 s left\n"}, {19.9, ""}} {
		now = s.at
		if p.Step(); told() != s.want {
			t.Errorf("at %g s: not %q", s.at, s.want)
		}
	}
	now = 20
	if p.Tick(); told() != "3 of 3 roofs, 0.15 a second\n" {
		t.Error("time alone tells nothing")
	}
	if p.End(); told() != "" {
		t.Error("a line that nobody drew is cleared")
	}
}
