package viewer

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"html/template"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path"
	"slices"
	"strings"
	"sync"
	"syscall"
	"time"

	"runnel/analysis/choose"
	"runnel/export/campus"
)

//go:embed page
var pages embed.FS

// templates are parsed when the first page is asked for: no other command needs them.
var templates = sync.OnceValue(func() *template.Template { return template.Must(template.ParseFS(pages, "page/*.html")) })

// types are the media types of what is served.
var types = map[string]string{
	".html": "text/html; charset=utf-8", ".svg": "image/svg+xml", ".pdf": "application/pdf", ".csv": "text/csv; charset=utf-8",
	".json": "application/json", ".geojson": "application/geo+json", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".gpkg": "application/geopackage+sqlite3",
	".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}

// Policies: of our own pages; what is added to the policy that a page of this program states itself; of a drawing of
// this program; of all else, which may do nothing.
const (
	pagePolicy = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; frame-src 'self'; img-src 'self' data:; " +
		"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
	reportPolicy  = "; connect-src 'none'; frame-src 'none'; frame-ancestors 'self'"
	drawingPolicy = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'"
	dataPolicy    = "sandbox; default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)

// Guard says who is served, and what.
type Guard struct {
	Known func(host string) bool                 // a host that a request may be addressed to, "127.0.0.1:4000"
	Wrote func(name string, content []byte) bool // a page that this program wrote here: it may be shown and run its scripts
}

// Handler serves the folder to who asks for one of the known hosts: the guard against pages of other sites that have a
// name of theirs point to this machine. Pages that this program did not write are offered as downloads.
func (f *Folder) Handler(g Guard) http.Handler {
	f.wrote = g.Wrote
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", pagePolicy)
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		guard(h, "no-store")
		if origin := r.Header.Get("Origin"); g.Known(r.Host) && origin != "" && origin != "http://"+r.Host {
			http.Error(w, "Other sites are not served.", http.StatusForbidden)
			return
		}
		if mayRead(w, r, g.Known) {
			f.route(w, r)
		}
	})
}

// mayRead reports whether a request is addressed to a known host and only reads; others it answers.
func mayRead(w http.ResponseWriter, r *http.Request, known func(host string) bool) bool {
	switch {
	case !known(r.Host):
		http.Error(w, "This address is not served.", http.StatusForbidden)
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "Only reading is possible.", http.StatusMethodNotAllowed)
	default:
		return true
	}
	return false
}

// route finds what is asked for. Paths are compared as they come, with no cleaning and no redirection.
func (f *Folder) route(w http.ResponseWriter, r *http.Request) {
	const files, shown, own, thumbs = "/file/", "/show/", "/page/", "/thumb/"
	switch p := r.URL.Path; {
	case p == "/":
		f.index(w, r)
	case p == "/state":
		f.state(w, r)
	case strings.HasPrefix(p, files):
		f.file(w, r, p[len(files):])
	case strings.HasPrefix(p, shown):
		f.show(w, r, p[len(shown):])
	case strings.HasPrefix(p, thumbs) && strings.HasSuffix(p, ".svg"):
		f.thumb(w, r, strings.TrimSuffix(p[len(thumbs):], ".svg"))
	case p == own+"view.js", p == own+"view.css":
		w.Header().Set("Content-Type", types[path.Ext(p)])
		http.ServeFileFS(w, r, pages, p[1:])
	default:
		http.NotFound(w, r)
	}
}

// status is what a page asks for again and again.
type status struct {
	Version string `json:"version"` // another one when files have changed
	Checked string `json:"checked"`
	Problem string `json:"problem"` // why the last change is not in them; empty: it is
}

// of returns how a roof stands, or all of them where stem is empty; false where there is no such roof.
func (f *Folder) of(stem string) (status, *roof, bool) {
	f.mutex.RLock()
	defer f.mutex.RUnlock()
	s := status{Version: f.stamp}
	var found *roof
	var latest time.Time
	for i := range f.roofs {
		r := &f.roofs[i]
		if stem != "" && r.Stem != stem {
			continue
		}
		found = r
		if r.Checked.After(latest) {
			latest = r.Checked
		}
	}
	if found == nil {
		return s, nil, false
	}
	var problems []string
	for _, j := range f.runs {
		if j.problem != "" && (stem == "" || j.key == keyOf(&found.run)) {
			problems = append(problems, j.problem)
		}
	}
	if stem != "" {
		s.Version = found.version
	}
	s.Checked, s.Problem = latest.Format("2 January 2006, 15:04:05"), strings.Join(problems, "\n\n")
	return s, found, true
}

func (f *Folder) state(w http.ResponseWriter, r *http.Request) {
	s, _, ok := f.of(r.URL.Query().Get("roof"))
	if !ok {
		s.Problem = "There is no result of this name any more. See all roofs."
	}
	w.Header().Set("Content-Type", types[".json"])
	text, err := json.Marshal(s)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	_, _ = w.Write(text)
}

