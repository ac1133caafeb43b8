// Package viewer shows the files of a folder of results in a browser, and keeps them up to date.
//
// A Folder lists the roofs of an output folder by their summaries, and of each roof the files that the program
// writes; nothing else in the folder is ever served. Handler is the server: a list of the roofs, and a page round
// each report and plan that loads it again when it has changed, so that the files themselves stay as they are on
// disk. Watch looks at the inputs of each run and has the run made again when they change; while that fails, the
// last good result stays and the pages say why.
package viewer

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"runnel/export"
	"runnel/export/campus"
	"runnel/export/record"
	"runnel/export/summary"
)

// Folder is the output of check or campus.
type Folder struct {
	path  string
	root  *os.Root
	wrote func(name string, content []byte) bool

	mutex sync.RWMutex
	roofs []roof
	files map[string]bool // that are served
	stamp string          // of the files when they were listed
	all   string          // the names of all that was in the folder then
	runs  []*job          // each once
}

// roof is what a summary says of one roof, and the files beside it.
type roof struct {
	Stem, Name     string
	Urgent, Repair int
	Note, Ponds    int
	Checked        time.Time
	Sheets, Tables []file
	Worst          string // the worst finding, in a sentence
	Deepest        string // pond, empty where there is none
	Weighs         string // the water of all ponds, likewise
	version        string // another one when a file has changed
	KeepOff        bool
	weight         float64 // of the ponds' water [kg]
	rank           int     // of the worst finding
	run            record.Run
}

// file is one file of a roof.
type file struct {
	Name, What string
	Framed     bool // is shown inside a page of ours
}

// Open lists the results in a folder. The error says what to do where there are none.
func Open(path string) (*Folder, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s: there is no such folder; name the folder that check or campus wrote into", path)
	case err == nil && !info.IsDir():
		return nil, fmt.Errorf("%s: this is a file; name the folder that check or campus wrote into", path)
	}
	root, err := os.OpenRoot(path)
	if err != nil {
		return nil, fmt.Errorf("open the folder: %w", err)
	}
	f := &Folder{path: path, root: root}
	if err := f.list(); err != nil {
		return nil, errors.Join(err, root.Close())
	}
	if len(f.roofs) == 0 {
		_ = root.Close()
		return nil, fmt.Errorf("%s: there is no summary of a roof in it; write one with: runnel check FILES -o %s", path, path)
	}
	return f, nil
}

// Close lets go of the folder.
func (f *Folder) Close() error { return f.root.Close() }

// list reads the folder anew.
func (f *Folder) list() error {
	entries, err := fs.ReadDir(f.root.FS(), ".")
	if err != nil {
		return fmt.Errorf("list %s: %w", f.path, err)
	}
	sizes := map[string]fs.FileInfo{}
	for _, e := range entries {
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() {
			sizes[e.Name()] = info
		}
	}
	var roofs []roof
	for _, e := range entries {
		stem, isJSON := strings.CutSuffix(e.Name(), ".json")
		if info := sizes[e.Name()]; isJSON && info != nil && !strings.Contains(stem, ".") {
			if r, ok := f.read(stem, info); ok {
				roofs = append(roofs, r)
			}
		}
	}
	roofs = newest(roofs)
	files := map[string]bool{}
	for i := range roofs {
		roofs[i].collect(sizes, files)
	}
	for _, name := range campus.Names() {
		if sizes[name] != nil {
			files[name] = true
		}
	}
	slices.SortFunc(roofs, worstFirst)
	f.keep(roofs, files, stampOf(sizes, files), namesIn(entries))
	return nil
}

// keep takes what was listed, with a job for each run that is new.
func (f *Folder) keep(roofs []roof, files map[string]bool, stamp, all string) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	f.roofs, f.files, f.stamp, f.all = roofs, files, stamp, all
	var runs []*job
	for i := range roofs {
		key := keyOf(&roofs[i].run)
		same := func(j *job) bool { return j.key == key }
		if slices.ContainsFunc(runs, same) {
			continue
		}
		if k := slices.IndexFunc(f.runs, same); k >= 0 {
			runs = append(runs, f.runs[k])
		} else {
			runs = append(runs, &job{key: key, run: roofs[i].run})
		}
	}
	f.runs = runs
}

