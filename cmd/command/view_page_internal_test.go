package command

import (
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/cmd/call"
)

func TestViewPageWithoutAPage(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, c := range []struct{ args, want string }{{"", "make page"}, {"nowhere", "nowhere holds no page"}} {
		var said strings.Builder
		if code := Main(append([]string{"view", "--page"}, strings.Fields(c.args)...), call.Streams{Out: io.Discard, Err: &said}); code != 3 || !strings.Contains(said.String(), c.want) {
			t.Errorf("%q: exit %d: %s", c.args, code, said.String())
		}
	}
}

// The page is served with its types, to this machine's own names alone, and for reading alone.
func TestViewPage(t *testing.T) {
	here := t.TempDir()
	t.Chdir(here)
	folder := filepath.Join("dist", "page")
	if err := os.MkdirAll(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"index.html": "<p>the page</p>", "app.js": "0;", "runnel.wasm.gz": "x"} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	reader, writer := io.Pipe()
	serving, stop := context.WithCancel(context.Background())
	k := &view{Streams: call.Streams{Out: writer, Err: io.Discard}, listen: "127.0.0.1"}
	ended := make(chan error, 1)
	go func() { ended <- k.servePage(serving, nil) }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
	line := make([]byte, 200)
	n, err := reader.Read(line)
	if err != nil {
		t.Fatal(err)
	}
	address := strings.TrimSpace(string(line[:n]))
	ask := func(method, path, host string) (int, string, string) {
		q, err := http.NewRequestWithContext(t.Context(), method, address+path, http.NoBody)
		if err != nil {
			t.Fatal(err)
		}
		if host != "" {
			q.Host = host
		}
		r, err := http.DefaultClient.Do(q)
		if err != nil {
			t.Fatal(err)
		}
		defer func() { _ = r.Body.Close() }()
		body, err := io.ReadAll(r.Body)
		if err != nil {
			t.Fatal(err)
		}
		return r.StatusCode, r.Header.Get("Content-Type"), string(body)
	}
	if code, _, body := ask(http.MethodGet, "", ""); code != http.StatusOK || !strings.Contains(body, "the page") {
		t.Errorf("the page: %d %s", code, body)
	}
	if code, kind, _ := ask(http.MethodGet, "app.js", ""); code != http.StatusOK || !strings.HasPrefix(kind, "text/javascript") {
		t.Errorf("a script: %d %s", code, kind)
	}
	if code, _, _ := ask(http.MethodGet, "", "elsewhere.example"); code != http.StatusForbidden {
		t.Errorf("another host: %d", code)
	}
	if code, _, _ := ask(http.MethodPost, "", ""); code != http.StatusMethodNotAllowed {
		t.Errorf("a post: %d", code)
	}
	if code, _, _ := ask(http.MethodGet, "..%2f..%2fgo.mod", ""); code != http.StatusNotFound {
		t.Errorf("a file outside: %d", code)
	}
}
