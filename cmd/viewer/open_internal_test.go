package viewer

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"runnel/export/palette"
)

// summaryOf is a summary of a roof with that name.
func summaryOf(name string) string {
	return fmt.Sprintf(`{"schema":"runnel-summary-1","units":"si","roof":{"name":%q},"run":{"command":"check","files":["../a.csv"]}}`, name)
}

// filled makes a folder of files.
func filled(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "auf maß 1")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// A folder that cannot be shown says why, and what to name or to do.
func TestFoldersThatCannotBeShown(t *testing.T) {
	lost := filepath.Join(t.TempDir(), "lost")
	empty := filled(t, nil)
	other := filled(t, map[string]string{"a.json": `{"schema":"other"}`, "b.json": "{", "c.report.html": "<p>", "d.json.bak": summaryOf("D"), "e.change.json": summaryOf("E"), "notes.txt": "x"})
	aFile := filepath.Join(other, "notes.txt")
	for path, want := range map[string]string{
		lost:                       lost + ": there is no such folder; name the folder that check or campus wrote into",
		aFile:                      aFile + ": this is a file; name the folder that check or campus wrote into",
		empty:                      empty + ": there is no summary of a roof in it; write one with: runnel check FILES -o " + empty,
		other:                      other + ": there is no summary of a roof in it; write one with: runnel check FILES -o " + other,
		filepath.Join(aFile, "in"): "open the folder: ",
	} {
		f, err := Open(path)
		if err == nil {
			t.Errorf("%s is shown: %+v", path, f.roofs)
			continue
		}
		if got := err.Error(); got != want && (want != "open the folder: " || !strings.HasPrefix(got, want)) {
			t.Errorf("%s: %s, want %s", path, got, want)
		}
	}
	// What looks like a summary and is a folder, or a link, is none.
	dir := filled(t, map[string]string{"real.json": summaryOf("Real")})
	if err := os.Mkdir(filepath.Join(dir, "folder.json"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("real.json", filepath.Join(dir, "link.json")); err != nil {
		t.Fatal(err)
	}
	f, err := Open(dir)
	if err != nil || len(f.roofs) != 1 || f.roofs[0].Stem != "real" {
		t.Errorf("%+v, %v", f, err)
	}
	_ = f.Close()
}

// asked asks the handler of a folder as a browser of this machine does.
func asked(t *testing.T, f *Folder, target string) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest(http.MethodGet, target, http.NoBody)
	r.Host = "127.0.0.1:4000"
	w := httptest.NewRecorder()
	f.Handler(Guard{Known: func(h string) bool { return h == "127.0.0.1:4000" }, Wrote: func(string, []byte) bool { return false }}).ServeHTTP(w, r)
	return w
}

// Names that people give, with blanks and umlauts, are listed as they read and found by their escaped address; the state of a roof is asked by its stem.
func TestNamesThatPeopleGive(t *testing.T) {
	dir := filled(t, map[string]string{"dach ü 1.json": summaryOf("Dach über <Tor> & 1"), "dach ü 1.report.html": "<p>page"})
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	page := asked(t, f, "/").Body.String()
	if !strings.Contains(page, "Dach über &lt;Tor&gt; &amp; 1") || strings.Contains(page, "<Tor>") {
		t.Errorf("the name is not said:\n%s", page)
	}
	if w := asked(t, f, "/file/dach%20%C3%BC%201.json"); w.Code != http.StatusOK || w.Body.String() != summaryOf("Dach über <Tor> & 1") {
		t.Errorf("%d, %s", w.Code, w.Body)
	}
	// A page of somebody else is handed out whole, as a download.
	if w := asked(t, f, "/file/dach%20%C3%BC%201.report.html"); w.Code != http.StatusOK || w.Body.String() != "<p>page" || w.Header().Get("Content-Disposition") != "attachment" {
		t.Errorf("%d, %q, %v", w.Code, w.Body, w.Header())
	}
	state := func(query string) (s status) {
		w := asked(t, f, "/state"+query)
		if err := json.Unmarshal(w.Body.Bytes(), &s); err != nil || w.Code != http.StatusOK {
			t.Errorf("%q: %d, %v", query, w.Code, err)
		}
		return s
	}
	all, one, none := state(""), state("?roof=dach%20%C3%BC%201"), state("?roof=other")
	if all.Version == "" || one.Version == "" || one.Checked == "" || one.Problem != "" || none.Problem != "There is no result of this name any more. See all roofs." {
		t.Errorf("%+v, %+v, %+v", all, one, none)
	}
	// A file that changes gives another version of its roof, and of all.
	later := time.Now().Add(time.Hour)
	if err := os.Chtimes(filepath.Join(dir, "dach ü 1.report.html"), later, later); err != nil {
		t.Fatal(err)
	}
	if err := f.list(); err != nil {
		t.Fatal(err)
	}
	if now := state("?roof=dach%20%C3%BC%201"); now.Version == one.Version || now.Checked != one.Checked || state("").Version == all.Version {
		t.Errorf("%+v, was %+v", now, one)
	}
}

// A folder that is taken away while it is shown gives no error of the server: what was listed is not there any more.
func TestAFolderThatIsTakenAway(t *testing.T) {
	dir := filled(t, map[string]string{"a.json": summaryOf("A"), "a.report.html": "<p>"})
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	if !f.current() {
		t.Error("it is not what was listed")
	}
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	for target, code := range map[string]int{"/": 200, "/state": 200, "/file/a.json": 404, "/file/a.report.html": 404, "/thumb/a.svg": 404, "/show/a.report.html": 200} {
		if w := asked(t, f, target); w.Code != code {
			t.Errorf("%s: %d, want %d", target, w.Code, code)
		}
	}
	if f.current() {
		t.Error("it is still what was listed")
	}
}

// A map too large for a thumb-nail, a torn one, and none give none; one at the limit gives it, with each layer in its own line.
func TestMapsOfThumbs(t *testing.T) {
	shapes := layerOf(featureOf("outline", "Polygon", "[[[0,0],[94,0],[94,69],[0,69],[0,0]]]"), featureOf("curb", "Polygon", "[[[10,10],[20,10],[20,20],[10,10]]]"), featureOf("pond", "Polygon", "[[[30,10],[40,10],[40,20],[30,10]]]"), featureOf("outlet", "LineString", "[[0,0],[94,0]]"))
	padded := func(size int) string { return string(shapes) + strings.Repeat(" ", size-len(shapes)) }
	for name, c := range map[string]struct {
		text string
		code int
	}{
		"whole": {string(shapes), 200}, "at the limit": {padded(longestMap), 200}, "over it": {padded(longestMap + 1), 404}, "torn": {string(shapes[:50]), 404}, "empty": {"", 404}, "no place": {`{"features":[{"properties":{"layer":"outline"},"geometry":{"type":"Polygon","coordinates":"x"}}]}`, 404},
	} {
		f, err := Open(filled(t, map[string]string{"a.json": summaryOf("A"), "a.local.geojson": c.text}))
		if err != nil {
			t.Fatal(err)
		}
		w := asked(t, f, "/thumb/a.svg")
		if w.Code != c.code {
			t.Errorf("%s: %d, want %d", name, w.Code, c.code)
		}
		if w.Code != http.StatusOK {
			continue
		}
		var got []string
		for _, e := range elements(t, w.Body.Bytes())[1:] {
			got = append(got, e["fill"]+" "+e["stroke"]+" "+e["stroke-width"])
		}
		want := []string{"#fff " + palette.Ink + " 2.5", "#bbb " + palette.Ink + " 1", palette.Water + " " + palette.Water + " 1.5", "none " + palette.Primary + " 3"}
		if strings.Join(got, "; ") != strings.Join(want, "; ") {
			t.Errorf("%s: drawn as %q, want %q", name, got, want)
		}
		_ = f.Close()
	}
}

// A page states its own policy, which is kept where it is a plain one; a page that states none, or one that would break out of its header, may do nothing.
func TestPoliciesOfPages(t *testing.T) {
	stated := func(p string) string {
		return `<html><meta http-equiv="Content-Security-Policy" content="` + p + `"><p>`
	}
	for name, c := range map[string]struct{ name, content, want string }{
		"a drawing":    {"a.plan.svg", stated("default-src 'none'"), drawingPolicy},
		"a paper":      {"a.plan.pdf", "x", drawingPolicy},
		"a page":       {"a.report.html", stated("default-src 'none'; script-src 'sha256-x'"), "default-src 'none'; script-src 'sha256-x'" + reportPolicy},
		"none":         {"a.report.html", "<p>", dataPolicy},
		"without end":  {"a.report.html", `<meta http-equiv="Content-Security-Policy" content="default-src *`, dataPolicy},
		"two lines":    {"a.report.html", stated("default-src 'none'\r\nX-Frame-Options: ALLOW"), dataPolicy},
		"another mark": {"a.report.html", stated("default-src <b>"), dataPolicy},
		"an entity":    {"a.report.html", stated("default-src &quot;"), dataPolicy},
	} {
		if got := policyOf(c.name, []byte(c.content)); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	for name, page := range map[string]bool{"a.html": true, "a.report.html": true, "a.svg": true, "a.pdf": true, "a.json": false, "a.html~": false, "html": false, "a.HTML": false} {
		if IsPage(name) != page {
			t.Errorf("%s: %v", name, !page)
		}
	}
}
