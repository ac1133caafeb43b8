package command

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/spf13/pflag"

	"runnel/analysis/geometry/reference/chromium"
	"runnel/cmd/call"
	"runnel/export/record"
)

// A roof of 10 m by 8 m that falls to a free edge, and its spots; the fourth makes a low place when it is at 4.9 m.
const (
	viewedOutline = `{"type":"FeatureCollection","units":"m","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","name":"%s","edge":"wall"},"geometry":{"type":"Polygon","coordinates":[[[0,0,5],[10,0,5.4],[10,8,5.4],[0,8,5],[0,0,5]]]}},
{"type":"Feature","properties":{"role":"edge","type":"free"},"geometry":{"type":"LineString","coordinates":[[0,0],[0,8]]}}]}`
	viewedSpots = "point,x,y,z\n1,3,4,5.12\n2,7,4,5.28\n3,5,2,5.2\n4,5,6,%s\n"
)

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

func called(t *testing.T, args ...string) {
	t.Helper()
	var out, errs bytes.Buffer
	if code := Main(args, call.Streams{Out: &out, Err: &errs}); code != 0 {
		t.Fatalf("%v: exit %d: %s", args, code, errs.String())
	}
}

// recorded returns the run that a summary holds.
func recorded(t *testing.T, path string) record.Run {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var s struct{ Run record.Run }
	if err := json.Unmarshal(data, &s); err != nil {
		t.Fatal(err)
	}
	return s.Run
}

func filesIn(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		all[e.Name()] = string(data)
	}
	return all
}

// The record in the summary must be enough to write every file again to the byte, from the same place and, but for the
// paths in the summary, from another.
func TestARecordedRunGivesTheSameFiles(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	if err := os.Mkdir("in", 0o700); err != nil {
		t.Fatal(err)
	}
	put(t, "in/shed.geojson", fmt.Sprintf(viewedOutline, "Shed"))
	put(t, "in/spots.csv", "1,10,13,17.0\n2,23,13,17.3\n3,16,7,17.1\n9,16,20,0\n")
	put(t, "in/codes.csv", "code,role\nRF,OUTLINE\n")
	put(t, "limits.json", `{"pond_depth":"3 mm"}`)
	put(t, "own.json", `{"polyiso":"5.6 per in"}`)
	for name, args := range map[string][]string{
		"plain": {"check", "in/shed.geojson", "-o", "plain", "--overwrite", "--timings", "--fail-on", "urgent"},
		"flags": {
			"check", "in/shed.geojson", "in/spots.csv", "-o", "flags", "--units", "in/spots.csv=ft", "--frame", "spots.csv=local", "--drop", "9", "--keep-zero",
			"--columns", "point,x,y,z", "--code-list", "in/codes.csv", "--criteria", "limits.json", "--materials", "own.json", "--r-method", "area-weighted-u", "--tolerance", "1.5", "--contour", "50 mm", "--units-out", "us",
			"--write", "json,plan,setout,geojson", "--split", "--sheet", "a3", "--scale", "1:100", "--bench-mark", "2",
		},
		"campus": {"campus", "in", "-o", "campus", "--units", "m", "--frame", "local", "--columns", "point,x,y,z", "--write", "json,report"},
	} {
		var out, errs bytes.Buffer
		if code := Main(args, call.Streams{Out: &out, Err: &errs}); code != 0 && code != call.ExitPartial {
			t.Fatalf("%s: exit %d: %s", name, code, errs.String())
		}
		before := filesIn(t, name)
		run := recorded(t, filepath.Join(name, "shed.json"))
		for _, from := range []string{dir, filepath.Join(dir, "in")} {
			t.Chdir(from)
			folder, err := filepath.Rel(from, filepath.Join(dir, name))
			if err != nil {
				t.Fatal(err)
			}
			again, err := call.Repeat(commandOf(run), run, folder)
			if err != nil {
				t.Fatal(err)
			}
			if err := rerun(t.Context(), again); (err != nil) != (name == "campus") {
				t.Fatalf("%s: %v: %v", name, again.Arguments, err)
			}
			if from != dir {
				continue
			}
			for file, text := range filesIn(t, folder) {
				if before[file] != text {
					t.Errorf("%s: %s differs:\n%s\n%s", name, file, before[file], text)
				}
			}
		}
		t.Chdir(dir)
		if after := recorded(t, filepath.Join(name, "shed.json")); keyed(after) != keyed(run) {
			t.Errorf("%s: recorded from another place: %s, want %s", name, keyed(after), keyed(run))
		}
	}
}

