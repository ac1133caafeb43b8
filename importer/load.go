package importer

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"runnel/analysis/roof"
	"runnel/analysis/textfile"
	"runnel/importer/points"
)

const (
	chunk      = 1 << 16
	maxGeoJSON = 512 << 20 // bytes; a million spots take a third of it
	maxPoints  = 512 << 20 // bytes; a million spots take less than a tenth of it
)

// load reads a file into memory and says whether it is GeoJSON. A point file with a line that is too long
// is refused before the rest of it is read. rule is empty unless the file cannot be read.
func load(path string) (data []byte, isGeoJSON bool, rule, mend string) {
	info, rule, mend := look(path)
	if rule != "" {
		return nil, false, rule, mend
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, false, "the file may not be read: " + cause(err), "check its permissions"
	}
	defer func() { _ = file.Close() }()
	head := make([]byte, chunk)
	n, err := io.ReadFull(file, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, false, "the file cannot be read: " + cause(err), "check the disk"
	}
	head = head[:n]
	if len(bytes.TrimSpace(head)) == 0 && n < chunk {
		return nil, false, "the file is empty", "write it again from the program that made it"
	}
	isGeoJSON = looksLikeJSON(path, head)
	switch {
	case isGeoJSON && info.Size() > maxGeoJSON:
		return nil, true, tooGreat(isGeoJSON), "give the spots as a point file"
	case info.Size() > maxPoints:
		return nil, false, tooGreat(isGeoJSON), thin
	}
	if rule, mend := textfile.NotText(head); rule != "" {
		return nil, isGeoJSON, rule, mend
	}
	data, err = readRest(file, head, min(info.Size(), maxGeoJSON), isGeoJSON)
	switch {
	case errors.Is(err, errLongLine):
		return nil, isGeoJSON, err.Error(), "write one point a line"
	case errors.Is(err, errTooGreat):
		return nil, isGeoJSON, tooGreat(isGeoJSON), thin
	case err != nil:
		return nil, isGeoJSON, "the file cannot be read: " + cause(err), "check the disk"
	}
	return data, isGeoJSON, "", ""
}

// look says what stands at a path that is no file to be read.
func look(path string) (info fs.FileInfo, rule, mend string) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, "there is no such file", "check the path"
	case err != nil:
		return nil, "the file may not be read: " + cause(err), "check its permissions"
	case info.IsDir():
		return nil, "this is a folder, not a file", "name its files, or use campus for all roofs in it"
	case info.Mode()&fs.ModeType&^fs.ModeNamedPipe != 0:
		return nil, "this is a device, not a file", "name the file of the survey"
	}
	return info, "", ""
}

// thin is what to do about a survey that is too great.
const thin = "thin the survey to a spot every few inches, or check the roof in parts"

var errTooGreat = errors.New("too great")

// tooGreat says that a file is.
func tooGreat(isGeoJSON bool) string {
	if isGeoJSON {
		return fmt.Sprintf("the GeoJSON is over %d MB", maxGeoJSON>>20)
	}
	return fmt.Sprintf("the file is over %d MB", maxPoints>>20)
}

// cause strips the path from an error, which messages name already.
func cause(err error) string {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err.Error()
	}
	return err.Error()
}

// looksLikeJSON reports whether a file is GeoJSON by its first sign, or by its name.
func looksLikeJSON(path string, head []byte) bool {
	head = bytes.TrimSpace(bytes.TrimPrefix(head, []byte("\xef\xbb\xbf")))
	if len(head) > 0 && (head[0] == '{' || head[0] == '[') {
		return true
	}
	ext := strings.ToLower(filepath.Ext(path))
	return ext == ".geojson" || ext == ".json"
}

var errLongLine = errors.New("a line is longer than a megabyte")

// readRest reads what follows head. size is a hint. Lines are measured unless the file is GeoJSON.
func readRest(r io.Reader, head []byte, size int64, isGeoJSON bool) ([]byte, error) {
	data := make([]byte, 0, max(size, int64(len(head)))+1)
	data = append(data, head...)
	line := lineTail(head, 0)
	most := maxPoints
	if isGeoJSON {
		most = maxGeoJSON
	}
	for {
		if !isGeoJSON && line > points.MaxLine {
			return nil, errLongLine
		}
		if len(data) > most {
			return nil, errTooGreat
		}
		from := len(data)
		data = grow(data)
		n, err := r.Read(data[from:min(from+points.MaxLine, cap(data))])
		data = data[:from+n]
		line = lineTail(data[from:], line)
		if errors.Is(err, io.EOF) {
			return data, nil
		}
		if err != nil {
			return nil, err
		}
	}
}

// grow makes room for another chunk, and returns data with its full capacity.
func grow(data []byte) []byte {
	if cap(data)-len(data) < 1 {
		bigger := make([]byte, len(data), 2*cap(data)+chunk)
		copy(bigger, data)
		data = bigger
	}
	return data[:cap(data)]
}

// lineTail returns how many bytes follow the last end of line, after before bytes without one.
func lineTail(data []byte, before int) int {
	if i := bytes.LastIndexAny(data, "\r\n"); i >= 0 {
		return len(data) - 1 - i
	}
	return before + len(data)
}

// refuse adds a problem of a whole file.
func refuse(problems *roof.Refusal, path, rule, mend string) {
	problems.Add(roof.Problem{Origin: roof.Origin{File: path}, Rule: rule, Mend: mend})
}
