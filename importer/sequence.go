package importer

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"

	"github.com/tidwall/gjson"

	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/geojson"
	"runnel/importer/surveyfile"
)

// separator begins each text of a GeoJSON text sequence (RFC 8142, section 2).
const separator = 0x1e

// sequenceEndings are those of files with one GeoJSON text after the other.
var sequenceEndings = []string{".ndjson", ".jsonl", ".geojsonl", ".geojsons", ".geojsonseq"}

// mostText is the longest text of a sequence that is read [bytes]: some 400,000 spots.
const mostText = 64 << 20

// isSequence reports whether a file holds one GeoJSON text after the other, by its name or its first sign.
func isSequence(path string, info fs.FileInfo) bool {
	if slices.Contains(sequenceEndings, strings.ToLower(filepath.Ext(path))) {
		return true
	}
	if !info.Mode().IsRegular() {
		return false
	}
	file, err := os.Open(path)
	if err != nil {
		return false
	}
	defer func() { _ = file.Close() }()
	var first [1]byte
	n, _ := file.Read(first[:])
	return n == 1 && first[0] == separator
}

// sequence is one GeoJSON text after the other, each a roof. One text is held at a time.
type sequence struct {
	path    string    // "-" for in
	in      io.Reader // nil where path is a file
	size    int64
	read    atomic.Int64
	options Options
}

func (s *sequence) count() int { return -1 }

func (s *sequence) jobs(yield func(Job) bool) bool {
	in := s.in
	if s.path != "-" {
		info, err := os.Stat(s.path)
		if err != nil {
			return yield(failing(s.name(), "the file may not be read: "+surveyfile.Cause(err), "check its permissions"))
		}
		file, err := surveyfile.Open(s.path, info)
		if err != nil {
			return yield(failing(s.name(), "the file may not be read: "+surveyfile.Cause(err), "check its permissions"))
		}
		defer func() { _ = file.Close() }()
		in = file
	}
	if in == nil {
		return yield(failing(s.name(), "nothing comes through stdin", "pipe a sequence of GeoJSON into it"))
	}
	s.read.Store(0)
	texts := &texts{in: bufio.NewReaderSize(&counted{in, &s.read}, maxRead)}
	for number := 1; ; number++ {
		text, long, err := texts.next()
		switch {
		case errors.Is(err, io.EOF):
			return true
		case err != nil:
			return yield(failing(s.name(), "the sequence cannot be read on: "+surveyfile.Cause(err), "check the disk"))
		}
		job := s.job(number, text)
		if long {
			job = failing(job.Name, fmt.Sprintf("the text is over %d MB", mostText>>20), "give the spots of this roof as a point file")
		} else if s.path != "-" {
			job.Ref = Ref{Files: job.Files, From: texts.from, To: texts.at, Number: number}
		}
		if !yield(job) {
			return false
		}
	}
}

// name is what the rows of texts without a name begin with.
func (s *sequence) name() string {
	if s.path == "-" {
		return "stdin"
	}
	return draft.Clean(stem(s.path))
}

func (s *sequence) job(number int, text []byte) Job {
	label := fmt.Sprintf("%s text %d", s.path, number)
	name := draft.Clean(gjson.GetBytes(text, `features.#(properties.role=="outline").properties.name`).String())
	if _, rule := draft.Fitting("the name", name); name == "" || rule != "" {
		name = fmt.Sprintf("%s %d", s.name(), number)
	}
	h := fnv.New64a()
	_, _ = h.Write(text)
	job := Job{Name: name, Mark: h.Sum64(), Read: func() (*roof.Roof, error) {
		var problems roof.Refusal
		r := readText(text, s.path, label, s.options, &problems)
		if err := problems.Err(); err != nil {
			return nil, err
		}
		r.Name = name
		return r, nil
	}}
	if s.path != "-" {
		job.Files = []string{s.path}
	}
	return job
}

// failing is a roof that cannot be read.
func failing(name, rule, mend string) Job {
	return Job{Name: name, Read: func() (*roof.Roof, error) {
		return nil, &roof.Refusal{Problems: []roof.Problem{{Rule: rule, Mend: mend}}}
	}}
}

// readText reads one GeoJSON text of the sequence at path as a roof.
func readText(text []byte, path, label string, o Options, problems *roof.Refusal) *roof.Roof {
	if rule, mend := geojson.Format.Fault(text); rule != "" {
		surveyfile.Refuse(problems, label, rule, mend)
		return nil
	}
	doc := geojson.Open(label, text, problems)
	if doc == nil {
		return nil
	}
	s := &source{path: path, format: geojson.Format, file: doc, sigma: o.Sigma[""]}
	if said, ok := lookup(o.Sigma, path); ok {
		s.sigma = said
	}
	sources := []*source{s}
	warnings := settle(sources, o, problems)
	warnings = append(warnings, readSources(sources, false, problems)...)
	outline, home := theOutline(sources, problems)
	if outline == nil {
		return nil
	}
	r := assemble(sources, outline, home, o, problems)
	if r != nil {
		r.Warnings = append(warnings, r.Warnings...)
	}
	return r
}

// counted counts the bytes that are read.
type counted struct {
	in io.Reader
	n  *atomic.Int64
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.in.Read(p)
	c.n.Add(int64(n))
	return n, err
}

// texts cuts a sequence into its texts.
type texts struct {
	in    *bufio.Reader
	begun bool
	end   byte // of a text: a line feed, or the separator of the next one

	from, at int64 // where the last text begins and ends
}

// maxRead is how many bytes of a sequence are read at a time.
const maxRead = 1 << 20

// next returns the next text that is not empty, in memory of its own. long says that it is too long; it is its beginning then.
func (t *texts) next() (text []byte, long bool, err error) {
	if !t.begun {
		t.begun, t.end = true, '\n'
		if first, err := t.in.Peek(1); err == nil && first[0] == separator {
			t.end = separator
		}
	}
	for {
		t.from = t.at
		text, long, err = t.upTo(t.end)
		text = bare(text)
		if len(text) > 0 || long {
			return text, long, nil
		}
		if err != nil {
			return nil, false, err
		}
	}
}

// bare strips what stands between texts.
func bare(text []byte) []byte { return bytes.TrimSpace(bytes.Trim(text, "\x1e")) }

// upTo reads up to an end, and no more of it than is read of a text.
func (t *texts) upTo(end byte) (text []byte, long bool, err error) {
	for {
		part, err := t.in.ReadSlice(end)
		t.at += int64(len(part))
		if len(text)+len(part) <= mostText {
			text = append(text, part...)
		} else {
			long = true
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return text, long, err
		}
	}
}