func keyed(r record.Run) string { return string(r.Object().Append(nil)) }

// A summary is a file that anybody may have written: only what a record holds is taken from it.
func TestRecordsThatAreRefused(t *testing.T) {
	for name, run := range map[string]record.Run{
		"none":            {},
		"another command": {Command: "demo", Files: []string{"x"}},
		"no file":         {Command: "check"},
		"out":             {Command: "check", Files: []string{"a"}, Flags: []string{"--out=/tmp/x"}},
		"short out":       {Command: "check", Files: []string{"a"}, Flags: []string{"-o=/tmp/x"}},
		"unknown":         {Command: "check", Files: []string{"a"}, Flags: []string{"--frobnicate=1"}},
		"no flag":         {Command: "check", Files: []string{"a"}, Flags: []string{""}},
	} {
		if r, err := call.Repeat(commandOf(run), run, "out"); err == nil {
			t.Errorf("%s: %v", name, r.Arguments)
		}
	}
	r, err := call.Repeat(newCheck(call.Streams{}), record.Run{Command: "check", Files: []string{"--help", "../-o"}}, "out")
	if err != nil || !slices.Equal(r.Arguments, []string{"check", "--out=out", "--overwrite", "--", filepath.Join("out", "--help"), "-o"}) {
		t.Errorf("files that look like flags: %q, %v", r.Arguments, err)
	}
}

// Each flag whose value is the path of a file must be marked, so that its path is recorded as one.
func TestFlagsOfFilesAreMarked(t *testing.T) {
	newCheck(call.Streams{}).Flags().VisitAll(func(f *pflag.Flag) {
		if strings.Contains(f.Usage, "`FILE`") != call.IsPath(f) {
			t.Errorf("--%s: marked as a path: %v; its help: %s", f.Name, call.IsPath(f), f.Usage)
		}
	})
}

// Hosts as browsers send them.
func TestKnownHosts(t *testing.T) {
	for _, c := range []struct {
		given, ip string
		yes, no   []string
	}{
		{
			"127.0.0.1", "127.0.0.1",
			[]string{"127.0.0.1:4000", "localhost:4000", "LOCALHOST:4000"},
			[]string{"", "127.0.0.1", "127.0.0.1:4001", "roofs.invalid:4000", "localhost.roofs.invalid:4000", "192.0.2.7:4000", "[::1]:4000"},
		},
		{"::1", "::1", []string{"[::1]:4000", "localhost:4000"}, []string{"[::2]:4000", "127.0.0.1:4000"}},
		{"192.0.2.7", "192.0.2.7", []string{"192.0.2.7:4000"}, []string{"localhost:4000", "roofs.invalid:4000", "192.0.2.8:4000"}},
		{"roofpc", "192.0.2.7", []string{"roofpc:4000", "192.0.2.7:4000"}, []string{"other:4000"}},
		{"0.0.0.0", "0.0.0.0", []string{"192.0.2.7:4000", "localhost:4000"}, []string{"roofs.invalid:4000"}},
		{"::", "::", []string{"192.0.2.7:4000", "[2001:db8::1]:4000"}, []string{"roofs.invalid:4000"}},
	} {
		known := knownHosts(c.given, &net.TCPAddr{IP: net.ParseIP(c.ip), Port: 4000})
		for _, host := range c.yes {
			if !known(host) {
				t.Errorf("at %s: %q is refused", c.given, host)
			}
		}
		for _, host := range c.no {
			if known(host) {
				t.Errorf("at %s: %q is served", c.given, host)
			}
		}
	}
}

