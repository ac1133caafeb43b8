// Package surveyfile opens the files that a survey comes in, tells in which format each is, and reads them into memory: never one that is too great, a line that
// is too long, or a pipe through which nothing comes.
package surveyfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points"
)

// Beginning is how many bytes of a file its format is told by.
const Beginning = 1 << 16

const (
	maxRead = 1 << 20   // bytes that are read at a time
	maxFile = 512 << 20 // bytes; a million spots take a third of it as GeoJSON, less than a tenth as points
)

// Load reads a file of held, or of the disk where that is nil, into memory and says in which format it is. A file with a
// line that is too long for its format is refused before the rest of it is read. rule is empty unless the file cannot be read.
func Load(held map[string][]byte, path string) (data []byte, format *draft.Format, rule, mend string) {
	file, size, rule, mend := openFile(held, path)
	if rule != "" {
		return nil, nil, rule, mend
	}
	defer func() { _ = file.Close() }()
	room := int64(Beginning)
	if size > 0 { // else it is not known
		room = min(room, size+1)
	}
	head := make([]byte, room)
	n, err := io.ReadFull(file, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		rule, mend := unread(err)
		return nil, nil, rule, mend
	}
	whole := n < len(head)
	head = head[:n]
	if whole && len(bytes.TrimSpace(head)) == 0 {
		return nil, nil, "the file is empty", "write it again from the program that made it"
	}
	format = Detect(path, head)
	if size > maxFile {
		return nil, format, tooGreat(format), format.Smaller
	}
	if rule, mend := format.Fault(head); rule != "" {
		return nil, format, rule, mend
	}
	data, err = readRest(file, head, min(size, maxFile), format.Line)
	switch {
	case errors.Is(err, errLongLine):
		return nil, format, err.Error(), "write one point a line"
	case errors.Is(err, errTooGreat):
		return nil, format, tooGreat(format), points.Format.Smaller
	case err != nil:
		rule, mend := unread(err)
		return nil, format, rule, mend
	}
	return data, format, "", ""
}

// openFile opens a file of held, or of the disk where that is nil. size is that of the file [bytes].
func openFile(held map[string][]byte, path string) (file io.ReadCloser, size int64, rule, mend string) {
	if held != nil {
		data, ok := held[path]
		if !ok {
			return nil, 0, noFile, checkPath
		}
		return io.NopCloser(bytes.NewReader(data)), int64(len(data)), "", ""
	}
	info, rule, mend := look(path)
	if rule != "" {
		return nil, 0, rule, mend
	}
	file, err := Open(path, info)
	if err != nil {
		return nil, 0, "the file may not be read: " + Cause(err), "check its permissions"
	}
	return file, info.Size(), "", ""
}

// What is said of a file that is not there.
const (
	noFile    = "there is no such file"
	checkPath = "check the path"
)

// unread says why a file could not be read to its end.
func unread(err error) (rule, mend string) {
	if errors.Is(err, errSilent) {
		return errSilent.Error(), "start what writes into it, or give a file"
	}
	return "the file cannot be read: " + Cause(err), "check the disk"
}

// look says what stands at a path that is no file to be read.
func look(path string) (info fs.FileInfo, rule, mend string) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, noFile, checkPath
	case err != nil:
		return nil, "the file may not be read: " + Cause(err), "check its permissions"
	case info.IsDir():
		return nil, "this is a folder, not a file", "name its files, or use campus for all roofs in it"
	case info.Mode()&fs.ModeType&^fs.ModeNamedPipe != 0:
		return nil, "this is a device, not a file", "name the file of the survey"
	}
	return info, "", ""
}

var errTooGreat = errors.New("too great")

// tooGreat says that a file is.
func tooGreat(format *draft.Format) string {
	return fmt.Sprintf("the %s is over %d MB", format.Noun, maxFile>>20)
}

// Cause strips the path from an error, which messages name already.
func Cause(err error) string {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err.Error()
	}
	return err.Error()
}

var errLongLine = errors.New("a line is longer than a megabyte")

// readRest reads what follows head. size is a hint. Lines longer than longest are refused; 0: lines are not measured.
func readRest(r io.Reader, head []byte, size int64, longest int) ([]byte, error) {
	data := make([]byte, 0, max(size, int64(len(head)))+1)
	data = append(data, head...)
	line := lineTail(head, 0)
	for {
		if longest > 0 && line > longest {
			return nil, errLongLine
		}
		if len(data) > maxFile {
			return nil, errTooGreat
		}
		from := len(data)
		data = grow(data)
		n, err := r.Read(data[from:min(from+maxRead, cap(data))])
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
		bigger := make([]byte, len(data), 2*cap(data)+Beginning)
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

// Refuse adds a problem of a whole file.
func Refuse(problems *roof.Refusal, path, rule, mend string) {
	problems.Add(roof.Problem{Origin: roof.Origin{File: path}, Rule: rule, Mend: mend})
}
