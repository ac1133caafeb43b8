package importer

import (
	"errors"
	"io"
	"iter"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/surveyfile"
)

// Roofs are the roofs at some paths. They are listed without being read, so that there may be any number of them.
type Roofs struct {
	Warnings []string // whole sentences
	Known    int      // how many there are; -1 where that shows only as they come
	Once     bool     // All can be walked once: the roofs come through a pipe

	parts []part
}

// part is one source of roofs.
type part interface {
	jobs(yield func(Job) bool) bool // hands out its roofs in order; false where yield wants no more
	count() int                     // -1 for not known
}

// Campus lists the roofs at paths: in a folder, files that share a stem make one roof, and so do files given by name;
// each text of a sequence (RFC 8142, or GeoJSON a line), "-" being one that comes through stdin, is one; a file with
// many outlines is read at once, and every other file named beside it is shared out among its outlines. Roofs come in
// the order of their names, of the texts, or of the outlines in the file.
//
// A roof that cannot be used does not stop the others: its Job returns the refusal. The error is a *roof.Refusal.
func Campus(paths []string, o Options) (*Roofs, error) {
	var problems roof.Refusal
	r := &Roofs{}
	var files []string
	for _, path := range paths {
		if path == "-" {
			r.parts = append(r.parts, &sequence{path: path, in: o.In, options: o})
			r.Once = true
			continue
		}
		info, err := os.Stat(path)
		switch {
		case errors.Is(err, os.ErrNotExist):
			surveyfile.Refuse(&problems, path, "there is no such file or folder", "check the path")
		case err == nil && info.IsDir():
			found, more := listFolder(path, &problems)
			r.Warnings = append(r.Warnings, more...)
			if err := r.add(found, o); err != nil {
				return nil, err
			}
		case err == nil && isSequence(path, info):
			r.parts = append(r.parts, &sequence{path: path, size: info.Size(), options: o})
			r.Once = r.Once || !info.Mode().IsRegular()
		default:
			files = append(files, path)
		}
	}
	if err := r.add(files, o); err != nil {
		return nil, err
	}
	if len(r.parts) == 0 && len(problems.Problems) == 0 {
		problems.Add(roof.Problem{Rule: "there is no roof to read", Mend: "name folders that hold survey files themselves, not in folders below, or name files of outlines and spots"})
	}
	r.tally()
	return r, problems.Err()
}

// tally sets how many roofs there are.
func (r *Roofs) tally() {
	for _, p := range r.parts {
		if n := p.count(); n < 0 || r.Known < 0 {
			r.Known = -1
		} else {
			r.Known += n
		}
	}
}

// All hands out the roofs. Their order is the same each time.
func (r *Roofs) All() iter.Seq[Job] {
	return func(yield func(Job) bool) {
		for _, p := range r.parts {
			if !p.jobs(yield) {
				return
			}
		}
	}
}

// Share says how much of the input All has handed out, from 0 to 1; 0 where that is not known.
func (r *Roofs) Share() float64 {
	var read, all int64
	for _, p := range r.parts {
		s, ok := p.(*sequence)
		if !ok || s.size == 0 {
			return 0
		}
		read, all = read+s.read.Load(), all+s.size
	}
	return float64(read) / float64(max(1, all))
}

// add adds the roofs of files: one for each stem, or one for each outline of a file that holds many.
func (r *Roofs) add(files []string, o Options) error {
	if len(files) == 0 {
		return nil
	}
	if !holdsMany(files) {
		r.parts = append(r.parts, newStems(files, o))
		return nil
	}
	jobs, warnings, err := newSite(files, o)
	r.Warnings = append(r.Warnings, warnings...)
	r.parts = append(r.parts, outlined(jobs))
	return err
}

// outlined are the roofs of one file with many outlines.
type outlined []Job

func (l outlined) count() int { return len(l) }

func (l outlined) jobs(yield func(Job) bool) bool {
	return !slices.ContainsFunc(l, func(x Job) bool { return !yield(x) })
}

// stems are roofs whose files share a stem.
type stems struct {
	files   []string // those of one roof beside each other
	roofs   int
	options Options
}

// newStems groups files.
func newStems(files []string, o Options) *stems {
	slices.SortFunc(files, func(a, b string) int {
		if c := strings.Compare(rootOf(a), rootOf(b)); c != 0 {
			return c
		}
		return strings.Compare(a, b)
	})
	s := &stems{files: files, options: o}
	for i := range files {
		if i == 0 || rootOf(files[i]) != rootOf(files[i-1]) {
			s.roofs++
		}
	}
	return s
}

// rootOf is the path of a file without its extension.
func rootOf(path string) string { return filepath.Join(filepath.Dir(path), stem(path)) }

func (s *stems) count() int { return s.roofs }

func (s *stems) jobs(yield func(Job) bool) bool {
	for i := 0; i < len(s.files); {
		k := i + 1
		for k < len(s.files) && rootOf(s.files[k]) == rootOf(s.files[i]) {
			k++
		}
		paths := slices.Clone(s.files[i:k])
		slices.SortStableFunc(paths, func(a, b string) int { return outlineFirst(a) - outlineFirst(b) })
		job := stemJob(paths, s.options)
		job.Mark = markOf(paths)
		if !yield(job) {
			return false
		}
		i = k
	}
	return true
}

// stemJob is the roof of files that share a stem.
func stemJob(paths []string, o Options) Job {
	return Job{Name: draft.Clean(filepath.Base(rootOf(paths[0]))), Files: paths, Ref: Ref{Files: paths}, Read: func() (*roof.Roof, error) {
		var problems roof.Refusal
		r := read(paths, o, &problems)
		if err := problems.Err(); err != nil {
			return nil, err
		}
		return r, nil
	}}
}

// outlineFirst orders files that hold the outline as a rule before others.
func outlineFirst(path string) int { return choose.If(surveyfile.Detect(path, nil).Outlines, 0, 1) }

// fewFiles is how many files are opened to see whether one of them holds many outlines. A folder of more is a
// folder of single roofs.
const fewFiles = 8

// holdsMany reports whether one of a few files holds more than one outline.
func holdsMany(files []string) bool {
	if len(files) > fewFiles {
		return false
	}
	for _, path := range files {
		if !surveyfile.Detect(path, nil).Outlines && !startsAsJSON(path) {
			continue
		}
		data, format, rule, _ := surveyfile.Load(nil, path)
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

// startsAsJSON reports whether the beginning of a file, whatever its name, is that of a format that holds outlines.
func startsAsJSON(path string) bool {
	file, err := os.Open(path)
	if err != nil {
		return false
	}
	defer func() { _ = file.Close() }()
	if info, err := file.Stat(); err != nil || !info.Mode().IsRegular() {
		return false
	}
	head := make([]byte, 512)
	n, _ := io.ReadFull(file, head)
	return surveyfile.Detect(path, head[:n]).Outlines
}
