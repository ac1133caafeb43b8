package workqueue_test

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"runnel/cmd/workqueue"
)

const good = `{"version":"v1","run":"0123456789abcdef","folder":"/data/out","chunk":1,"from":0,"to":9}`

// A message that is no chunk is refused, whatever it asks for.
func TestMessages(t *testing.T) {
	if c, err := workqueue.ParseChunk([]byte(good)); err != nil || c.Folder != "/data/out" || c.To != 9 {
		t.Fatalf("%+v %v", c, err)
	}
	for what, text := range map[string]string{
		"nothing":        "",
		"another text":   good + good,
		"a roof":         `{"type":"FeatureCollection"}`,
		"a path as name": strings.Replace(good, "0123456789abcdef", "../../../../etc/", 1),
		"a short name":   strings.Replace(good, "0123456789abcdef", "01", 1),
		"a way up":       strings.Replace(good, "/data/out", "/data/../etc", 1),
		"a path from":    strings.Replace(good, "/data/out", "out", 1),
		"chunk 0":        strings.Replace(good, `"chunk":1`, `"chunk":0`, 1),
		"nothing of it":  strings.Replace(good, `"to":9`, `"to":0`, 1),
		"before it":      strings.Replace(good, `"from":0`, `"from":-1`, 1),
		"far too much":   strings.Replace(good, `"to":9`, `"to":99999999`, 1),
		"far away":       strings.Replace(good, `"from":0,"to":9`, `"from":9000000000000000000,"to":9000000000000000009`, 1),
		"very long":      strings.Replace(good, "/data/out", "/"+strings.Repeat("a", 9000), 1),
	} {
		if c, err := workqueue.ParseChunk([]byte(text)); err == nil {
			t.Errorf("%s: %+v", what, c)
		} else if len(err.Error()) > 300 {
			t.Errorf("%s: the message says much of it: %v", what, err)
		}
	}
}

// Whatever is taken for a chunk is one: its name is no path, its folder is whole, its piece bounded.
func FuzzParseChunk(f *testing.F) {
	f.Add([]byte(good))
	f.Add([]byte(`{"run":"0123456789abcdef","folder":"/a/./b","chunk":1e3,"to":16777216}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := workqueue.ParseChunk(text)
		if err != nil {
			return
		}
		if len(c.Run) != 16 || strings.ContainsAny(c.Run, "/\\.*> ") || !filepath.IsAbs(c.Folder) || strings.Contains(c.Folder, "..") && filepath.Clean(c.Folder) != c.Folder ||
			c.To-c.From < 1 || c.To-c.From > workqueue.MostPiece || c.From < 0 || c.Number < 1 {
			t.Errorf("%+v", c)
		}
		back, _ := json.Marshal(c)
		if len(back) > 8<<10 {
			return // letters that JSON writes in six take it over what one message holds: the queue refuses to send it
		}
		if again, err := workqueue.ParseChunk(back); err != nil || again != c {
			t.Errorf("%+v reads back as %+v: %v", c, again, err)
		}
	})
}

// What is no server, or gives a secret away, is refused.
func TestURLs(t *testing.T) {
	for _, url := range []string{"nats://127.0.0.1:4222", "tls://queue.example", "nats://a,nats://b:1"} {
		if err := workqueue.CheckURL(url); err != nil {
			t.Errorf("%s: %v", url, err)
		}
	}
	for url, says := range map[string]string{
		"": "nats://HOST", "127.0.0.1:4222": "nats://HOST", "http://a": "nats://HOST", "nats://": "nats://HOST", "nats://a/b": "nats://HOST", "nats://a,": "nats://HOST",
		"nats://\x7f": "nats://HOST", "nats://me:secret@a": "NATS_PASSWORD", "nats://token@a": "NATS_TOKEN",
	} {
		if err := workqueue.CheckURL(url); err == nil || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "secret") {
			t.Errorf("%q: %v, want it to say %s", url, err, says)
		}
	}
}
