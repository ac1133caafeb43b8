package workqueue_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"runnel/cmd/workqueue"
)

// Each number of a message at the last that is taken and the first that is not: chunks count from 1, a list may have 2^40 bytes (a tebibyte), a piece 2^24 (16 MiB), a message 8 KiB.
func TestBoundsOfMessages(t *testing.T) {
	for _, c := range []struct {
		number   int
		from, to int64
		ok       bool
	}{
		{1, 0, 1, true},
		{0, 0, 1, false},
		{-1, 0, 1, false},
		{1 << 30, 0, 1, true},
		{1, 0, 0, false},
		{1, 5, 4, false},
		{1, 5, 5, false},
		{1, 5, 6, true},
		{1, -1, 1, false},
		{1, 0, 16 << 20, true},
		{1, 0, 16<<20 + 1, false},
		{1, 1, 16<<20 + 1, true},
		{1, 1<<40 - 1, 1 << 40, true},
		{1, 1<<40 - 1, 1<<40 + 1, false},
		{1, 1 << 40, 1<<40 + 1, false},
	} {
		text := fmt.Sprintf(`{"version":"v1","run":"0123456789abcdef","folder":"/data/out","chunk":%d,"from":%d,"to":%d}`, c.number, c.from, c.to)
		got, err := workqueue.ParseChunk([]byte(text))
		if (err == nil) != c.ok {
			t.Errorf("%s: %v", text, err)
		}
		if err == nil && (got.Number != c.number || got.From != c.from || got.To != c.to || got.Version != "v1" || got.Folder != "/data/out" || got.Run != "0123456789abcdef") {
			t.Errorf("%s: %+v", text, got)
		}
		if want := fmt.Sprintf("a message asks for bytes %d to %d as chunk %d", c.from, c.to, c.number); err != nil && err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
	of := func(length int) string { // a message of so many bytes
		text := strings.Replace(good, "/data/out", "/"+strings.Repeat("a", length-len(good)+len("/data/out")-1), 1)
		if len(text) != length {
			t.Fatalf("%d bytes", len(text))
		}
		return text
	}
	if _, err := workqueue.ParseChunk([]byte(of(8192))); err != nil {
		t.Errorf("8,192 bytes: %v", err)
	}
	if _, err := workqueue.ParseChunk([]byte(of(8193))); err == nil || err.Error() != "a message of 8193 bytes is no chunk" {
		t.Errorf("8,193 bytes: %v", err)
	}
	for text, want := range map[string]string{
		"":            "a message is no chunk",
		"{":           "a message is no chunk",
		good + " ":    "",
		good + "\n{}": "a message is more than a chunk",
		`{"roof":1}`:  "a message is no chunk",
		strings.Replace(good, "0123456789abcdef", "0123456789ABCDEF", 1):  `a message names the run "0123456789ABCDEF"`,
		strings.Replace(good, "0123456789abcdef", "0123456789abcdef0", 1): `a message names the run "0123456789abcdef0"`,
		strings.Replace(good, "/data/out", "/data/out/", 1):               `a message names the folder "/data/out/", which is no whole path`,
		strings.Replace(good, "/data/out", "/auf maß/ü", 1):               "",
	} {
		_, err := workqueue.ParseChunk([]byte(text))
		if got := map[bool]string{true: "", false: fmt.Sprint(err)}[err == nil]; got != want {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}

// A server that lost its stream has nothing left of any run, and takes chunks again at once.
func TestAServerThatLostItsStream(t *testing.T) {
	url := serve(t, nil)
	q, err := open(t, url)
	if err != nil {
		t.Fatal(err)
	}
	run := chunk(1).Run
	for n := range 3 {
		if err := q.Put(t.Context(), chunk(n+1), 0); err != nil {
			t.Fatal(err)
		}
	}
	if left, workers, err := q.Left(t.Context(), run); left != 3 || workers || err != nil {
		t.Errorf("%d left, workers %v, %v", left, workers, err)
	}
	if left, _, err := q.Left(t.Context(), "fedcba9876543210"); left != 0 || err != nil {
		t.Errorf("of another run %d left, %v", left, err)
	}
	if err := streams(t, url).DeleteStream(t.Context(), "RUNNEL"); err != nil {
		t.Fatal(err)
	}
	if left, workers, err := q.Left(t.Context(), run); left != 0 || workers || err != nil {
		t.Errorf("after it was lost: %d left, workers %v, %v", left, workers, err)
	}
	if err := q.Put(t.Context(), chunk(2), 1); err != nil {
		t.Errorf("after it was lost: %v", err)
	}
	d, err := q.Next(t.Context(), 5*time.Second)
	if err != nil || d.Number != 2 || d.Times != 1 {
		t.Fatalf("%+v, %v", d, err)
	}
	if left, workers, err := q.Left(t.Context(), run); left != 1 || !workers || err != nil { // it is being worked on
		t.Errorf("while one works: %d left, workers %v, %v", left, workers, err)
	}
	d.Done()
}

// A worker that gives a chunk back for later does not get it at once; two runs do not get in each other's way.
func TestAChunkThatIsGivenBackForLater(t *testing.T) {
	q, err := open(t, serve(t, nil))
	if err != nil {
		t.Fatal(err)
	}
	other := chunk(1)
	other.Run = "fedcba9876543210"
	for _, c := range []*workqueue.Chunk{chunk(1), other} {
		if err := q.Put(t.Context(), c, 0); err != nil {
			t.Fatal(err)
		}
	}
	first, err := q.Next(t.Context(), 5*time.Second)
	if err != nil || first.Run != chunk(1).Run {
		t.Fatalf("%+v, %v", first, err)
	}
	first.Return(time.Hour)
	second, err := q.Next(t.Context(), 5*time.Second)
	if err != nil || second.Run != other.Run {
		t.Fatalf("%+v, %v", second, err)
	}
	second.Drop()
	if d, err := q.Next(t.Context(), 300*time.Millisecond); err == nil {
		t.Errorf("%+v comes again at once", d)
	}
	if err := q.Withdraw(t.Context(), other.Run); err != nil {
		t.Fatal(err)
	}
	if left, _, err := q.Left(t.Context(), chunk(1).Run); left != 1 || err != nil { // that of the first run stays
		t.Errorf("%d left, %v", left, err)
	}
}

// What stands in the environment and cannot be used is told by its name with what mends it, before any server is asked.
func TestAccessThatCannotBeUsed(t *testing.T) {
	dir := t.TempDir()
	seed := filepath.Join(dir, "seed")
	if err := os.WriteFile(seed, []byte("no seed"), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ path, mend string }{
		"NATS_NKEY":  {seed, "name a file that holds the seed of a user"},
		"NATS_CREDS": {filepath.Join(dir, "lost"), "name a file that is there and may be read"},
		"NATS_CA":    {filepath.Join(dir, "lost"), "name a file that is there and may be read"},
		"NATS_CERT":  {filepath.Join(dir, "lost"), "name a file that is there and may be read"},
	} {
		t.Setenv(name, c.path)
		_, err := workqueue.Open(t.Context(), "nats://127.0.0.1:1", "test", silence, func(string) {})
		if err == nil || !strings.HasPrefix(err.Error(), name+" cannot be used") || !strings.Contains(err.Error(), c.mend) {
			t.Errorf("%s: %v", name, err)
		}
		t.Setenv(name, "")
	}
}
