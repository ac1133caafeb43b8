package viewer

import (
	"bytes"
	"embed"
	"encoding/json"
	"html/template"
	"net/http"
	"os"
	"path"
	"strings"
	"time"
)

//go:embed page
var pages embed.FS

var templates = template.Must(template.ParseFS(pages, "page/*.html"))

// types are the media types of what is served.
var types = map[string]string{
	".html": "text/html; charset=utf-8", ".svg": "image/svg+xml", ".pdf": "application/pdf", ".csv": "text/csv; charset=utf-8",
	".json": "application/json", ".geojson": "application/geo+json", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}

// Policies of our own pages, and of the files: those state the rest themselves.
const (
	pagePolicy = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; frame-src 'self'; img-src data:; " +
		"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
	filePolicy = "connect-src 'none'; object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'"
)

// Handler serves the folder to who asks for one of these hosts ("127.0.0.1:4000"): the guard against pages of other
// sites that have a name of theirs point to this machine.
func (f *Folder) Handler(known func(host string) bool) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", pagePolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		switch origin := r.Header.Get("Origin"); {
		case !known(r.Host):
			http.Error(w, "This address is not served.", http.StatusForbidden)
		case origin != "" && origin != "http://"+r.Host:
			http.Error(w, "Other sites are not served.", http.StatusForbidden)
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			h.Set("Allow", "GET, HEAD")
			http.Error(w, "Only reading is possible.", http.StatusMethodNotAllowed)
		default:
			f.route(w, r)
		}
	})
}

// route finds what is asked for. Paths are compared as they come, with no cleaning and no redirection.
func (f *Folder) route(w http.ResponseWriter, r *http.Request) {
	const files, shown, own = "/file/", "/show/", "/page/"
	switch p := r.URL.Path; {
	case p == "/":
		f.index(w, r)
	case p == "/state":
		f.state(w, r)
	case strings.HasPrefix(p, files):
		f.file(w, r, p[len(files):])
	case strings.HasPrefix(p, shown):
		f.show(w, r, p[len(shown):])
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
	for _, name := range []string{"campus.csv", "campus.geojson", "campus.local.geojson"} {
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
			f.page(w, r, "show.html", struct {
				status
				Roof  *roof
				Shown file
			}{s, found, shown})
			return
		}
	}
	http.NotFound(w, r)
}

func (f *Folder) page(w http.ResponseWriter, r *http.Request, name string, data any) {
	var b bytes.Buffer
	if err := templates.ExecuteTemplate(&b, name, data); err != nil {
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
	there, err := f.root.Lstat(name)
	if err != nil || !there.Mode().IsRegular() {
		http.NotFound(w, r)
		return
	}
	opened, err := f.root.Open(name)
	if err != nil {
		http.NotFound(w, r)
		return
	}
	defer func() { _ = opened.Close() }()
	info, err := opened.Stat()
	if err != nil || !os.SameFile(there, info) {
		http.NotFound(w, r)
		return
	}
	h := w.Header()
	h.Set("Content-Security-Policy", filePolicy)
	h.Set("X-Frame-Options", "SAMEORIGIN")
	h.Set("Content-Type", types[path.Ext(name)])
	http.ServeContent(w, r, "", info.ModTime(), opened)
}
