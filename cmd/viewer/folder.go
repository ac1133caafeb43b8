// Package viewer shows the files of a folder of results in a browser, and keeps them up to date.
//
// A Folder lists the roofs of an output folder by their summaries, and of each roof the files that the program
// writes; nothing else in the folder is ever served. Handler is the server: a list of the roofs, and a page round
// each report and plan that loads it again when it has changed, so that the files themselves stay as they are on
// disk. Watch looks at the inputs of each run and has the run made again when they change; while that fails, the
// last good result stays and the pages say why.
package viewer

import (
	"errors"
	"fmt"
	"hash/fnv"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"runnel/analysis/gather"
	"runnel/export/campus"
	"runnel/export/record"
)

// Folder is the output of check or campus.
type Folder struct {
	path  string
	root  *os.Root
	wrote func(name string, content []byte) bool

	mutex sync.RWMutex
	roofs []roof
	files map[string]bool // that are served
	stamp string          // of the files when they were listed
	all   string          // the names of all that was in the folder then
	runs  []*job          // each once
}

// Open lists the results in a folder. The error says what to do where there are none.
func Open(path string) (*Folder, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s: there is no such folder; name the folder that check or campus wrote into", path)
	case err == nil && !info.IsDir():
		return nil, fmt.Errorf("%s: this is a file; name the folder that check or campus wrote into", path)
	}
	root, err := os.OpenRoot(path)
	if err != nil {
		return nil, fmt.Errorf("open the folder: %w", err)
	}
	f := &Folder{path: path, root: root}
	if err := f.list(); err != nil {
		return nil, errors.Join(err, root.Close())
	}
	if len(f.roofs) == 0 {
		_ = root.Close()
		return nil, fmt.Errorf("%s: there is no summary of a roof in it; write one with: runnel check FILES -o %s", path, path)
	}
	return f, nil
}

// Close lets go of the folder.
func (f *Folder) Close() error { return f.root.Close() }

// list reads the folder anew.
func (f *Folder) list() error {
	entries, err := fs.ReadDir(f.root.FS(), ".")
	if err != nil {
		return fmt.Errorf("list %s: %w", f.path, err)
	}
	sizes := map[string]fs.FileInfo{}
	for _, e := range entries {
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() {
			sizes[e.Name()] = info
		}
	}
	var roofs []roof
	for _, e := range entries {
		stem, isJSON := strings.CutSuffix(e.Name(), ".json")
		if info := sizes[e.Name()]; isJSON && info != nil && !strings.Contains(stem, ".") {
			if r, ok := f.read(stem, info); ok {
				roofs = append(roofs, r)
			}
		}
	}
	roofs = newest(roofs)
	files := map[string]bool{}
	for i := range roofs {
		roofs[i].collect(sizes, files)
	}
	for _, name := range campus.Names() {
		if sizes[name] != nil {
			files[name] = true
		}
	}
	slices.SortFunc(roofs, worstFirst)
	f.keep(roofs, files, stampOf(sizes, files), namesIn(entries))
	return nil
}

// keep takes what was listed, with a job for each run that is new.
func (f *Folder) keep(roofs []roof, files map[string]bool, stamp, all string) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	f.roofs, f.files, f.stamp, f.all = roofs, files, stamp, all
	var runs []*job
	for i := range roofs {
		key := keyOf(&roofs[i].run)
		same := func(j *job) bool { return j.key == key }
		if slices.ContainsFunc(runs, same) {
			continue
		}
		if k := slices.IndexFunc(f.runs, same); k >= 0 {
			runs = append(runs, f.runs[k])
		} else {
			runs = append(runs, &job{key: key, run: roofs[i].run})
		}
	}
	f.runs = runs
}

// Runs returns the runs that wrote the results, each once.
func (f *Folder) Runs() []record.Run {
	f.mutex.RLock()
	defer f.mutex.RUnlock()
	return gather.Each(f.runs, func(j *job) record.Run { return j.run })
}

func keyOf(r *record.Run) string { return string(r.Object().Append(nil)) }

// stampOf returns a short text that changes when one of the files does.
func stampOf(infos map[string]fs.FileInfo, files map[string]bool) string {
	names := make([]string, 0, len(files))
	for name := range files {
		names = append(names, name)
	}
	slices.Sort(names)
	h := fnv.New64a()
	for _, name := range names {
		_, _ = fmt.Fprintf(h, "%s %d %d\n", name, infos[name].Size(), infos[name].ModTime().UnixNano())
	}
	return fmt.Sprintf("%016x", h.Sum64())
}

// namesIn returns the names of a folder's files, but those that are not finished, as one text.
func namesIn(entries []fs.DirEntry) string {
	var b strings.Builder
	for _, e := range entries {
		if !temporary(e.Name()) {
			b.WriteString(e.Name() + "\x00")
		}
	}
	return b.String()
}

// current reports whether the files that are served are still those that were listed, and no other has come.
func (f *Folder) current() bool {
	entries, err := fs.ReadDir(f.root.FS(), ".")
	if err != nil {
		return false
	}
	f.mutex.RLock()
	defer f.mutex.RUnlock()
	infos := map[string]fs.FileInfo{}
	for name := range f.files {
		info, err := f.root.Lstat(name)
		if err != nil {
			return false
		}
		infos[name] = info
	}
	return namesIn(entries) == f.all && stampOf(infos, f.files) == f.stamp
}

// serves reports whether a path is that of a file which is served: a result, never an input.
func (f *Folder) serves(path string) bool {
	f.mutex.RLock()
	defer f.mutex.RUnlock()
	if !f.files[filepath.Base(path)] {
		return false
	}
	there, err := os.Stat(path)
	if err != nil {
		return false
	}
	own, err := f.root.Stat(filepath.Base(path))
	return err == nil && os.SameFile(there, own)
}
