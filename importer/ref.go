package importer

import (
	"fmt"
	"os"
	"slices"
)

// Ref says where a roof of a campus is found again, so that another process may read it: in files that share a stem, in a piece of
// a sequence, or as one of the outlines of some files.
type Ref struct {
	Files []string `json:"files,omitempty"`

	From   int64 `json:"from,omitempty"` // of a text of the sequence in the first file: its bytes
	To     int64 `json:"to,omitempty"`
	Number int   `json:"number,omitempty"` // from 1

	Outline int `json:"outline,omitempty"` // which of the roofs of Files, from 1
}

// None reports whether the roof cannot be found again.
func (r *Ref) None() bool { return len(r.Files) == 0 }

// Rereader finds roofs of a campus again, of which another process has listed where they are. It keeps the outlines of the
// files that it read last. Its jobs have no Mark.
type Rereader struct {
	options Options
	files   []string // of jobs
	jobs    []Job
}

// NewRereader returns one that reads as Campus does with these options.
func NewRereader(o Options) *Rereader { return &Rereader{options: o} }

// Job returns the roof at a reference.
func (r *Rereader) Job(ref Ref) (Job, error) {
	switch {
	case ref.None():
		return Job{}, fmt.Errorf("a reference names no file")
	case ref.Number > 0:
		return r.text(ref)
	case ref.Outline > 0:
		return r.outline(ref)
	}
	return stemJob(ref.Files, r.options), nil
}

// text returns the roof of a text of a sequence.
func (r *Rereader) text(ref Ref) (Job, error) {
	size := ref.To - ref.From
	if ref.From < 0 || size < 1 || size > mostText {
		return Job{}, fmt.Errorf("%s: no text stands at bytes %d to %d", ref.Files[0], ref.From, ref.To)
	}
	path := ref.Files[0]
	if info, err := os.Stat(path); err != nil {
		return Job{}, err
	} else if !info.Mode().IsRegular() || ref.To > info.Size() {
		return Job{}, fmt.Errorf("%s: it has no bytes %d to %d", path, ref.From, ref.To)
	}
	file, err := os.Open(path)
	if err != nil {
		return Job{}, err
	}
	defer func() { _ = file.Close() }()
	text := make([]byte, size)
	if _, err := file.ReadAt(text, ref.From); err != nil {
		return Job{}, fmt.Errorf("%s: it was cut off meanwhile", path)
	}
	s := &sequence{path: path, options: r.options}
	return s.job(ref.Number, bare(text)), nil
}

func (r *Rereader) outline(ref Ref) (Job, error) {
	if !slices.Equal(r.files, ref.Files) {
		jobs, _, err := newSite(slices.Clone(ref.Files), r.options)
		if err != nil {
			return Job{}, err
		}
		r.files, r.jobs = ref.Files, jobs
	}
	if ref.Outline > len(r.jobs) {
		return Job{}, fmt.Errorf("%s: there are %d roofs, not %d", ref.Files[0], len(r.jobs), ref.Outline)
	}
	return r.jobs[ref.Outline-1], nil
}
