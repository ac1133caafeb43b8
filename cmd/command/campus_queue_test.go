//go:build unix

package command_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"

	"runnel/analysis/geometry/reference"
)

// asProgram is what makes the test's binary the program; see TestMain.
const asProgram = "RUNNEL_TEST_AS_PROGRAM"

// broker is a server that tests start in this process, and stop.
type broker struct {
	t       *testing.T
	options server.Options
	now     *server.Server
	url     string
}

func newBroker(t *testing.T) *broker {
	t.Helper()
	b := &broker{t: t, options: server.Options{Host: "127.0.0.1", Port: server.RANDOM_PORT, JetStream: true, StoreDir: t.TempDir(), NoSigs: true, NoLog: true}}
	b.start()
	t.Cleanup(b.stop)
	return b
}

func (b *broker) start() {
	b.t.Helper()
	o := b.options
	s, err := server.NewServer(&o)
	if err != nil {
		b.t.Fatal(err)
	}
	s.Start()
	if !s.ReadyForConnections(20 * time.Second) {
		b.t.Fatal("the server does not start")
	}
	b.now, b.url, b.options.Port = s, s.ClientURL(), o.Port
}

func (b *broker) stop() { b.now.Shutdown(); b.now.WaitForShutdown() }

// job is a process of the program.
type job struct {
	*exec.Cmd
	out, errs locked
}

// locked is a buffer that is read while it is written.
type locked struct {
	mutex sync.Mutex
	text  bytes.Buffer
}

func (l *locked) Write(p []byte) (int, error) {
	l.mutex.Lock()
	defer l.mutex.Unlock()
	return l.text.Write(p)
}

func (l *locked) String() string {
	l.mutex.Lock()
	defer l.mutex.Unlock()
	return l.text.String()
}

// begin starts the program; dies is the stem of the roof at which it dies.
func begin(t *testing.T, dies string, args ...string) *job {
	t.Helper()
	path, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	j := &job{Cmd: exec.Command(path, args...)} //nolint:gosec // our own
	j.Env = append(os.Environ(), asProgram+"="+dies)
	j.Stdout, j.Stderr = &j.out, &j.errs
	if err := j.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = j.Process.Kill(); _ = j.Wait() })
	return j
}

// queued is a campus whose roofs workers check, beside what one run without them writes.
type queued struct {
	t        *testing.T
	dir, out string
	broker   *broker
	args     []string
	want     map[string]string
	page     string
	code     int
}

// newQueued makes one of roofs that make a chunk each few: their files are padded.
func newQueued(t *testing.T, more ...string) *queued {
	t.Helper()
	const roofs = 24
	q := &queued{t: t, dir: t.TempDir(), broker: newBroker(t)}
	in := filepath.Join(q.dir, "in")
	makeCampus(t, in, roofs)
	for i := range roofs {
		path := filepath.Join(in, fmt.Sprintf("roof-%05d.geojson", i))
		text := read(t, path)
		if err := os.WriteFile(path, append(text, bytes.Repeat([]byte(" "), 600<<10)...), 0o600); err != nil { // seven make 4 MB
			t.Fatal(err)
		}
	}
	whole := filepath.Join(q.dir, "whole")
	q.args = append([]string{"campus", in, "--write", "geojson,json"}, more...)
	var errs string
	q.code, q.page, errs = run(t, append(q.args, "-o", whole)...)
	if q.code != 4 { // one is broken
		t.Fatalf("exit %d: %s", q.code, errs)
	}
	q.want, q.out = contents(t, whole), filepath.Join(q.dir, "queued")
	return q
}

func (q *queued) run() *job {
	return begin(q.t, "", append(q.args, "-o", q.out, "--queue", q.broker.url)...)
}

func (q *queued) worker(more ...string) *job {
	return begin(q.t, "", append([]string{"worker", "--queue", q.broker.url, "--root", q.dir, "--workers", "1"}, more...)...)
}

