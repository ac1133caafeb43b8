package command

import (
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"runnel/cmd/call"
	"runnel/export/record"
)

// secret is what a file of the user holds that no roof needs.
const secret = "correct horse battery staple, and where the key lies"

// mailed makes a folder as somebody may send it: a survey, and a summary whose run reads a file that lies elsewhere on the
// machine of whoever opens it. It returns the folder and that file.
func mailed(t *testing.T, flags ...string) (folder, private string) {
	t.Helper()
	base := t.TempDir()
	folder, private = filepath.Join(base, "mailed"), filepath.Join(base, "private.txt")
	if err := os.Mkdir(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	put(t, private, strings.Repeat(secret+", "+secret+"\n", 30))
	put(t, filepath.Join(folder, "shed.json"), `{"schema":"runnel-summary-1","roof":{"id":"S","name":"Shed"},"run":`+
		keyOfRun(record.Run{Command: "check", Files: []string{"survey.geojson"}, Flags: flags})+`,"ponds":[],"findings":[]}`)
	put(t, filepath.Join(folder, "shed.report.html"), "<!DOCTYPE html><script>new Image().src='http://roofs.invalid/'</script>")
	put(t, filepath.Join(folder, "survey.geojson"), fmt.Sprintf(viewedOutline, "Shed")) // younger than the summary
	soon := time.Now().Add(time.Hour)
	if err := os.Chtimes(filepath.Join(folder, "survey.geojson"), soon, soon); err != nil {
		t.Fatal(err)
	}
	return folder, private
}

// shown serves a folder until the test ends and returns its address and what the terminal says.
func shown(t *testing.T, k *view, folder string) (address string, errs *wire) {
	t.Helper()
	out, errs := &wire{}, &wire{}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	k.Out, k.Err, k.listen = out, errs, "127.0.0.1"
	go func() { done <- k.run(ctx, folder) }()
	t.Cleanup(func() {
		cancel()
		if err := <-done; err != nil {
			t.Errorf("it ends with %v", err)
		}
	})
	until(t, "it prints its address", func() bool { return strings.HasSuffix(out.String(), "\n") })
	return strings.TrimSpace(out.String()), errs
}

// A folder that came by mail is looked at, and nothing else is read.
func TestAMailedFolderReadsNothing(t *testing.T) {
	for name, in := range map[string]io.Reader{"nobody to ask": nil, "no": strings.NewReader("no\n"), "nothing": strings.NewReader("")} {
		folder, private := mailed(t, "--code-list=../private.txt")
		before := filesIn(t, folder)
		address, errs := shown(t, &view{Streams: call.Streams{In: in}}, folder)
		until(t, "the page says so", func() bool {
			return strings.Contains(get(t, address+"state"), "were not written by you on this machine")
		})
		if in != nil && !strings.Contains(errs.String(), fmt.Sprintf("%q   outside of this folder", private)) {
			t.Errorf("%s: the terminal does not show what would be read: %s", name, errs.String())
		}
		time.Sleep(3 * every)
		for file, text := range filesIn(t, folder) {
			if before[file] != text {
				t.Errorf("%s: %s has changed", name, file)
			}
		}
		if strings.Contains(get(t, address+"state")+get(t, address)+errs.String(), secret[:12]) {
			t.Errorf("%s: the secret is quoted", name)
		}
		r, err := http.Get(address + "file/shed.report.html") //nolint:gosec // our own server
		if err != nil {
			t.Fatal(err)
		}
		_ = r.Body.Close()
		if r.Header.Get("Content-Disposition") != "attachment" {
			t.Errorf("%s: a page of somebody else is shown", name)
		}
	}
}

// With a yes it reads what was listed, and quotes nothing of a file that is not what it should be.
func TestAYesIsForWhatWasListed(t *testing.T) {
	folder, private := mailed(t, "--code-list=list.csv")
	if err := os.Symlink("../private.txt", filepath.Join(folder, "list.csv")); err != nil {
		t.Skip(err)
	}
	address, errs := shown(t, &view{Streams: call.Streams{In: strings.NewReader("yes\n")}}, folder)
	if !strings.Contains(errs.String(), fmt.Sprintf("%q   outside of this folder", private)) {
		t.Errorf("where the link leads is not shown: %s", errs.String())
	}
	until(t, "it says what is wrong", func() bool { return strings.Contains(get(t, address+"state"), "list.csv line 1") })
	if text := get(t, address+"state") + errs.String(); strings.Count(text, secret[:12]) > 0 {
		t.Errorf("the secret is quoted: %s", text)
	}
	// The link now leads to another file: that was not allowed.
	if err := os.Remove(filepath.Join(folder, "list.csv")); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(filepath.Dir(folder), "other.txt"), "RF,OUTLINE\n")
	if err := os.Symlink("../other.txt", filepath.Join(folder, "list.csv")); err != nil {
		t.Fatal(err)
	}
	until(t, "it does not read that", func() bool {
		return strings.Contains(get(t, address+"state"), "other files than those that you allowed")
	})
}

