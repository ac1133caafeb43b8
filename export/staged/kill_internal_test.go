package staged

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A child of this test is ended by SIGKILL at one call of a write. What stands in the folder afterwards is all old or
// all new, once the next run has settled it; each file is whole even before.

// scene is what a child does. Child processes get it as JSON.
type scene struct {
	Dir      string
	At       int    // the call at which the child is killed, 0 for none
	Links    bool   // the file system has second names
	Fail     int    // the call at which the system fails before, 0 for none
	Settle   bool   // only settle
	Contents string // of the new files
}

const child = "RUNNEL_STAGED_CHILD"

func TestMain(m *testing.M) {
	if text, is := os.LookupEnv(child); is {
		var s scene
		if err := json.Unmarshal([]byte(text), &s); err != nil {
			panic(err)
		}
		fmt.Println(s.play())
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// names of the files that are written; big ones take several calls of write.
var names = []string{"a.geojson", "a.json", "a.plan.svg", "a.report.html"}

func content(name, what string) string {
	if strings.HasSuffix(name, ".html") {
		return strings.Repeat(what+name, 30000)
	}
	return what + name
}

// play writes or settles and returns how many calls were made.
func (s *scene) play() int {
	calls := 0
	before = func(call string) error {
		calls++
		if calls == s.At {
			_ = syscall.Kill(os.Getpid(), syscall.SIGKILL)
			select {}
		}
		if calls == s.Fail {
			return syscall.EIO
		}
		if call == "link" && !s.Links {
			return syscall.EPERM
		}
		return nil
	}
	defer func() { before = func(string) error { return nil } }()
	if s.Settle {
		Settle(s.Dir)
		return calls
	}
	var outputs []Output
	for _, n := range names {
		outputs = append(outputs, Output{n, func(w io.Writer) error { _, err := io.WriteString(w, content(n, s.Contents)); return err }})
	}
	set, err := Stage(Target{Dir: s.Dir, Overwrite: true}, outputs)
	if err == nil {
		_, err = set.Commit()
	}
	if err != nil && s.Fail == 0 {
		panic(err)
	}
	return calls
}

// run plays a scene in a process of its own, which the scene may kill.
func (s *scene) run(t *testing.T) {
	t.Helper()
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(os.Args[0]) //nolint:gosec // this test
	c.Env = append(os.Environ(), child+"="+string(text))
	out, err := c.CombinedOutput()
	var ended *exec.ExitError
	if err != nil && (!errors.As(err, &ended) || ended.ExitCode() != -1) {
		t.Fatalf("%+v: %v\n%s", *s, err, out)
	}
	if killed := err != nil; killed != (s.At > 0) {
		t.Fatalf("%+v: killed: %v", *s, killed)
	}
}

// quick returns a folder for the test, in memory where the system has one, since each write is synced.
func quick(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("/dev/shm", "staged")
	if err != nil {
		return t.TempDir()
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	return dir
}

// begun makes a folder in which some of the files stand already.
func begun(t *testing.T, base string, old int) string {
	t.Helper()
	dir, err := os.MkdirTemp(base, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names[:old] {
		if err := os.WriteFile(filepath.Join(dir, n), []byte(content(n, "old ")), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "mine.txt"), []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	return dir
}

// state returns "old" or "new", or what is wrong with a folder in which the first of names stood before.
func state(dir string, old int) string {
	stand := map[string]string{}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err.Error()
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			return err.Error()
		}
		stand[e.Name()] = string(data)
	}
	if stand["mine.txt"] != "mine" {
		return "a file of the user is gone"
	}
	delete(stand, "mine.txt")
	isOld, isNew := len(stand) == old, len(stand) == len(names)
	for i, n := range names {
		isOld = isOld && (i >= old || stand[n] == content(n, "old "))
		isNew = isNew && stand[n] == content(n, "new ")
	}
	switch {
	case isNew:
		return "new"
	case isOld:
		return "old"
	}
	var list []string
	for n, text := range stand {
		list = append(list, fmt.Sprintf("%s=%.8q(%d)", n, text, len(text)))
	}
	return "mixed: " + strings.Join(list, " ")
}

// wholeFiles refuses half a file under a name of its own.
func wholeFiles(t *testing.T, dir string) {
	t.Helper()
	for _, n := range names {
		data, err := os.ReadFile(filepath.Join(dir, n))
		if text := string(data); err == nil && text != content(n, "old ") && text != content(n, "new ") {
			t.Errorf("%s holds %d bytes that are neither the old nor the new ones", n, len(text))
		}
	}
}

// points calls f for each call of s, or for some of them in the short form.
func points(calls, most int, f func(at int)) {
	step := 1
	if os.Getenv("RUNNEL_LONG") == "" {
		step = max(1, calls/most)
	}
	for at := 1; at <= calls; at += step {
		f(at)
	}
}

func TestKilledAtEachCall(t *testing.T) {
	base := quick(t)
	kills, outcomes := 0, map[string]int{}
	for _, links := range []bool{true, false} {
		for old := 0; old <= len(names); old++ {
			count := scene{Dir: begun(t, base, old), Links: links, Contents: "new "}
			points(count.play(), 4, func(at int) {
				dir := begun(t, base, old)
				s := scene{Dir: dir, At: at, Links: links, Contents: "new "}
				s.run(t)
				kills++
				if links {
					wholeFiles(t, dir)
				}
				Settle(dir)
				got := state(dir, old)
				outcomes[got]++
				if got != "old" && got != "new" {
					t.Errorf("%d files stood, links %v, killed at call %d: %s", old, links, at, got)
				}
				_ = os.RemoveAll(dir)
			})
		}
	}
	t.Logf("%d kills: %v", kills, outcomes)
	if outcomes["old"] == 0 || outcomes["new"] == 0 {
		t.Errorf("the kills do not reach both sides of the moment: %v", outcomes)
	}
}

// The run that settles may be killed as well, and so may the one that puts back after a failure.
func TestKilledWhileItIsPutBack(t *testing.T) {
	base := quick(t)
	kills := 0
	for _, links := range []bool{true, false} {
		const old = 3
		count := scene{Dir: begun(t, base, old), Links: links, Contents: "new "}
		calls := count.play()
		points(calls, 3, func(first int) {
			settled := scene{Dir: begun(t, base, old), At: first, Links: links, Contents: "new "}
			settled.run(t)
			again := scene{Dir: settled.Dir, Settle: true, Links: links}
			points(again.play(), 2, func(at int) {
				dir := begun(t, base, old)
				s := scene{Dir: dir, At: first, Links: links, Contents: "new "}
				s.run(t)
				s = scene{Dir: dir, At: at, Settle: true, Links: links}
				s.run(t)
				kills += 2
				Settle(dir)
				if got := state(dir, old); got != "old" && got != "new" {
					t.Errorf("links %v, killed at call %d, and at call %d of putting back: %s", links, first, at, got)
				}
				_ = os.RemoveAll(dir)
			})
			_ = os.RemoveAll(settled.Dir)
		})
		points(calls, 3, func(fail int) {
			failing := scene{Dir: begun(t, base, old), Fail: fail, Links: links, Contents: "new "}
			all := failing.play()
			points(all-fail, 2, func(after int) {
				dir := begun(t, base, old)
				s := scene{Dir: dir, Fail: fail, At: fail + after, Links: links, Contents: "new "}
				s.run(t)
				kills++
				Settle(dir)
				if got := state(dir, old); got != "old" && got != "new" {
					t.Errorf("links %v, failed at call %d, killed at call %d: %s", links, fail, fail+after, got)
				}
				_ = os.RemoveAll(dir)
			})
			_ = os.RemoveAll(failing.Dir)
		})
	}
	t.Logf("%d kills", kills)
}

// Where a call fails the run says so, and nothing has changed.
func TestFailedAtEachCall(t *testing.T) {
	base := quick(t)
	for _, links := range []bool{true, false} {
		for old := 0; old <= len(names); old++ {
			count := scene{Dir: begun(t, base, old), Links: links, Contents: "new "}
			for fail, calls := 1, count.play(); fail <= calls; fail++ {
				s := scene{Dir: begun(t, base, old), Fail: fail, Links: links, Contents: "new "}
				s.play()
				got := state(s.Dir, old)
				if strings.HasPrefix(got, "mixed") { // what could not be removed then is removed by the next run
					Settle(s.Dir)
					got = state(s.Dir, old)
				}
				if got != "old" && got != "new" {
					t.Errorf("%d files stood, links %v, failed at call %d: %s", old, links, fail, got)
				}
				_ = os.RemoveAll(s.Dir)
			}
		}
	}
}