// wire keeps what a command writes, for a test that reads it meanwhile.
type wire struct {
	mutex sync.Mutex
	text  bytes.Buffer
}

func (w *wire) Write(b []byte) (int, error) {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	return w.text.Write(b)
}

func (w *wire) String() string {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	return w.text.String()
}

// until waits for something to come true.
func until(t *testing.T, what string, is func() bool) {
	t.Helper()
	for !is() {
		if end, ok := t.Deadline(); ok && time.Until(end) < 5*time.Second {
			t.Fatalf("not yet, when the tests have to end: %s", what)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// viewed checks a roof and serves the result; it returns the address, the folder of the input, and what the
// terminal says.
func viewed(t *testing.T) (address, dir string, said *wire) {
	t.Helper()
	dir = t.TempDir()
	put(t, filepath.Join(dir, "shed.geojson"), fmt.Sprintf(viewedOutline, "Shed"))
	put(t, filepath.Join(dir, "shed.csv"), fmt.Sprintf(viewedSpots, "5.2"))
	called(t, "check", filepath.Join(dir, "shed.geojson"), filepath.Join(dir, "shed.csv"), "-o", filepath.Join(dir, "out"))
	out, errs := &wire{}, &wire{}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	k := &view{Streams: call.Streams{Out: out, Err: errs}, listen: "127.0.0.1"}
	go func() { done <- k.run(ctx, filepath.Join(dir, "out")) }()
	t.Cleanup(func() {
		cancel()
		if err := <-done; err != nil {
			t.Errorf("it ends with %v", err)
		}
		if left, _ := filepath.Glob(filepath.Join(dir, "out", ".runnel-*")); len(left) > 0 {
			t.Errorf("unfinished files: %v", left)
		}
	})
	until(t, "it prints its address", func() bool { return strings.HasSuffix(out.String(), "\n") })
	return strings.TrimSpace(out.String()), dir, errs
}

// get returns the body at an address.
func get(t *testing.T, address string) string {
	t.Helper()
	r, err := http.Get(address) //nolint:gosec // our own server
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = r.Body.Close() }()
	body, err := io.ReadAll(r.Body)
	if err != nil || r.StatusCode != http.StatusOK {
		t.Fatalf("%s: %s, %v", address, r.Status, err)
	}
	return string(body)
}

// eval returns what a script gives in the tab; an error, as while the page loads, gives the zero value.
func eval[T any](ctx context.Context, script string) T {
	v, _ := chromedp.Run(ctx, chromedp.Evaluate[T](script))
	return v
}

// A page that is open shows the new result by itself, keeps its view, and shows why a change cannot be used.
func TestOpenPagesFollowTheInput(t *testing.T) {
	t.Parallel()
	ctx := chromium.Tab(t)
	address, dir, said := viewed(t)
	spots := filepath.Join(dir, "shed.csv")
	if err := chromedp.Do(ctx, chromedp.Navigate(address+"show/shed.report.html#tables")); err != nil {
		t.Fatal(err)
	}
	const inside = `document.querySelector("iframe").contentDocument`
	shows := func(text string) func() bool {
		return func() bool {
			return eval[bool](ctx, fmt.Sprintf(`%s.body.innerText.includes(%q)`, inside, text))
		}
	}
	until(t, "the report says that there is no pond", shows("No ponds found"))
	put(t, spots, fmt.Sprintf(viewedSpots, "4.9"))
	until(t, "the report shows the pond", shows("1 pond"))
	if hash := eval[string](ctx, `document.querySelector("iframe").contentWindow.location.hash`); hash != "#tables" {
		t.Errorf("the view was lost: %q", hash)
	}
	put(t, spots, "point,x,y,z\n1,3,4,five\n")
	const problem = `document.getElementById("problem")`
	until(t, "the page says what is wrong", func() bool {
		return eval[bool](ctx, fmt.Sprintf(`!%s.hidden && %s.textContent.includes("shed.csv line 2")`, problem, problem))
	})
	if !shows("1 pond")() {
		t.Error("the last result is gone")
	}
	if !strings.Contains(said.String(), "shed.csv line 2") {
		t.Errorf("the terminal says %q", said.String())
	}
	put(t, spots, fmt.Sprintf(viewedSpots, "5.2"))
	until(t, "the report says again that there is no pond", shows("No ponds found"))
	until(t, "the problem is gone", func() bool { return eval[bool](ctx, problem+".hidden") })

	if err := chromedp.Do(ctx, chromedp.Navigate(address)); err != nil {
		t.Fatal(err)
	}
	put(t, spots, fmt.Sprintf(viewedSpots, "4.9"))
	until(t, "the list gives the pond's depth", func() bool {
		return strings.Contains(eval[string](ctx, `document.querySelector("td[data-head='deepest pond']").textContent`), " mm")
	})
}

// Without its input a result is still shown.
func TestInputsGone(t *testing.T) {
	address, dir, said := viewed(t)
	before := get(t, address+"file/shed.json")
	if err := os.Remove(filepath.Join(dir, "shed.csv")); err != nil {
		t.Fatal(err)
	}
	until(t, "it says so", func() bool { return strings.Contains(get(t, address+"state"), "there is no such file") })
	if get(t, address+"file/shed.json") != before {
		t.Error("the last result has changed")
	}
	if !strings.Contains(said.String(), "shed.csv") {
		t.Errorf("the terminal says %q", said.String())
	}
}

func TestViewRefuses(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "shed.geojson"), fmt.Sprintf(viewedOutline, "Shed"))
	put(t, filepath.Join(dir, "shed.csv"), fmt.Sprintf(viewedSpots, "5.2"))
	out := filepath.Join(dir, "out")
	called(t, "check", filepath.Join(dir, "shed.geojson"), filepath.Join(dir, "shed.csv"), "-o", out, "--write", "json")
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"view"}, call.ExitUsage, "give the folder"},
		{[]string{"view", filepath.Join(dir, "none")}, call.ExitRefused, "there is no such folder"},
		{[]string{"view", dir}, call.ExitRefused, "no summary of a roof"},
		{[]string{"view", out, "--listen", "127.0.0.1:port:1:"}, call.ExitRefused, "--listen"},
		{[]string{"view", out, "--listen", "127.0.0.1:99999"}, call.ExitRefused, "--listen"},
		{[]string{"view", out, "--listen", "192.0.2.7"}, call.ExitRefused, "--listen 192.0.2.7"}, // an address for documents (RFC 5737), nobody's
	} {
		var o, e bytes.Buffer
		if code := Main(c.args, call.Streams{Out: &o, Err: &e}); code != c.code || !strings.Contains(e.String(), c.says) {
			t.Errorf("%v: exit %d: %s", c.args, code, e.String())
		}
	}
}

// The program itself, ended as a user ends it.
func TestInterruptEndsView(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "shed.geojson"), fmt.Sprintf(viewedOutline, "Shed"))
	put(t, filepath.Join(dir, "shed.csv"), fmt.Sprintf(viewedSpots, "5.2"))
	called(t, "campus", dir, "-o", filepath.Join(dir, "out"))
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	out, errs := &wire{}, &wire{}
	c := exec.Command(program, "view", filepath.Join(dir, "out")) //nolint:gosec // our own
	c.Env = append(os.Environ(), asProgram+"=")
	c.Stdout, c.Stderr = out, errs
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	until(t, "it prints its address", func() bool { return strings.HasSuffix(out.String(), "\n") })
	address := strings.TrimSpace(out.String())
	if body := get(t, address); !strings.Contains(body, "campus.csv") || !strings.Contains(body, "shed.json") {
		t.Errorf("the list:\n%s", body)
	}
	if err := c.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	if err := c.Wait(); err != nil {
		t.Errorf("it ends with %v: %s", err, errs.String())
	}
	if r, err := http.Get(address); err == nil { //nolint:gosec // our own server
		_ = r.Body.Close()
		t.Error("it still answers")
	}
}
