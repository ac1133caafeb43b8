package call

import (
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"testing"

	"runnel/cmd/trust"
	"runnel/export/record"
)

// own has the user's configuration in a folder of the test.
func own(t *testing.T) {
	t.Helper()
	dir := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", dir)
	t.Setenv("HOME", dir)
}

// written are files by their names, all with the content of one.
func written(path string, names ...string) iter.Seq2[string, string] {
	return func(yield func(string, string) bool) {
		for _, name := range names {
			if !yield(name, path) {
				return
			}
		}
	}
}

// What the user wrote here is remembered: the call, and each page by its name and content. What somebody else's call wrote is not the user's call, and other files are no pages.
func TestWhatIsRemembered(t *testing.T) {
	run := record.Run{Command: "check", Files: []string{"../a.csv"}}
	for name, c := range map[string]struct {
		allowed bool
		run     record.Run
		nowhere bool

		isRun, isPage bool
	}{
		"the user's":                  {run: run, isRun: true, isPage: true},
		"somebody else's, allowed":    {allowed: true, run: run, isPage: true},
		"a call that is not recorded": {run: record.Run{}, isPage: true},
		"no folder":                   {run: run, nowhere: true},
	} {
		own(t)
		folder := t.TempDir()
		page := filepath.Join(folder, "Dach ü.report.html")
		if err := os.WriteFile(page, []byte("<p>x"), 0o600); err != nil {
			t.Fatal(err)
		}
		s := Streams{Allowed: c.allowed}
		into := folder
		if c.nowhere {
			into = ""
		}
		s.Remember(written(page, "Dach ü.report.html", "table.json"), into, c.run)
		if got := trust.Run(folder, c.run); got != c.isRun {
			t.Errorf("%s: the call is remembered: %v", name, got)
		}
		if got := trust.Page(folder, "Dach ü.report.html", []byte("<p>x")); got != c.isPage {
			t.Errorf("%s: the page is remembered: %v", name, got)
		}
		for other, content := range map[string]string{"Dach ü.report.html": "<p>y", "table.json": "<p>x", "other.html": "<p>x"} {
			if trust.Page(folder, other, []byte(content)) {
				t.Errorf("%s: %s with %s is taken for the user's", name, other, content)
			}
		}
	}
}

// A page that cannot be read, or was taken away meanwhile, is not remembered, and those beside it are.
func TestPagesThatCannotBeReadAreNotRemembered(t *testing.T) {
	own(t)
	folder := t.TempDir()
	page := filepath.Join(folder, "a.html")
	if err := os.WriteFile(page, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	var s Streams
	s.Remember(func(yield func(string, string) bool) {
		_ = yield("lost.html", filepath.Join(folder, "lost.html")) && yield("a.html", page)
	}, folder, record.Run{Command: "check"})
	if !trust.Page(folder, "a.html", []byte("x")) || trust.Page(folder, "lost.html", nil) {
		t.Error("the wrong page is remembered")
	}
}

// Of one run so many pages are remembered and no more: a campus may write a hundred thousand.
func TestHowManyPagesAreRemembered(t *testing.T) {
	own(t)
	folder := t.TempDir()
	page := filepath.Join(folder, "p.html")
	if err := os.WriteFile(page, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	var names []string
	for i := range mostPages + 1 {
		names = append(names, fmt.Sprintf("p%d.html", i+1))
	}
	var s Streams
	s.Remember(written(page, names...), folder, record.Run{Command: "campus"})
	if !trust.Page(folder, "p5000.html", []byte("x")) || trust.Page(folder, "p5001.html", []byte("x")) {
		t.Error("not 5000 pages are remembered")
	}
}