// Runs returns the runs that wrote the results, each once.
func (f *Folder) Runs() []record.Run {
	f.mutex.RLock()
	defer f.mutex.RUnlock()
	var runs []record.Run
	for _, j := range f.runs {
		runs = append(runs, j.run)
	}
	return runs
}

func keyOf(r *record.Run) string { return string(r.Object().Append(nil)) }

// longestSummary bounds what is read of a file that may be a summary [bytes].
const longestSummary = 64 << 20

// read reads the summary of a stem, if that is what it is.
func (f *Folder) read(stem string, info fs.FileInfo) (roof, bool) {
	if info.Size() > longestSummary {
		return roof{}, false
	}
	opened, _, err := f.open(stem + ".json")
	if err != nil {
		return roof{}, false
	}
	defer func() { _ = opened.Close() }()
	data, err := io.ReadAll(io.LimitReader(opened, longestSummary))
	if err != nil {
		return roof{}, false
	}
	var s struct {
		Schema, Units string
		Roof          struct{ ID, Name, Building string }
		Run           record.Run
		Ponds         []standingWater
		Findings      []struct{ ID, Severity, What string }
		KeepOff       bool `json:"keep_off"`
		Worst         struct {
			Rank    int
			Finding string
		}
	}
	if json.Unmarshal(data, &s) != nil || s.Schema != summary.Schema {
		return roof{}, false
	}
	r := roof{Stem: stem, Name: s.Roof.Name, Ponds: len(s.Ponds), Checked: info.ModTime(), KeepOff: s.KeepOff, rank: s.Worst.Rank, run: s.Run}
	if r.Name == "" {
		r.Name = stem
	}
	if s.Roof.Building != "" && s.Roof.Building != r.Name {
		r.Name = s.Roof.Building + ", " + r.Name
	}
	r.weigh(s.Ponds, s.Units)
	for _, n := range s.Findings {
		if n.ID == s.Worst.Finding {
			r.Worst = n.What
		}
		switch n.Severity {
		case "urgent":
			r.Urgent++
		case "repair":
			r.Repair++
		default:
			r.Note++
		}
	}
	return r, true
}

// standingWater is what a summary says of a pond: a figure, or where the spots barely show it bounds that hold it.
type standingWater struct {
	Millimetres, Millimetres95, Inches, Inches95 float64
	Kilograms, Litres95, Pounds, Gallons95       float64
}

// UnmarshalJSON reads the names of the summary.
func (w *standingWater) UnmarshalJSON(text []byte) error {
	var p map[string]any
	if err := json.Unmarshal(text, &p); err != nil {
		return err
	}
	for name, v := range map[string]*float64{
		"depth_mm": &w.Millimetres, "depth_mm_95": &w.Millimetres95, "depth_in": &w.Inches, "depth_in_95": &w.Inches95,
		"weight_kg": &w.Kilograms, "volume_l_95": &w.Litres95, "weight_lb": &w.Pounds, "volume_gal_95": &w.Gallons95,
	} {
		*v, _ = p[name].(float64)
	}
	return nil
}

// weigh adds up the ponds' water and finds the deepest; of one that is barely shown the upper bound counts.
func (r *roof) weigh(ponds []standingWater, units string) {
	if len(ponds) == 0 {
		return
	}
	u, deepest, upTo := record.SI, 0.0, ""
	if units == record.US.String() {
		u = record.US
	}
	for _, p := range ponds {
		depth, weight := p.Millimetres/1000+p.Inches*metresPerInch, p.Kilograms+p.Pounds*kilogramsPerPound
		bound := depth == 0
		if bound {
			depth = p.Millimetres95/1000 + p.Inches95*metresPerInch
		}
		if weight == 0 {
			weight = p.Litres95 + p.Gallons95*litresPerGallon
		}
		r.weight += weight
		if depth > deepest {
			if deepest, upTo = depth, ""; bound {
				upTo = "up to "
			}
		}
	}
	r.Deepest, r.Weighs = upTo+u.SayDepth(deepest), u.SayMass(r.weight)
}

// An inch is 25.4 mm and a gallon of the United States 231 cubic inches by definition; a litre of water weighs a kilogram here.
const (
	metresPerInch   = 0.0254
	litresPerGallon = 3.785411784
)

// kilogramsPerPound is the international avoirdupois pound: 0.45359237 kg by definition.
const kilogramsPerPound = 0.45359237

