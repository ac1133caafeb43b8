//go:build unix

package campus

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/nats-io/nats-server/v2/server"

	"runnel/cmd/call"
)

// broker starts a server in this process and returns its address.
func broker(t *testing.T) string {
	t.Helper()
	s, err := server.NewServer(&server.Options{Host: "127.0.0.1", Port: server.RANDOM_PORT, JetStream: true, StoreDir: t.TempDir(), NoSigs: true, NoLog: true})
	if err != nil {
		t.Fatal(err)
	}
	s.Start()
	t.Cleanup(func() { s.Shutdown(); s.WaitForShutdown() })
	if !s.ReadyForConnections(20 * time.Second) {
		t.Fatal("the server does not start")
	}
	return s.ClientURL()
}

// saying is a buffer that several goroutines write, and that somebody waits on.
type saying struct {
	mutex sync.Mutex
	text  bytes.Buffer
}

func (s *saying) Write(p []byte) (int, error) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return s.text.Write(p)
}

func (s *saying) String() string {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return s.text.String()
}

// working starts a worker in this process; end ends it and returns what it said and how it ended.
func working(t *testing.T, args ...string) (errs *saying, end func() error) {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	errs = &saying{}
	w := NewWorker(call.Streams{Context: ctx, Err: errs, Out: errs})
	w.SilenceErrors, w.SilenceUsage = true, true
	w.SetArgs(args)
	ended := make(chan error, 1)
	go func() { ended <- w.Execute() }()
	var once sync.Once
	var err error
	end = func() error {
		once.Do(func() { stop(); err = <-ended })
		return err
	}
	t.Cleanup(func() { _ = end() })
	return errs, end
}

// calledHere is where the test was called: workers go to where the run was called, and both are this process.
func calledHere(t *testing.T) string {
	t.Helper()
	home, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(home)
	return home
}

// A run whose roofs a worker checks writes what one run by itself writes, byte by byte, with the same code; roofs that fail are rows there as well.
func TestAQueuedRunWritesTheSame(t *testing.T) {
	home, url := calledHere(t), broker(t)
	in := filepath.Join(home, "Maße 1")
	if err := os.Rename(three(t), in); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(in, "torn.geojson"), "{")
	args := []string{in, "--drop", "8", "--drop", "99"}
	code, page, said := ran(t, call.Streams{}, append(args, "-o", filepath.Join(home, "one"))...)
	if code != call.ExitPartial {
		t.Fatalf("exit %d: %s", code, said)
	}
	_, end := working(t, "--queue", url, "--root", home, "--workers", "2")
	ctx, stop := context.WithTimeout(t.Context(), time.Minute) // for a run that would wait for ever
	defer stop()
	code, got, said := ran(t, call.Streams{Context: ctx}, append(args, "-o", filepath.Join(home, "two"), "--queue", url)...)
	if code != call.ExitPartial || got != page {
		t.Errorf("exit %d, %s:\n%s\nwant\n%s", code, said, got, page)
	}
	if !strings.Contains(said, "--drop 99: no roof that could be read has a spot with this id.") {
		t.Errorf("said %s", said)
	}
	same(t, "queued", contents(t, filepath.Join(home, "two")), contents(t, filepath.Join(home, "one")))
	if err := end(); !errors.Is(err, context.Canceled) {
		t.Errorf("the worker ended with %v", err)
	}
}

