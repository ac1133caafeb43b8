package call

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"runnel/export/staged"
)

// ended tells the test's own binary to be a process that is ended from outside (TestEndedFromOutside).
const ended = "RUNNEL_CALL_ENDED"

func TestMain(m *testing.M) {
	if os.Getenv(ended) == "" {
		os.Exit(m.Run())
	}
	if text := os.Getenv(ended); text != "plain" {
		say := func() string { return text }
		AtEnd.Store(&say)
	}
	s := Streams{Out: os.Stdout, Err: os.Stderr, Process: true}
	s.SweepOnInterrupt()
	fmt.Println("ready")
	time.Sleep(time.Minute)
	os.Exit(77)
}

// A process that is ended from outside says so in one line and exits with 130, as shells count an interrupt, whichever signal it was; a run that goes on another
// time says what it has done.
func TestEndedFromOutside(t *testing.T) {
	for text, want := range map[string]string{
		"plain":                "runnel: ended from outside; nothing was written.\n",
		"12 of 40 roofs done.": "runnel: ended from outside; 12 of 40 roofs done.\n",
	} {
		for _, sent := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP} {
			c := exec.Command(os.Args[0])
			c.Env = append(os.Environ(), ended+"="+text)
			var said bytes.Buffer
			c.Stderr = &said
			out, err := c.StdoutPipe()
			if err != nil {
				t.Fatal(err)
			}
			if signal.Ignored(sent) {
				signal.Notify(make(chan os.Signal, 1), sent) // as behind nohup: else what is started ignores it too
			}
			if err := c.Start(); err != nil {
				t.Fatal(err)
			}
			if _, err := io.ReadFull(out, make([]byte, len("ready\n"))); err != nil {
				t.Fatal(err)
			}
			if err := c.Process.Signal(sent); err != nil {
				t.Fatal(err)
			}
			err = c.Wait()
			if code := c.ProcessState.ExitCode(); code != ExitInterrupted || said.String() != want {
				t.Errorf("%v: exit %d, said %q, %v; want %q", sent, code, said.String(), err, want)
			}
		}
	}
}

// The streams of a test or of a page are not the process's: no signal is taken for them.
func TestOthersAreNotEnded(t *testing.T) {
	s := Streams{Out: io.Discard, Err: io.Discard}
	s.SweepOnInterrupt()
	if s.Process {
		t.Error("it became the process's")
	}
}

// A set that is put in its place names its files, after what there is to warn of; one that cannot be put there names none.
func TestCommitNamesFiles(t *testing.T) {
	dir := t.TempDir()
	write := func(w io.Writer) error { _, err := io.WriteString(w, "x"); return err }
	set, err := staged.Stage(staged.Target{Dir: dir}, []staged.Output{{Name: "Dach ü.json", Write: write}, {Name: "b.txt", Write: write}})
	if err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	s := Streams{Err: &said}
	if err := s.Commit(set, "one thing.", "another."); err != nil {
		t.Fatal(err)
	}
	want := "warning: one thing.\nwarning: another.\nwrote " + filepath.Join(dir, "Dach ü.json") + "\nwrote " + filepath.Join(dir, "b.txt") + "\n"
	if got := said.String(); got != want {
		t.Errorf("said %q, want %q", got, want)
	}
	said.Reset()
	set, err = staged.Stage(staged.Target{Dir: dir}, []staged.Output{{Name: "c.txt", Write: write}})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "c.txt"), []byte("somebody else's"), 0o600); err != nil { // it came meanwhile
		t.Fatal(err)
	}
	if err := s.Commit(set, "one thing."); !errors.Is(err, staged.ErrExists) || said.Len() > 0 {
		t.Errorf("%v, said %q", err, said.String())
	}
	if text, err := os.ReadFile(filepath.Join(dir, "c.txt")); err != nil || string(text) != "somebody else's" {
		t.Errorf("%q, %v", text, err)
	}
}

// A name that draws on a terminal, or turns the direction of text, is written with question marks; tabs, ends of lines and letters of any language stay.
func TestNotesDrawOnNoTerminal(t *testing.T) {
	for text, want := range map[string]string{
		"wrote Dächer/Größe.json":     "wrote Dächer/Größe.json\n",
		"a\x1b[31mred\x07":            "a?[31mred?\n",
		"two\nlines\tand a tab":       "two\nlines\tand a tab\n",
		"back\rward\x00\x7f\u0085":    "back?ward???\n",
		"turned \u202egpj.exe\u2066.": "turned ?gpj.exe?.\n",
		"屋根":                          "屋根\n",
	} {
		var b bytes.Buffer
		if Note(&b, text); b.String() != want {
			t.Errorf("%q is written as %q, want %q", text, b.String(), want)
		}
	}
}

// A page is written as text, or as JSON where that was asked for; a reader that has gone is an error that says what was written.
func TestPages(t *testing.T) {
	text := func(w io.Writer, n int) error { _, err := fmt.Fprintf(w, "text %d", n); return err }
	json := func(w io.Writer, n int) error { _, err := fmt.Fprintf(w, "json %d", n); return err }
	for asJSON, want := range map[bool]string{false: "text 7", true: "json 7"} {
		var b bytes.Buffer
		if err := WritePage(&b, asJSON, 7, text, json); err != nil || b.String() != want {
			t.Errorf("%q, %v; want %q", b.String(), err, want)
		}
	}
	if err := WritePage(gone{}, false, 7, text, json); !errors.Is(err, errGone) || !strings.HasPrefix(err.Error(), "write the page: ") || ExitCode(err) != ExitRefused {
		t.Errorf("%v", err)
	}
}

// gone is a writer whose reader has gone, or whose disk is full.
type gone struct{}

var errGone = errors.New("no space left on device")

func (gone) Write([]byte) (int, error) { return 0, errGone }
