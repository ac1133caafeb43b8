package answer

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"path"
	"strings"
	"time"
)

// What a bundle may hold at most: more is no roof with its photos, and would fill a phone's memory.
const (
	bundleFiles = 1000
	bundleBytes = 400_000_000
)

// packed is the date of all files in a bundle, so that the same files give the same bytes.
var packed = time.Date(1980, time.January, 1, 0, 0, 0, 0, time.UTC)

// Pack puts files into one zip archive. Pictures are packed already, so nothing is made smaller.
func Pack(files []File) ([]byte, error) {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range files {
		out, err := w.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Store, Modified: packed})
		if err != nil {
			return nil, err
		}
		if _, err := out.Write(f.Data); err != nil {
			return nil, err
		}
	}
	err := w.Close()
	return b.Bytes(), err
}

// Unpack returns the files of a zip archive by their bare names; folders and what systems add beside files are left out. The error says why an archive
// cannot be taken.
func Unpack(name string, data []byte) ([]File, error) {
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fmt.Errorf("%s: this is no zip file, or a part of it is missing: %w", name, err)
	}
	var out []File
	left := int64(bundleBytes)
	for _, f := range r.File {
		base := path.Base(strings.ReplaceAll(f.Name, `\`, "/"))
		if f.FileInfo().IsDir() || strings.HasPrefix(base, ".") || strings.HasPrefix(f.Name, "__MACOSX/") {
			continue
		}
		if len(out) == bundleFiles {
			return nil, fmt.Errorf("%s: more than %d files: unpack it and open the files of one roof", name, bundleFiles)
		}
		in, err := f.Open()
		if err != nil {
			return nil, fmt.Errorf("%s: %s: %w", name, base, err)
		}
		content, err := io.ReadAll(io.LimitReader(in, left+1))
		_ = in.Close() // it was only read
		if err != nil {
			return nil, fmt.Errorf("%s: %s: %w", name, base, err)
		}
		if left -= int64(len(content)); left < 0 {
			return nil, fmt.Errorf("%s: more than %d MB: unpack it and open the files of one roof", name, bundleBytes/1_000_000)
		}
		out = append(out, File{base, content})
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s: there is no file in it", name)
	}
	return out, nil
}
