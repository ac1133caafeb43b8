package importer

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// Campus lists the roofs at paths without reading more than it must: in a folder, files that share a stem make one
// roof, and so do files given by name; but a file with many outlines is read at once, and every
// other file named beside it is shared out among its outlines. Roofs come in the order of their names, or
// of their outlines in the file. The strings are warnings, whole sentences.
//
// A roof that cannot be used does not stop the others: its Job returns the refusal.
func Campus(paths []string, o Options) ([]Job, []string, error) {
	var problems roof.Refusal
	var jobs []Job
	var warnings []string
	var files []string
	for _, path := range paths {
		info, err := os.Stat(path)
		if errors.Is(err, os.ErrNotExist) {
			refuse(&problems, path, "there is no such file or folder", "check the path")
			continue
		}
		if err != nil || !info.IsDir() {
			files = append(files, path)
			continue
		}
		found, more := listFolder(path, &problems)
		warnings = append(warnings, more...)
		grouped, more, err := group(found, o)
		if err != nil {
			return nil, nil, err
		}
		jobs, warnings = append(jobs, grouped...), append(warnings, more...)
	}
	grouped, more, err := group(files, o)
	if err != nil {
		return nil, nil, err
	}
	jobs, warnings = append(jobs, grouped...), append(warnings, more...)
	if len(jobs) == 0 && len(problems.Problems) == 0 {
		problems.Add(roof.Problem{Rule: "there is no roof to read", Mend: "name folders that hold survey files themselves, not in folders below, or name files of outlines and spots"})
	}
	if err := problems.Err(); err != nil {
		return nil, nil, err
	}
	return jobs, warnings, nil
}

// listFolder returns the files of a folder that may belong to a roof, in the order of their names.
func listFolder(path string, problems *roof.Refusal) (files, warnings []string) {
	entries, err := os.ReadDir(path)
	if err != nil {
		refuse(problems, path, "the folder cannot be read: "+cause(err), "check its permissions")
		return nil, nil
	}
	var left []string
	for _, entry := range entries {
		if !entry.IsDir() && isSurvey(filepath.Join(path, entry.Name())) {
			files = append(files, filepath.Join(path, entry.Name()))
		} else {
			left = append(left, entry.Name())
		}
	}
	if len(left) > 0 {
		warnings = append(warnings, fmt.Sprintf("%s: not read, because they are no survey files: %d (%s).", path, len(left), draft.Listing(left)))
	}
	return files, warnings
}

// isSurvey reports whether a file of a folder may belong to a roof, by its name; a file whose extension other things bear
// too, such as .json, must look like a survey inside. Pipes and devices, which may never
// end, belong to none.
func isSurvey(path string) bool {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return false
	}
	ext := strings.ToLower(filepath.Ext(path))
	for _, f := range formats {
		if slices.Contains(f.Extensions, ext) {
			return true
		}
		if mark := f.Shared[ext]; mark != "" {
			return begins(path, mark)
		}
	}
	return false
}

// begins reports whether the beginning of a file holds a mark.
func begins(path, mark string) bool {
	file, err := os.Open(path)
	if err != nil {
		return true // the roof's row says why it cannot be read
	}
	defer func() { _ = file.Close() }()
	head := make([]byte, chunk)
	n, err := io.ReadFull(file, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return true
	}
	return bytes.Contains(head[:n], []byte(mark))
}

// group makes one job of files that share a stem, or shares the files out among the outlines of one of them.
func group(files []string, o Options) ([]Job, []string, error) {
	stems := []string{}
	byStem := map[string][]string{}
	for _, path := range files {
		key := filepath.Join(filepath.Dir(path), stem(path))
		if byStem[key] == nil {
			stems = append(stems, key)
		}
		byStem[key] = append(byStem[key], path)
	}
	if holdsMany(files) {
		return newSite(files, o)
	}
	var jobs []Job
	for _, key := range stems {
		paths := byStem[key]
		slices.SortStableFunc(paths, func(a, b string) int { return outlineFirst(a) - outlineFirst(b) })
		jobs = append(jobs, Job{Name: draft.Clean(filepath.Base(key)), Files: paths, Read: func() (*roof.Roof, error) {
			var problems roof.Refusal
			r := read(paths, o, &problems)
			if err := problems.Err(); err != nil {
				return nil, err
			}
			return r, nil
		}})
	}
	return jobs, nil, nil
}

// outlineFirst orders files that hold the outline as a rule before others.
func outlineFirst(path string) int {
	if detect(path, nil).Outlines {
		return 0
	}
	return 1
}

// fewFiles is how many files are opened to see whether one of them holds many outlines. A folder of more is a
// folder of single roofs.
const fewFiles = 8

// holdsMany reports whether one of a few files holds more than one outline.
func holdsMany(files []string) bool {
	if len(files) > fewFiles {
		return false
	}
	for _, path := range files {
		data, format, rule, _ := load(path)
		if rule != "" || !format.Outlines {
			continue
		}
		var ignored roof.Refusal
		if f, ok := format.Opener(draft.Options{}, &ignored)(path, data, &ignored).(draft.Holder); ok && f.Outlines() > 1 {
			return true
		}
	}
	return false
}