// newest leaves, of summaries that one run over one roof wrote under changing names, the last.
func newest(roofs []roof) []roof {
	return slices.DeleteFunc(slices.Clone(roofs), func(r roof) bool {
		return r.run.Command != "campus" && slices.ContainsFunc(roofs, func(q roof) bool {
			return keyOf(&q.run) == keyOf(&r.run) && q.Checked.After(r.Checked)
		})
	})
}

// worstFirst orders roofs as the table of a campus does.
func worstFirst(a, b roof) int {
	return cmp.Or(campus.Compare(a.standing(), b.standing()), cmp.Compare(a.Stem, b.Stem))
}

func (r *roof) standing() campus.Standing {
	return campus.Standing{KeepOff: r.KeepOff, Counts: [3]int{r.Note, r.Repair, r.Urgent}, Rank: r.rank, Weight: r.weight}
}

// Main is the file that the roof's name opens, nil where there is none to look at.
func (r roof) Main() *file {
	if len(r.Sheets) == 0 {
		return nil
	}
	return &r.Sheets[0]
}

// Version is another one when a file has changed.
func (r roof) Version() string { return r.version }

// sheets are the files that are for looking at, by what follows the stem, in the order of the list.
var sheets = []struct {
	ending, what string
	framed       bool
}{
	{".report.html", "report", true},
	{".report.pdf", "report to print", false},
	{".plan.svg", "plan", true},
	{".plan.pdf", "plan to print", false},
	{".setout.pdf", "set-out sheet", false},
	{".schedule.xlsx", "schedule", false},
}

// collect lists the files of r that are there.
func (r *roof) collect(there map[string]fs.FileInfo, files map[string]bool) {
	var names []string
	for _, split := range []bool{false, true} {
		for _, name := range export.Names(r.Stem, export.Kinds(), split) {
			if there[name] != nil && !slices.Contains(names, name) {
				names = append(names, name)
				files[name] = true
			}
		}
	}
	for _, s := range sheets {
		if i := slices.Index(names, r.Stem+s.ending); i >= 0 {
			r.Sheets = append(r.Sheets, file{names[i], s.what, s.framed})
			names = slices.Delete(names, i, i+1)
		}
	}
	own := map[string]bool{}
	for _, name := range names {
		r.Tables = append(r.Tables, file{Name: name, What: strings.TrimPrefix(name, r.Stem)})
		own[name] = true
	}
	for _, s := range r.Sheets {
		own[s.Name] = true
	}
	r.version = stampOf(there, own)
}

// stampOf returns a short text that changes when one of the files does.
func stampOf(infos map[string]fs.FileInfo, files map[string]bool) string {
	names := make([]string, 0, len(files))
	for name := range files {
		names = append(names, name)
	}
	slices.Sort(names)
	h := fnv.New64a()
	for _, name := range names {
		_, _ = fmt.Fprintf(h, "%s %d %d\n", name, infos[name].Size(), infos[name].ModTime().UnixNano())
	}
	return fmt.Sprintf("%016x", h.Sum64())
}

// namesIn returns the names of a folder's files, but those that are not finished, as one text.
func namesIn(entries []fs.DirEntry) string {
	var b strings.Builder
	for _, e := range entries {
		if !temporary(e.Name()) {
			b.WriteString(e.Name() + "\x00")
		}
	}
	return b.String()
}

// current reports whether the files that are served are still those that were listed, and no other has come.
func (f *Folder) current() bool {
	entries, err := fs.ReadDir(f.root.FS(), ".")
	if err != nil {
		return false
	}
	f.mutex.RLock()
	defer f.mutex.RUnlock()
	infos := map[string]fs.FileInfo{}
	for name := range f.files {
		info, err := f.root.Lstat(name)
		if err != nil {
			return false
		}
		infos[name] = info
	}
	return namesIn(entries) == f.all && stampOf(infos, f.files) == f.stamp
}

// serves reports whether a path is that of a file which is served: a result, never an input.
func (f *Folder) serves(path string) bool {
	f.mutex.RLock()
	defer f.mutex.RUnlock()
	if !f.files[filepath.Base(path)] {
		return false
	}
	there, err := os.Stat(path)
	if err != nil {
		return false
	}
	own, err := f.root.Stat(filepath.Base(path))
	return err == nil && os.SameFile(there, own)
}