// same holds the results against those of one run.
func (q *queued) same(j *job) {
	q.t.Helper()
	if got := code(q.t, j.Wait()); got != q.code || j.out.String() != q.page {
		q.t.Fatalf("exit %d, want %d: %s\n%s", got, q.code, j.errs.String(), j.out.String())
	}
	if got := contents(q.t, q.out); !maps.Equal(got, q.want) {
		q.t.Errorf("the results differ: %d files, want %d: %v\n%s", len(got), len(q.want), differing(got, q.want), j.errs.String())
	}
}

// wait waits until something holds.
func wait(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for range 3000 {
		if holds() {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	t.Fatalf("not within five minutes: %s", what)
}

// begun reports whether a chunk is being worked on.
func (q *queued) begun() bool {
	found, _ := filepath.Glob(filepath.Join(q.out, ".runnel-campus", "queue-*", "chunk-*", "begun"))
	return len(found) > 0
}

// Workers give the results of one run, byte for byte: when all goes well, and with more workers than chunks.
func TestQueueOfACampus(t *testing.T) {
	t.Parallel()
	q := newQueued(t, "--rank", "water", "--min-slope", "1%")
	var all []*job
	for range 2 {
		all = append(all, q.worker("--idle", "2s"))
	}
	q.same(q.run())
	for _, w := range all { // they end by themselves
		if got := code(t, w.Wait()); got != 0 || strings.Count(w.errs.String(), "\n") != 1 || !strings.HasPrefix(w.errs.String(), "Waits for work on nats://") {
			t.Errorf("exit %d: %s", got, w.errs.String())
		}
	}
}

// A worker that is killed in the middle of a chunk, one that stands still longer than the server waits, and one that is ended lose nothing.
func TestWorkersThatAreEnded(t *testing.T) {
	t.Parallel()
	q := newQueued(t)
	r := q.run()
	for _, signal := range []os.Signal{os.Kill, stopSignal, os.Interrupt} {
		w := q.worker()
		wait(t, "a chunk is begun", q.begun)
		if err := w.Process.Signal(signal); err != nil {
			t.Fatal(err)
		}
		if signal == stopSignal {
			defer func() { _ = w.Process.Signal(goOnSignal) }() // it finds its chunk done
		} else {
			_ = w.Wait()
		}
	}
	q.worker()
	q.same(r)
}

// The server may be stopped and started again, with what it had and without.
func TestServerThatIsRestarted(t *testing.T) {
	t.Parallel()
	for _, what := range []string{"kept", "lost"} {
		q := newQueued(t)
		r := q.run()
		q.worker()
		wait(t, "a chunk is begun", q.begun)
		q.broker.stop()
		if what == "lost" {
			q.broker.options.StoreDir = t.TempDir()
		}
		time.Sleep(time.Second)
		q.broker.start()
		q.same(r)
		if !strings.Contains(r.errs.String(), "the queue's server does not answer") || !strings.Contains(r.errs.String(), "is back") {
			t.Errorf("%s: it says %s", what, r.errs.String())
		}
	}
}

// A roof of which workers die is a row that says so, after three of them; all other roofs are as in one run.
func TestRoofOfWhichWorkersDie(t *testing.T) {
	t.Parallel()
	q := newQueued(t)
	r := q.run()
	stop := make(chan struct{})
	var keeper sync.WaitGroup
	deaths := 0
	keeper.Go(func() { // starts a worker again where one has died, as a scheduler does
		for {
			w := begin(t, "roof-00004", "worker", "--queue", q.broker.url, "--root", q.dir, "--workers", "2")
			ended := make(chan struct{})
			go func() { _ = w.Wait(); close(ended) }()
			select {
			case <-ended:
				deaths++
			case <-stop:
				_ = w.Process.Kill()
				<-ended
				return
			}
		}
	})
	got := code(t, r.Wait())
	close(stop)
	keeper.Wait()
	if got != 4 || deaths != 3 {
		t.Errorf("exit %d after %d deaths, want 4 after 3: %s", got, deaths, r.errs.String())
	}
	for _, row := range table(t, q.out) {
		if row["name"] == "roof-00004" && row["reason"] != "internal fault: 3 workers died while they checked it" {
			t.Errorf("its row: %s", row["reason"])
		}
	}
	for name, text := range contents(t, q.out) {
		if !strings.Contains(name, "campus") && text != q.want[name] || strings.Contains(name, "roof-00004") {
			t.Errorf("%s differs", name)
		}
	}
	if n := len(contents(t, q.out)); n != len(q.want)-2 {
		t.Errorf("%d files, want %d", n, len(q.want)-2)
	}
}

// A message that comes twice, and one from somebody who means harm, change nothing; what they ask for is not read.
func TestMessagesOfOthers(t *testing.T) {
	t.Parallel()
	q := newQueued(t)
	outside := t.TempDir()
	file(t, outside, "run.json", `{}`)
	c, err := nats.Connect(q.broker.url)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	r := q.run()
	sub, err := c.SubscribeSync("runnel.chunk.*")
	if err != nil {
		t.Fatal(err)
	}
	w := q.worker()
	wait(t, "a chunk is begun", q.begun)
	folders, _ := filepath.Glob(filepath.Join(q.out, ".runnel-campus", "queue-*"))
	run := strings.TrimPrefix(filepath.Base(folders[0]), "queue-")
	say := func(chunk map[string]any) {
		text, _ := json.Marshal(chunk)
		if err := c.Publish("runnel.chunk."+run, text); err != nil {
			t.Fatal(err)
		}
	}
	of := func(folder string, number, from, to int) map[string]any {
		return map[string]any{"version": "(devel)", "run": run, "folder": folder, "chunk": number, "from": from, "to": to}
	}
	if m, err := sub.NextMsg(time.Second); err == nil {
		var own map[string]any
		if err := json.Unmarshal(m.Data, &own); err != nil {
			t.Fatal(err)
		}
		say(own)
	}
	foreign := func() {
		say(of(outside, 1, 0, 9))
		say(of(filepath.Join(folders[0], "..", "..", "..", "..", "etc"), 1, 0, 9))
		say(of("/no/such/out/.runnel-campus/queue-1", 1, 0, 9))
		say(of(folders[0], 1, 3, 90))
		say(of(folders[0], 77, 0, 1<<23))
		if err := c.Publish("runnel.chunk."+run, []byte("{")); err != nil {
			t.Fatal(err)
		}
	}
	foreign()
	q.same(r)
	foreign() // a run that has ended takes its messages with it, read or not
	for _, says := range []string{"lies outside of", "a message is no chunk", "is not there on this machine"} {
		wait(t, "the worker says that something "+says, func() bool { return strings.Contains(w.errs.String(), says) })
	}
	_ = w.Process.Signal(os.Interrupt)
	_ = w.Wait()
	if left := contents(t, outside); len(left) != 1 {
		t.Errorf("%d files outside", len(left))
	}
}

// A run that is killed goes on with what workers have done meanwhile.
func TestQueuedRunThatIsKilled(t *testing.T) {
	t.Parallel()
	q := newQueued(t)
	r := q.run()
	w := q.worker()
	wait(t, "a chunk is begun", q.begun)
	_ = r.Process.Kill()
	_ = r.Wait()
	wait(t, "a chunk is done", func() bool {
		found, _ := filepath.Glob(filepath.Join(q.out, ".runnel-campus", "queue-*", "ready", "*"))
		return len(found) > 1
	})
	_ = w.Process.Kill()
	_ = w.Wait()
	r = q.run()
	q.worker()
	q.same(r)
	if !strings.Contains(r.errs.String(), "Workers had done ") {
		t.Errorf("it does not go on: %s", r.errs.String())
	}
}

// Roofs of a sequence, and of a file with many outlines, come through the queue as they are.
func TestQueueOfOtherInputs(t *testing.T) {
	t.Parallel()
	dir, b := t.TempDir(), newBroker(t)
	var lines strings.Builder
	for i := range 5 {
		text := usualRoof(i).text()
		if i == 3 {
			text = text[:100]
		}
		lines.WriteString(strings.TrimSpace(text) + "\n")
	}
	seq := file(t, dir, "roofs.ndjson", lines.String())
	var outlines, spots []string
	for i := range 3 {
		x := 100 * i
		outlines = append(outlines, fmt.Sprintf(`{"type":"Feature","properties":{"role":"outline","name":"hall %d","edge":"free"},"geometry":{"type":"Polygon","coordinates":[[[%d,0],[%d,0],[%d,9],[%d,9],[%d,0]]]}}`, i, x, x+9, x+9, x, x))
		for k, z := range []string{"0.9", "1", "1.1", "0.8"} {
			spots = append(spots, fmt.Sprintf("%d-%d,%d,%d,%s", i, k, x+1+2*k, 1+(k*k)%8, z))
		}
	}
	site := file(t, dir, "site.geojson", `{"type":"FeatureCollection","units":"m","frame":"local","features":[`+strings.Join(outlines, ",")+`]}`)
	points := file(t, dir, "points.csv", "id,x,y,elev_m\n"+strings.Join(spots, "\n")+"\n")
	begin(t, "", "worker", "--queue", b.url, "--root", dir)
	for what, paths := range map[string][]string{"sequence": {seq}, "site": {site, points}} {
		args := append([]string{"campus"}, paths...)
		wantCode, wantPage, errs := run(t, append(args, "-o", filepath.Join(dir, what))...)
		gotCode, gotPage, moreErrs := run(t, append(args, "-o", filepath.Join(dir, what+"-queued"), "--queue", b.url)...)
		if gotCode != wantCode || gotPage != wantPage || wantCode != 0 && wantCode != 4 {
			t.Fatalf("%s: exit %d, want %d: %s\n%s", what, gotCode, wantCode, moreErrs, errs)
		}
		if got, want := contents(t, filepath.Join(dir, what+"-queued")), contents(t, filepath.Join(dir, what)); !maps.Equal(got, want) {
			t.Errorf("%s: the results differ: %v", what, differing(got, want))
		}
	}
}

// What cannot be handed out is refused with the mend, before anything is written.
func TestQueuesThatAreRefused(t *testing.T) {
	dir := t.TempDir()
	in := file(t, dir, "slab.geojson", slab)
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	nobody := "nats://" + free.Addr().String()
	_ = free.Close()
	out := filepath.Join(dir, "out")
	for _, c := range []struct {
		code int
		says string
		args []string
	}{
		{2, "give the server as nats://", []string{"campus", in, "-o", out, "--queue", "localhost"}},
		{2, "NATS_PASSWORD", []string{"campus", in, "-o", out, "--queue", "nats://a:b@localhost"}},
		{2, "give --queue or --shard", []string{"campus", in, "-o", out, "--queue", nobody, "--shard", "1/2"}},
		{2, "--workers goes with runnel worker", []string{"campus", in, "-o", out, "--queue", nobody, "--workers", "2"}},
		{3, "nats-server -js", []string{"campus", in, "-o", out, "--queue", nobody}},
		{2, "workers cannot read a pipe", []string{"campus", "-", "-o", out, "--queue", nobody}},
		{3, "nats-server -js", []string{"worker", "--queue", nobody}},
		{2, "--root", []string{"worker", "--root", filepath.Join(dir, "nope")}},
		{2, "--workers 0", []string{"worker", "--workers", "0"}},
		{2, "--queue", []string{"worker", "--queue", "localhost"}},
	} {
		got, _, errs := run(t, c.args...)
		if got != c.code || !strings.Contains(errs, c.says) || strings.Contains(errs, "a:b") {
			t.Errorf("%v: exit %d, want %d: %s", c.args, got, c.code, errs)
		}
		if _, err := os.Stat(out); err == nil {
			t.Errorf("%v: something was written", c.args)
		}
	}
}

// An older server, in a process of its own, may be killed and started again.
func TestQueueOfDebiansServer(t *testing.T) {
	t.Parallel()
	reference.Run(t, "nats-server", nil, "nats-server", "--version")
	q := newQueued(t)
	q.broker.stop()
	store := t.TempDir()
	start := func() *exec.Cmd {
		c := exec.Command("nats-server", "-js", "-a", "127.0.0.1", "-p", fmt.Sprint(q.broker.options.Port), "-sd", store) //nolint:gosec // only a port and a folder
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = c.Process.Kill(); _ = c.Wait() })
		wait(t, "the server answers", func() bool {
			at, err := net.Dial("tcp", fmt.Sprintf("127.0.0.1:%d", q.broker.options.Port))
			if err == nil {
				_ = at.Close()
			}
			return err == nil
		})
		return c
	}
	first := start()
	r := q.run()
	q.worker()
	wait(t, "a chunk is begun", q.begun)
	_ = first.Process.Kill()
	_ = first.Wait()
	start()
	q.same(r)
}

