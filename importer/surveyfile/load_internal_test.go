//go:build unix

package surveyfile

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"runnel/analysis/roof"
)

// What a file is follows from its beginning, and where that says nothing from its name; with a beginning the name of a scan counts for nothing.
func TestFormatsOfFiles(t *testing.T) {
	for _, c := range []struct{ name, head, want string }{
		{"a.geojson", "", "geojson"},
		{"a.JSON", "", "geojson"},
		{"a.csv", "", "points"},
		{"a.las", "", "las"},
		{"a.LAZ", "", "las"},
		{"a.txt", "", "points"},
		{"a", "", "points"},
		{"a.csv", `{"type":"FeatureCollection"}`, "geojson"},
		{"a.txt", " \n[1]", "geojson"},
		{"a.csv", "\ufeff{}", "geojson"},
		{"a.csv", "LASF\x00", "las"},
		{"a.las", "x,y,z\n", "points"},
		{"a.geojson", "x,y,z\n", "geojson"},
		{"a.csv", "x,y,z\n", "points"},
	} {
		var head []byte
		if c.head != "" {
			head = []byte(c.head)
		}
		if got := Detect(c.name, head).Name; got != c.want {
			t.Errorf("%s beginning %q: %s, want %s", c.name, c.head, got, c.want)
		}
	}
	if got := len(Formats()); got != 3 {
		t.Errorf("%d formats", got)
	}
}

// Files in memory and on the disk are read alike: whole, or refused with what they are and what to do.
func TestLoad(t *testing.T) {
	long := strings.Repeat("1,2,3\n", 200_000) // over a megabyte: read in pieces
	for name, c := range map[string]struct {
		file, text, format string
		rule, mend         string
	}{
		"points":                {"a.csv", "x,y,z\n1,2,3\n", "points", "", ""},
		"GeoJSON":               {"a.geojson", `{"type":"FeatureCollection","features":[]}`, "geojson", "", ""},
		"a scan":                {"a.las", "LASF" + strings.Repeat("\x00", 400), "las", "", ""},
		"over a megabyte":       {"a.csv", long, "points", "", ""},
		"one sign":              {"a.csv", "x", "points", "", ""},
		"one sign and blanks":   {"a.csv", " \nx\n ", "points", "", ""},
		"empty":                 {"a.csv", "", "", "the file is empty", "write it again from the program that made it"},
		"one blank":             {"a.csv", " ", "", "the file is empty", "write it again from the program that made it"},
		"blanks and ends":       {"a.geojson", " \r\n\t\n", "", "the file is empty", "write it again from the program that made it"},
		"a paper":               {"a.csv", "%PDF-1.4\n", "points", "this is a PDF", ""},
		"a workbook":            {"a.csv", "PK\x03\x04", "points", "this is a workbook or an archive (zip), not text in UTF-8", "unpack it, or save the table as CSV in UTF-8"},
		"a line of a megabyte":  {"a.csv", "x,y,z\n" + strings.Repeat("1", 1<<20) + "\n1,2,3\n", "points", "", ""},
		"a longer line":         {"a.csv", "x,y,z\n" + strings.Repeat("1", 3<<20), "points", "a line is longer than a megabyte", "write one point a line"},
		"a long line of a scan": {"a.las", "LASF" + strings.Repeat("1", 3<<20), "las", "", ""},
	} {
		path := filepath.Join(t.TempDir(), c.file)
		if err := os.WriteFile(path, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		for where, held := range map[string]map[string][]byte{"disk": nil, "memory": {path: []byte(c.text)}} {
			data, format, rule, mend := Load(held, path)
			got := ""
			if format != nil {
				got = format.Name
			}
			if got != c.format || !strings.HasPrefix(rule, c.rule) || (rule == "") != (c.rule == "") || !strings.HasPrefix(mend, c.mend) || (mend == "") != (rule == "") {
				t.Errorf("%s from the %s: %s, %q, %q", name, where, got, rule, mend)
			}
			if want := []byte(c.text); rule == "" && !bytes.Equal(data, want) || rule != "" && data != nil {
				t.Errorf("%s from the %s: %d bytes of %d", name, where, len(data), len(want))
			}
		}
	}
	if _, _, rule, mend := Load(map[string][]byte{"a": nil}, "b"); rule != "there is no such file" || mend != "check the path" {
		t.Errorf("%q, %q", rule, mend)
	}
	if _, _, rule, mend := Load(nil, filepath.Join(t.TempDir(), strings.Repeat("x", 300))); rule != "the file may not be read: file name too long" || mend != "check its permissions" {
		t.Errorf("%q, %q", rule, mend)
	}
}

// A file that is too great for its format says so before it is read, with what makes it smaller.
func TestFilesThatAreTooGreat(t *testing.T) {
	for name, want := range map[string]string{
		"a.csv": "the file is over 512 MB; thin the survey to a spot every few inches, or check the roof in parts", "a.geojson": "the GeoJSON is over 512 MB; give the spots as a point file", "a.las": "the scan is over 512 MB; cut the scan to the roof, or thin it",
	} {
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, []byte(map[string]string{"a.csv": "x,y,z\n", "a.geojson": "{", "a.las": "LASF"}[name]), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Truncate(path, maxFile+1); err != nil {
			t.Fatal(err)
		}
		if data, _, rule, mend := Load(nil, path); rule+"; "+mend != want || data != nil {
			t.Errorf("%s: %s; %s", name, rule, mend)
		}
	}
}

// A pipe is read to the end of what its writer says, also where that comes late and in pieces.
func TestPipesOfSlowWriters(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe.csv")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip(err)
	}
	go func() {
		time.Sleep(50 * time.Millisecond) // the reader is there before
		w, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return
		}
		for _, piece := range []string{"x,y", ",z\n1,", "2,3\n"} {
			_, _ = w.WriteString(piece)
			time.Sleep(30 * time.Millisecond)
		}
		_ = w.Close()
	}()
	data, format, rule, _ := Load(nil, path)
	if string(data) != "x,y,z\n1,2,3\n" || rule != "" || format.Name != "points" {
		t.Errorf("%q, %q", data, rule)
	}
}

// Why a file could not be read is said without its path, which messages name already; a problem of a whole file has no line.
func TestCauses(t *testing.T) {
	for want, err := range map[string]error{"permission denied": &fs.PathError{Op: "open", Path: "a/b", Err: fs.ErrPermission}, "no space": errors.New("no space")} {
		if got := Cause(err); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if rule, mend := unread(errors.New("no space")); rule != "the file cannot be read: no space" || mend != "check the disk" {
		t.Errorf("%q, %q", rule, mend)
	}
	var problems roof.Refusal
	Refuse(&problems, "a.csv", "it is torn", "write it again")
	if got := problems.Error(); got != "a.csv: it is torn; write it again" {
		t.Error(got)
	}
}
