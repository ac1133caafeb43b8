package trust_test

import (
	"crypto/sha256"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"runnel/cmd/trust"
	"runnel/export/record"
)

var run = record.Run{Command: "check", Files: []string{"../roof.geojson"}, Flags: []string{"--split=true"}}

// asked is what a child of this test is asked: the kind, the folder, and more. Another process knows only what stands
// in the configuration folder.
const asked = "RUNNEL_TRUST_ASKED"

func TestMain(m *testing.M) {
	text, is := os.LookupEnv(asked)
	if !is {
		os.Exit(m.Run())
	}
	words := strings.Split(text, "|")
	known := false
	switch words[0] {
	case "run":
		r := run
		r.Files = words[2:]
		known = trust.Run(words[1], r)
	case "page":
		known = trust.Page(words[1], words[2], []byte(words[3]))
	case "remember":
		known = trust.Remember(words[1], &run, nil) == nil
	}
	if known {
		os.Exit(0)
	}
	os.Exit(7)
}

// elsewhere asks another process.
func elsewhere(t *testing.T, words ...string) bool {
	t.Helper()
	c := exec.Command(os.Args[0]) //nolint:gosec // this test
	c.Env = append(os.Environ(), asked+"="+strings.Join(words, "|"))
	err := c.Run()
	if err != nil && c.ProcessState.ExitCode() != 7 {
		t.Fatal(err)
	}
	return err == nil
}

// configured sets a configuration folder for the test and returns it.
func configured(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", dir)
	t.Setenv("HOME", dir)
	if got, err := os.UserConfigDir(); err != nil || !strings.HasPrefix(got, dir) {
		t.Skipf("the configuration folder is %s, %v", got, err)
	}
	return dir
}

func TestOnlyWhatWasWritten(t *testing.T) {
	configured(t)
	dir := t.TempDir()
	if elsewhere(t, "run", dir, "../roof.geojson") {
		t.Error("a run is known before it was made")
	}
	if err := trust.Remember(dir, &run, map[string]trust.Sum{"a.report.html": sha256.Sum256([]byte("page"))}); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink(dir, link); err != nil {
		t.Skip(err)
	}
	for _, c := range []struct {
		known bool
		words []string
	}{
		{true, []string{"run", dir, "../roof.geojson"}},
		{true, []string{"run", link, "../roof.geojson"}},
		{true, []string{"page", dir, "a.report.html", "page"}},
		{false, []string{"run", dir, "../roof.geojson", "/etc/hosts"}},
		{false, []string{"run", dir, "/etc/hosts"}},
		{false, []string{"run", t.TempDir(), "../roof.geojson"}}, // copied to another place
		{false, []string{"page", dir, "a.report.html", "page "}},
		{false, []string{"page", dir, "b.report.html", "page"}},
		{false, []string{"page", t.TempDir(), "a.report.html", "page"}},
	} {
		if got := elsewhere(t, c.words...); got != c.known {
			t.Errorf("%v: known %v, want %v", c.words, got, c.known)
		}
	}
	configured(t) // another user
	if elsewhere(t, "run", dir, "../roof.geojson") || elsewhere(t, "page", dir, "a.report.html", "page") {
		t.Error("another user's results are taken for one's own")
	}
	if !trust.Run(dir, run) || !trust.Page(dir, "a.report.html", []byte("page")) {
		t.Error("the process has forgotten what it wrote")
	}
}

func TestKeyIsTheUsersOwn(t *testing.T) {
	base := configured(t)
	dir := t.TempDir()
	if err := trust.Remember(dir, &run, nil); err != nil {
		t.Fatal(err)
	}
	found, err := filepath.Glob(filepath.Join(base, "*", "*"))
	if more, _ := filepath.Glob(filepath.Join(base, "*", "*", "runnel", "*")); len(more) > 0 {
		found = more
	}
	if err != nil || len(found) != 2 {
		t.Fatalf("the configuration folder has %v, %v", found, err)
	}
	for _, path := range found {
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("%s: %v, %v", path, info.Mode(), err)
		}
	}
	key := found[0]
	if err := os.Chmod(key, 0o644); err != nil { //nolint:gosec // what is tested
		t.Fatal(err)
	}
	if elsewhere(t, "run", dir, "../roof.geojson") {
		t.Error("a key that others can read counts")
	}
	if err := trust.Remember(dir, &run, nil); err == nil || !strings.Contains(err.Error(), "can be read by others") {
		t.Errorf("got %v", err)
	}
	if err := os.WriteFile(key, []byte("short"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := trust.Remember(dir, &run, nil); err == nil {
		t.Error("half a key counts")
	}
}

// Of many processes that begin at once all have one key.
func TestOneKeyForAll(t *testing.T) {
	configured(t)
	dirs := make([]string, 8)
	var wait sync.WaitGroup
	for i := range dirs {
		dirs[i] = t.TempDir()
		wait.Go(func() {
			if !elsewhere(t, "remember", dirs[i]) {
				t.Error("a run is not remembered")
			}
		})
	}
	wait.Wait()
	for _, dir := range dirs {
		if !elsewhere(t, "run", dir, "../roof.geojson") {
			t.Errorf("%s is forgotten", dir)
		}
	}
}

// Without a configuration folder a process knows what it wrote itself.
func TestWithoutConfiguration(t *testing.T) {
	base := configured(t)
	blocked := filepath.Join(base, "file")
	if err := os.WriteFile(blocked, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	t.Setenv("XDG_CONFIG_HOME", blocked)
	t.Setenv("HOME", blocked)
	dir := t.TempDir()
	if err := trust.Remember(dir, &run, nil); err == nil {
		t.Error("it says that it remembers")
	}
	if !trust.Run(dir, run) || elsewhere(t, "run", dir, "../roof.geojson") {
		t.Error("only this process should know")
	}
	// Nothing else is trusted for that: no other folder, no other call, no page.
	other := run
	other.Files = []string{"../other.geojson"}
	if trust.Run(t.TempDir(), run) || trust.Run(dir, other) || trust.Page(dir, "report.html", nil) {
		t.Error("what was never written is trusted")
	}
}