// A run that was allowed is made, and its pages are shown from then on.
func TestAYesMakesItAgain(t *testing.T) {
	folder, _ := mailed(t, "--write=json,report")
	text := fmt.Sprintf(viewedOutline, "Shed")
	put(t, filepath.Join(folder, "survey.geojson"), strings.TrimSuffix(text, "]}")+`,
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[3,4,5.12]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[7,4,5.28]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[5,2,5.2]}}]}`)
	soon := time.Now().Add(time.Hour)
	if err := os.Chtimes(filepath.Join(folder, "survey.geojson"), soon, soon); err != nil {
		t.Fatal(err)
	}
	address, _ := shown(t, &view{Streams: call.Streams{In: strings.NewReader("yes\n")}}, folder)
	until(t, "the report is its own", func() bool { return strings.Contains(get(t, address+"show/shed.report.html"), "<iframe") })

	// The yes was for this time and for this file.
	place := filepath.Join(folder, "survey.geojson")
	if err := os.Rename(place, filepath.Join(filepath.Dir(folder), "survey.geojson")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("../survey.geojson", place); err != nil {
		t.Skip(err)
	}
	until(t, "it does not follow the link", func() bool {
		return strings.Contains(get(t, address+"state"), "other files than those that you allowed")
	})
	_, errs := shown(t, &view{Streams: call.Streams{In: strings.NewReader("no\n")}}, folder)
	if !strings.Contains(errs.String(), "Type yes to allow that") {
		t.Errorf("view does not ask again: %s", errs.String())
	}
}

// With --no-rerun nothing is asked and nothing is read.
func TestNoRerun(t *testing.T) {
	folder, _ := mailed(t, "--code-list=../private.txt")
	before := filesIn(t, folder)
	address, errs := shown(t, &view{Streams: call.Streams{In: strings.NewReader("yes\n")}, noRerun: true}, folder)
	time.Sleep(3 * every)
	if text := errs.String(); text != "" {
		t.Errorf("the terminal says %q", text)
	}
	if len(filesIn(t, folder)) != len(before) || strings.Contains(get(t, address+"state"), "not written by you") {
		t.Error("it looks at the run")
	}
}

// Pipes and devices may never end; a path may try to draw on the terminal; a list may be too long to read.
func TestWhatIsNotAsked(t *testing.T) {
	folder := t.TempDir()
	pipe := filepath.Join(folder, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	k := &view{}
	for _, input := range []string{"pipe", "/dev/zero"} {
		if _, err := k.again(record.Run{Command: "check", Files: []string{input}}, folder); err == nil || !strings.Contains(err.Error(), "neither a file nor a folder") {
			t.Errorf("%s: %v", input, err)
		}
	}
	errs := &wire{}
	k = &view{Streams: call.Streams{Err: errs, In: strings.NewReader("yes\n")}}
	run := record.Run{Command: "check", Files: []string{"\x1b[2Jnice.csv"}}
	k.ask(context.Background(), []record.Run{run}, folder)
	if strings.Contains(errs.String(), "\x1b") || !strings.Contains(errs.String(), `\x1b[2Jnice.csv`) {
		t.Errorf("a path draws on the terminal: %q", errs.String())
	}
	many := record.Run{Command: "check"}
	for i := range mostPaths + 1 {
		many.Files = append(many.Files, fmt.Sprint(i))
	}
	k = &view{Streams: call.Streams{Err: errs, In: strings.NewReader("yes\n")}}
	k.ask(context.Background(), []record.Run{many}, folder)
	if _, err := k.again(many, folder); err == nil {
		t.Error("a list that is too long to read is allowed")
	}
}

// A reader that takes nothing is cut off, and so is one that does not finish its question: the server's own limits,
// shortened.
func TestServerWaitsForNobody(t *testing.T) {
	failed := make(chan error, 1)
	server := newServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		for {
			if _, err := w.Write(make([]byte, 1<<16)); err != nil {
				failed <- err
				return
			}
		}
	}))
	for _, limit := range []*time.Duration{&server.ReadTimeout, &server.ReadHeaderTimeout, &server.WriteTimeout, &server.IdleTimeout} {
		*limit /= 1000 // 10 ms to 120 ms; 0, which is none, stays 0
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	go func() { _ = server.Serve(listener) }()
	defer func() { _ = server.Close() }()
	for what, sent := range map[string]string{"a question that does not end": "GET / HTTP/1.1\r\nHost: x\r\nX-", "an answer that nobody takes": "GET / HTTP/1.1\r\nHost: x\r\n\r\n"} {
		c, err := net.Dial("tcp", listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(c, sent); err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(sent, "X-") {
			if _, err := io.ReadAll(c); err != nil {
				t.Errorf("%s: %v", what, err)
			}
		} else {
			t.Logf("%s: %v", what, <-failed) // the write may fail or not, but it ends
		}
		_ = c.Close()
	}
}

// Names of files and roofs cannot draw on the terminal.
func TestNamesDoNotDraw(t *testing.T) {
	errs := &wire{}
	if code := Main([]string{"check", "\x1b[2J\u202egnp.csv"}, call.Streams{Out: &wire{}, Err: errs}); code != call.ExitRefused {
		t.Errorf("exit %d", code)
	}
	if text := errs.String(); strings.ContainsAny(text, "\x1b\u202e") || !strings.Contains(text, "?[2J?gnp.csv") {
		t.Errorf("it prints %q", text)
	}
}
