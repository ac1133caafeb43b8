package handout

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// Root is the folder outside of which nothing is read or written; links are followed before that is told.
type Root string

// NewRoot returns a root at a path.
func NewRoot(path string) (Root, error) {
	whole, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	real, err := filepath.EvalSymlinks(whole)
	return Root(real), err
}

// Holds refuses a path that leads out of the root, or nowhere; one that is not whole starts at dir.
func (r Root) Holds(dir, path string) error {
	if !filepath.IsAbs(path) {
		path = filepath.Join(dir, path)
	}
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return err
	}
	way, err := filepath.Rel(string(r), real)
	if err != nil || way == ".." || strings.HasPrefix(way, ".."+string(filepath.Separator)) {
		return &OutsideError{path, string(r)}
	}
	return nil
}

// Keeper returns Holds for many files below dir: the links on the way to a folder are followed once, those of the files themselves each time.
func (r Root) Keeper(dir string) func(path string) error {
	inside := map[string]bool{}
	return func(path string) error {
		if !filepath.IsAbs(path) {
			path = filepath.Join(dir, path)
		}
		folder, name := filepath.Split(path)
		in, known := inside[folder]
		if !known {
			in = r.Holds("", folder) == nil
			inside[folder] = in
		}
		if info, err := os.Lstat(path); !in || err != nil || name == "" || name == ".." || info.Mode()&os.ModeSymlink != 0 {
			return r.Holds("", path)
		}
		return nil
	}
}

// OutsideError says that something is asked for that lies outside of the root.
type OutsideError struct{ Path, Root string }

// Error says it.
func (e *OutsideError) Error() string {
	return fmt.Sprintf("%s lies outside of %s, in which this worker may work; start it with a --root that holds it", e.Path, e.Root)
}