// index lists the roofs.
func (f *Folder) index(w http.ResponseWriter, r *http.Request) {
	s, _, _ := f.of("")
	f.mutex.RLock()
	data := struct {
		status
		Folder string
		Roofs  []roof
		Campus []file
	}{status: s, Folder: f.path, Roofs: f.roofs}
	for _, name := range campus.Names() {
		if f.files[name] {
			data.Campus = append(data.Campus, file{Name: name, What: name})
		}
	}
	f.mutex.RUnlock()
	f.page(w, r, "index.html", data)
}

// show puts a page of ours round a file.
func (f *Folder) show(w http.ResponseWriter, r *http.Request, name string) {
	stem, _, _ := strings.Cut(name, ".")
	s, found, ok := f.of(stem)
	if !ok {
		http.NotFound(w, r)
		return
	}
	for _, shown := range found.Sheets {
		if shown.Name == name && shown.Framed {
			content, _, err := f.open(name)
			own := false
			if err == nil {
				_, own = f.own(content, name)
				_ = content.Close()
			}
			f.page(w, r, "show.html", struct {
				status
				Roof         *roof
				Shown        file
				Own, Picture bool // a picture is made as wide as the screen, and opens in full size
			}{s, found, shown, own, strings.HasSuffix(name, ".svg")})
			return
		}
	}
	http.NotFound(w, r)
}

func (f *Folder) page(w http.ResponseWriter, r *http.Request, name string, data any) {
	var b bytes.Buffer
	if err := templates().ExecuteTemplate(&b, name, data); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", types[".html"])
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(b.Bytes()))
}

// file serves one of the results: a plain file of the folder that was listed, not what a link of that name leads to.
func (f *Folder) file(w http.ResponseWriter, r *http.Request, name string) {
	f.mutex.RLock()
	listed := f.files[name]
	f.mutex.RUnlock()
	if !listed {
		http.NotFound(w, r)
		return
	}
	opened, info, err := f.open(name)
	if err != nil {
		http.NotFound(w, r)
		return
	}
	defer func() { _ = opened.Close() }()
	h := w.Header()
	h.Set("Content-Type", types[path.Ext(name)])
	h.Set("Content-Security-Policy", dataPolicy)
	if !IsPage(name) {
		http.ServeContent(w, r, "", info.ModTime(), opened)
		return
	}
	content, own := f.own(opened, name)
	if !own {
		h.Set("Content-Disposition", "attachment")
		if _, err := opened.Seek(0, io.SeekStart); err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
			return
		}
		http.ServeContent(w, r, "", info.ModTime(), opened)
		return
	}
	h.Set("X-Frame-Options", "SAMEORIGIN")
	h.Set("Content-Security-Policy", policyOf(name, content))
	http.ServeContent(w, r, "", info.ModTime(), bytes.NewReader(content))
}

// open opens a result: a plain file of the folder, not what a link of that name leads to.
func (f *Folder) open(name string) (*os.File, fs.FileInfo, error) {
	there, err := f.root.Lstat(name)
	if err != nil {
		return nil, nil, err
	}
	if !there.Mode().IsRegular() {
		return nil, nil, fs.ErrInvalid
	}
	opened, err := f.root.OpenFile(name, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, nil, err
	}
	info, err := opened.Stat()
	if err != nil || !os.SameFile(there, info) {
		return nil, nil, errors.Join(fs.ErrInvalid, opened.Close())
	}
	return opened, info, nil
}

// IsPage reports whether a browser would open a file of that name and do what stands in it.
func IsPage(name string) bool { return slices.Contains(pageEndings, path.Ext(name)) }

var pageEndings = []string{".html", ".svg", ".pdf"}

// longestPage bounds what is kept in memory of a page [bytes].
const longestPage = 256 << 20

// own returns the content of a page that this program wrote; what is served is what was looked at.
func (f *Folder) own(opened io.Reader, name string) ([]byte, bool) {
	content, err := io.ReadAll(io.LimitReader(opened, longestPage+1))
	if err != nil || len(content) > longestPage || f.wrote == nil || !f.wrote(name, content) {
		return nil, false
	}
	return content, true
}

// policyOf returns the policy of a page that this program wrote: what the page states, and nothing from or to
// elsewhere.
func policyOf(name string, content []byte) string {
	const opening = `<meta http-equiv="Content-Security-Policy" content="`
	if path.Ext(name) != ".html" {
		return drawingPolicy
	}
	_, rest, found := bytes.Cut(content, []byte(opening))
	stated, _, ended := bytes.Cut(rest, []byte(`"`))
	return choose.If(!found || !ended || bytes.ContainsAny(stated, "\r\n<>&"), dataPolicy, string(stated)+reportPolicy)
}
