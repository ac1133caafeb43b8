package viewer

import (
	"io/fs"
	"net/http"
)

// Program is the file of the page that holds the program.
const Program = "runnel.wasm.gz"

// guard keeps other sites from framing, reading or guessing what is served, and says how long it may be kept.
func guard(h http.Header, cache string) {
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cache-Control", cache)
}

// Page serves the program as a page from the files of a folder, to whoever asks for one of the known hosts.
func Page(files fs.FS, known func(host string) bool) http.Handler {
	all := http.FileServerFS(files)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		guard(w.Header(), "no-cache")
		if mayRead(w, r, known) {
			all.ServeHTTP(w, r)
		}
	})
}
