// Package handout writes down, in a folder that several processes see, what they need to check the roofs of a campus: how the run
// was called, and a list of its roofs, of which each takes pieces. What is read back is bounded, and names nothing outside of a
// folder that whoever reads it was told to work in.
package handout

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
)

// Run is how a run was called.
type Run struct {
	Version string   `json:"version"` // of the program
	Dir     string   `json:"dir"`     // in which it was called, a whole path
	Out     string   `json:"out"`     // -o, as it was given
	Paths   []string `json:"paths"`   // as they were given
	Flags   []string `json:"flags"`   // --NAME=VALUE, those that change results
	Sign    string   `json:"sign"`    // of the call and of the files that flags name: another one where a worker would check otherwise
}

// Folder is that of one run. In it stand its call, its list, and chunks that are being worked on; in ready the results of chunks, by
// their numbers, for the run to take; in taken an empty file for each chunk that it has taken.
type Folder string

const (
	callName   = "run.json"
	listName   = "list"
	piecesName = "pieces"
	readyName  = "ready"
	takenName  = "taken"
)

// mostCall is the longest description of a call that is read [bytes].
const mostCall = 16 << 20

// Make makes the folder of a run, and writes down how it was called.
func Make(path string, r *Run) (Folder, error) {
	for _, name := range []string{readyName, takenName} {
		if err := os.MkdirAll(filepath.Join(path, name), 0o755); err != nil { //nolint:gosec // results are for others to read
			return "", err
		}
	}
	text, err := json.Marshal(r)
	if err != nil {
		return "", err
	}
	if len(text) > mostCall {
		return "", fmt.Errorf("the call has %d bytes of names: name folders instead of files", len(text))
	}
	return Folder(path), os.WriteFile(filepath.Join(path, callName), text, 0o644) //nolint:gosec // as above
}

// Call reads how the run was called.
func (f Folder) Call() (*Run, error) {
	file, err := os.Open(filepath.Join(string(f), callName))
	if err != nil {
		return nil, err
	}
	defer func() { _ = file.Close() }()
	text, err := io.ReadAll(io.LimitReader(file, mostCall+1))
	if err != nil {
		return nil, err
	}
	if len(text) > mostCall {
		return nil, fmt.Errorf("%s is too long", file.Name())
	}
	var r Run
	in := json.NewDecoder(bytes.NewReader(text))
	in.DisallowUnknownFields()
	if in.Decode(&r) != nil || r.Version == "" || !filepath.IsAbs(r.Dir) || r.Out == "" || len(r.Paths) == 0 {
		return nil, fmt.Errorf("%s does not say how a run was called", file.Name())
	}
	return &r, nil
}

// Ready is where the results of a chunk stand until the run takes them.
func (f Folder) Ready(chunk int) string {
	return filepath.Join(string(f), readyName, strconv.Itoa(chunk))
}

// Has reports whether a chunk is done.
func (f Folder) Has(chunk int) bool {
	for _, path := range []string{f.Ready(chunk), f.taken(chunk)} {
		if _, err := os.Lstat(path); err == nil {
			return true
		}
	}
	return false
}

// Waiting returns the chunks whose results wait to be taken.
func (f Folder) Waiting() (chunks []int, err error) {
	entries, err := os.ReadDir(filepath.Join(string(f), readyName))
	for _, e := range entries {
		if n, wrong := strconv.Atoi(e.Name()); wrong == nil && n > 0 {
			chunks = append(chunks, n)
		}
	}
	return chunks, err
}

func (f Folder) taken(chunk int) string {
	return filepath.Join(string(f), takenName, strconv.Itoa(chunk))
}

// Took notes that the results of a chunk are taken, and takes away what is left of them.
func (f Folder) Took(chunk int) error {
	if err := os.WriteFile(f.taken(chunk), nil, 0o644); err != nil { //nolint:gosec // others look at it
		return err
	}
	return os.RemoveAll(f.Ready(chunk))
}

// Begin makes the folder in which a process works on a chunk. Other processes that worked on it, and were stopped or are slow,
// have others.
func (f Folder) Begin(chunk int) (string, error) { return os.MkdirTemp(string(f), tryPrefix(chunk)) }

// Begun returns the folders in which a chunk was begun.
func (f Folder) Begun(chunk int) []string {
	found, err := filepath.Glob(filepath.Join(string(f), tryPrefix(chunk)+"*"))
	if err != nil {
		return nil
	}
	return found
}

func tryPrefix(chunk int) string { return "chunk-" + strconv.Itoa(chunk) + "-" }

// Finish puts the results of a chunk where the run takes them. Where another process was faster, its own stay.
func (f Folder) Finish(chunk int, work string) error {
	if f.Has(chunk) {
		return os.RemoveAll(work)
	}
	err := os.Rename(work, f.Ready(chunk))
	if err != nil && f.Has(chunk) {
		return os.RemoveAll(work)
	}
	return err
}