// A run that is stopped after a worker has begun a second chunk takes over what the worker has done since, when it is called again, and says so; the rest is handed out again.
func TestWhatWorkersDoMeanwhileIsTakenOver(t *testing.T) {
	home, url := calledHere(t), broker(t)
	in := three(t)
	for _, name := range []string{"Dach über Tor 1.geojson", "hall b.geojson", "zoo.geojson"} { // a chunk each: it ends at 4 MB
		text := contents(t, in)[name]
		put(t, filepath.Join(in, name), text+strings.Repeat(" ", 5<<20))
	}
	release := make(chan struct{})
	AtRoof = func(stem string) {
		if stem == "hall-b" {
			<-release
		}
	}
	defer func() { AtRoof = func(string) {} }()
	args := []string{in, "--write", "json"}
	_, page, _ := ran(t, call.Streams{}, append(args, "-o", filepath.Join(home, "one"))...)
	out := filepath.Join(home, "two")
	ctx, stop := context.WithCancel(t.Context())
	begun := &stopper{at: "1 of 3 roofs", stop: func() { time.AfterFunc(100*time.Millisecond, stop) }}
	errs, end := working(t, "--queue", url, "--root", filepath.Dir(filepath.Dir(home)), "--workers", "1")
	if code, _, said := ran(t, call.Streams{Context: ctx, Err: begun, Terminal: true}, append(args, "-o", out, "--queue", url)...); code != call.ExitRefused {
		t.Errorf("stopped: exit %d, %s", code, said)
	}
	if !strings.Contains(begun.String(), "1 roof is done; the same call goes on from there.") {
		t.Errorf("said %s", begun)
	}
	close(release)
	for began := time.Now(); ; time.Sleep(20 * time.Millisecond) {
		if found, _ := filepath.Glob(filepath.Join(out, ".runnel-campus", "queue-*", "ready", "*")); len(found) > 0 {
			break
		}
		if time.Since(began) > 30*time.Second {
			t.Fatalf("the worker's results do not come: %s", errs)
		}
	}
	again, ended := context.WithTimeout(t.Context(), time.Minute) // for a run that would wait for ever
	defer ended()
	code, got, said := ran(t, call.Streams{Context: again}, append(args, "-o", out, "--queue", url)...)
	if code != 0 || !strings.Contains(said, "An earlier run had done 1 roofs; this one goes on from there.\nWorkers had done 1 roofs since.\n") || got != page {
		t.Errorf("exit %d, %s\n%s\nwant\n%s", code, said, got, page)
	}
	same(t, "taken over", contents(t, out), contents(t, filepath.Join(home, "one")))
	_ = end()
}

// With nobody at work a run says so once, and how to start a worker; ended, it leaves nothing where nothing was done.
func TestNobodyIsAtWork(t *testing.T) {
	home, url := calledHere(t), broker(t)
	usual := Silence
	Silence = 1200 * time.Millisecond
	defer func() { Silence = usual }()
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	errs := &stopper{at: "No worker is at work.", stop: func() { time.AfterFunc(time.Second, stop) }}
	out := filepath.Join(home, "out")
	code, _, said := ran(t, call.Streams{Context: ctx, Err: errs}, three(t), "-o", out, "--queue", url)
	if code != call.ExitRefused || !strings.Contains(said, "context canceled") {
		t.Errorf("exit %d, %s", code, said)
	}
	if n := strings.Count(errs.String(), "No worker is at work. On machines that see these folders: runnel worker --queue "+url+"\n"); n != 1 {
		t.Errorf("said %d times: %s", n, errs)
	}
	if got := contents(t, out); got != nil {
		t.Errorf("left %v", got)
	}
}

// A worker with nothing to do ends by itself after its time, and not before; one without a time is ended.
func TestAWorkerEndsWhenItIsIdle(t *testing.T) {
	home, url := calledHere(t), broker(t)
	var errs bytes.Buffer
	w := NewWorker(call.Streams{Err: &errs})
	w.SetArgs([]string{"--queue", url, "--root", home, "--idle", "1ms"})
	w.SilenceErrors, w.SilenceUsage = true, true
	if err := w.Execute(); err != nil {
		t.Errorf("%v", err)
	}
	if want := fmt.Sprintf("Waits for work on %s; works below %s.\n", url, home); errs.String() != want {
		t.Errorf("said %q, want %q", errs.String(), want)
	}
	over, stop := context.WithCancel(t.Context())
	stop()
	w = NewWorker(call.Streams{Context: over, Err: &errs})
	w.SetArgs([]string{"--queue", url, "--root", home})
	w.SilenceErrors, w.SilenceUsage = true, true
	if err := w.Execute(); err == nil {
		t.Error("a worker that was ended says nothing of it")
	}
}

// Roofs of a pipe cannot be handed out, for workers cannot read it; nor can any where no server answers. Nothing is left.
func TestQueuesThatCannotBe(t *testing.T) {
	home := calledHere(t)
	out := filepath.Join(home, "out")
	for says, c := range map[string]struct {
		args []string
		code int
	}{
		"--queue: workers cannot read a pipe; write it into a file that they see": {[]string{"-", "--queue", "nats://127.0.0.1:1"}, call.ExitUsage},
		"nats://127.0.0.1:1": {[]string{three(t), "--queue", "nats://127.0.0.1:1"}, call.ExitRefused},
	} {
		code, _, said := ran(t, call.Streams{}, append(c.args, "-o", out)...)
		if code != c.code || !strings.Contains(said, says) || contents(t, out) != nil {
			t.Errorf("%q: exit %d, %s, left %v", c.args, code, said, contents(t, out))
		}
	}
}