// The program speaks to a server, and holds none.
func TestServerIsNotInTheProgram(t *testing.T) {
	text, err := exec.Command("go", "list", "-deps", "runnel/cmd/runnel").CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	if !strings.Contains(string(text), "github.com/nats-io/nats.go") || strings.Contains(string(text), "github.com/nats-io/nats-server") {
		t.Errorf("the program holds %s", text)
	}
}

// What the queue costs beside one run, in processor time of all processes: RUNNEL_LONG=1 go test -v -run QueueSpeed ./cmd/command. What else
// runs on the processors only ever adds, so the last lines set the least of either side by side.
func TestQueueSpeed(t *testing.T) {
	dir, b, roofs := t.TempDir(), newBroker(t), inLong(20, 1000)
	in := filepath.Join(dir, "in")
	makeCampus(t, in, roofs)
	least := map[string]time.Duration{}
	keep := func(what string, used time.Duration) {
		if before, ok := least[what]; !ok || used < before {
			least[what] = used
		}
	}
	for round := range inLong(1, 3) {
		for _, kinds := range []string{"none", "geojson,json"} {
			out := filepath.Join(dir, fmt.Sprint(kinds, round))
			args := []string{"campus", in, "--write", kinds, "-o"}
			local := called(t, append(args, out)...)
			if got := code(t, local.Run()); got != 4 {
				t.Fatalf("exit %d", got)
			}
			all := []*exec.Cmd{called(t, append(args, out+"-queued", "--queue", b.url)...), called(t, "worker", "--queue", b.url, "--root", dir, "--idle", "1s"), called(t, "worker", "--queue", b.url, "--root", dir, "--idle", "1s")}
			for _, c := range all {
				c.Args = append(c.Args, map[bool][]string{true: {"--workers", "1"}}[c != all[0]]...)
				if err := c.Start(); err != nil {
					t.Fatal(err)
				}
			}
			used := time.Duration(0)
			for _, c := range all {
				_ = c.Wait()
				used += c.ProcessState.UserTime() + c.ProcessState.SystemTime()
			}
			one := local.ProcessState.UserTime() + local.ProcessState.SystemTime()
			t.Logf("%d roofs, --write %s: one run %.2f s, with a queue and two workers %.2f s (%+.1f %%)", roofs, kinds, one.Seconds(), used.Seconds(), 100*(used.Seconds()/one.Seconds()-1))
			keep(kinds, one)
			keep("queued "+kinds, used)
		}
	}
	for _, kinds := range []string{"none", "geojson,json"} {
		t.Logf("--write %s, least of all rounds: %+.1f %%", kinds, 100*(least["queued "+kinds].Seconds()/least[kinds].Seconds()-1))
	}
}
