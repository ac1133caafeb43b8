package staged

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// InputError says that a file would take the place of one that the run reads.
type InputError struct{ Output, Input string }

// Error names both and the mend.
func (e *InputError) Error() string {
	return fmt.Sprintf("%s would take the place of %s, which this run reads: write into another folder", e.Output, e.Input)
}

// inputs are the files that a run reads.
type inputs struct {
	all []input
	at  map[string]int // by their places in small letters
}

type input struct {
	path string // as given
	info fs.FileInfo
}

func inputsOf(paths []string) inputs {
	all := inputs{at: map[string]int{}}
	for _, p := range paths {
		info, err := os.Stat(p)
		if err != nil || info.IsDir() {
			continue
		}
		all.at[fold(filepath.Join(placeOf(filepath.Dir(p)), filepath.Base(p)))] = len(all.all)
		all.all = append(all.all, input{p, info})
	}
	return all
}

// fold brings names that differ in small letters and capitals alone to one.
func fold(path string) string { return strings.ToLower(strings.ToUpper(path)) }

// placeOf returns the whole path of a folder, links followed.
func placeOf(dir string) string {
	if whole, err := filepath.Abs(dir); err == nil {
		dir = whole
	}
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	return dir
}

// guard returns an *InputError where a name in dir, whose place is given, is that of an input: its path, small letters or
// capitals (a file system may not tell them apart), a link to it, or another name of the same file.
func (in *inputs) guard(dir, place, name string) error {
	if len(in.all) == 0 {
		return nil
	}
	path := filepath.Join(dir, name)
	if i, is := in.at[fold(filepath.Join(place, name))]; is {
		return &InputError{Output: path, Input: in.all[i].path}
	}
	there, err := os.Stat(path)
	if err != nil {
		return nil //nolint:nilerr // nothing stands there
	}
	for i := range in.all {
		if os.SameFile(in.all[i].info, there) {
			return &InputError{Output: path, Input: in.all[i].path}
		}
	}
	return nil
}
