package importer

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/surveyfile"
)

// atOnce is how many entries of a folder are asked for at once.
const atOnce = 4096

// listFolder returns the files of a folder that may belong to a roof, in the order of their names. Links that lead out
// of the folder are not followed.
func listFolder(path string, problems *roof.Refusal) (files, warnings []string) {
	var left, away []string
	err := eachEntry(path, func(entry fs.DirEntry) {
		whole := filepath.Join(path, entry.Name())
		switch {
		case strings.HasPrefix(entry.Name(), ".runnel-"): // of a run that writes there
		case entry.IsDir() || !isSurvey(whole, entry):
			left = append(left, entry.Name())
		case entry.Type()&fs.ModeSymlink != 0 && leadsOut(path, whole):
			away = append(away, entry.Name())
		default:
			files = append(files, whole)
		}
	})
	if err != nil {
		surveyfile.Refuse(problems, path, "the folder cannot be read: "+surveyfile.Cause(err), "check its permissions")
		return nil, nil
	}
	for _, w := range []struct {
		names []string
		why   string
	}{{left, "they are no survey files"}, {away, "they are links that lead out of the folder"}} {
		if len(w.names) > 0 {
			slices.Sort(w.names)
			warnings = append(warnings, fmt.Sprintf("%s: not read, because %s: %d (%s).", path, w.why, len(w.names), draft.Listing(w.names)))
		}
	}
	return files, warnings
}

// eachEntry hands the entries of a folder to take, in any order.
func eachEntry(path string, take func(fs.DirEntry)) error {
	folder, err := os.Open(path)
	if err != nil {
		return err
	}
	defer func() { _ = folder.Close() }()
	for {
		entries, err := folder.ReadDir(atOnce)
		for _, entry := range entries {
			take(entry)
		}
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

// leadsOut reports whether a link leads out of the folder in which it stands.
func leadsOut(folder, link string) bool {
	home, err := filepath.EvalSymlinks(folder)
	if err != nil {
		return true
	}
	there, err := filepath.EvalSymlinks(link)
	if err != nil {
		return true
	}
	way, err := filepath.Rel(home, there)
	return err != nil || way == ".." || strings.HasPrefix(way, ".."+string(filepath.Separator))
}

// isSurvey reports whether an entry of a folder may belong to a roof, by its name; a file whose extension other things
// bear too, such as .json, must look like a survey inside. Pipes and devices, which may never end, belong to none.
func isSurvey(path string, entry fs.DirEntry) bool {
	if !entry.Type().IsRegular() {
		if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
			return false
		}
	}
	ext := strings.ToLower(filepath.Ext(path))
	for _, f := range surveyfile.Formats() {
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
	head := make([]byte, surveyfile.Beginning)
	n, err := io.ReadFull(file, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return true
	}
	return bytes.Contains(head[:n], []byte(mark))
}

// markOf returns a number that changes with the files: with their names, sizes and times of change.
func markOf(paths []string) uint64 {
	h := fnv.New64a()
	for _, path := range paths {
		_, _ = h.Write([]byte(path))
		if info, err := os.Stat(path); err == nil {
			var b [16]byte
			binary.LittleEndian.PutUint64(b[:], uint64(info.Size()))                //nolint:gosec // only bits
			binary.LittleEndian.PutUint64(b[8:], uint64(info.ModTime().UnixNano())) //nolint:gosec // only bits
			_, _ = h.Write(b[:])
		}
	}
	return h.Sum64()
}
