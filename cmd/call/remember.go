//go:build !js

package call

import (
	"crypto/sha256"
	"io"
	"iter"
	"os"

	"runnel/cmd/trust"
	"runnel/cmd/viewer"
	"runnel/export/record"
)

// mostPages is how many pages of one run are remembered.
const mostPages = 5000

// Remember notes that the user writes these files here by this run, so that view may show them and make them again.
// Where that cannot be kept, view asks. A run of somebody else that the user allowed does not become the user's own by
// that: view asks again the next time.
func (s *Streams) Remember(files iter.Seq2[string, string], folder string, run record.Run) {
	if folder == "" {
		return
	}
	pages := map[string]trust.Sum{}
	for name, path := range files {
		if len(pages) >= mostPages {
			break
		}
		if !viewer.IsPage(name) {
			continue
		}
		if sum, err := sumOf(path); err == nil {
			pages[name] = sum
		}
	}
	own := &run
	if s.Allowed || run.Command == "" {
		own = nil
	}
	_ = trust.Remember(folder, own, pages)
}

// sumOf returns the hash of a file.
func sumOf(path string) (sum trust.Sum, err error) {
	f, err := os.Open(path)
	if err != nil {
		return sum, err
	}
	defer func() { _ = f.Close() }()
	h := sha256.New()
	_, err = io.Copy(h, f)
	copy(sum[:], h.Sum(nil))
	return sum, err
}
