package viewer

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"runnel/export/record"
)

// Source is how results are made again.
type Source struct {
	Inputs func(record.Run) ([]string, error) // the files and folders that a run reads; nil where none is made again
	Check  func(record.Run) error             // makes its files again
	Say    func(string)                       // tells the user at the terminal
}

// job is one run and how it stands. problem is guarded by the folder's mutex.
type job struct {
	key     string
	run     record.Run
	seen    string // stamp of the inputs that were checked last
	last    string // stamp at the last look
	begun   bool
	problem string
}

// Watch has runs made again when their inputs change, until ctx ends. It looks at them every so often, and waits until
// a change has stood still for one look, so that a file is not read while an editor writes it. Results that are older
// than their inputs are made again at once.
func (f *Folder) Watch(ctx context.Context, every time.Duration, s Source) {
	tick := time.NewTicker(every)
	defer tick.Stop()
	for {
		f.look(s)
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}

// look goes once over inputs and results.
func (f *Folder) look(s Source) {
	if !f.current() {
		f.relist(s)
	}
	if s.Inputs == nil {
		return
	}
	f.mutex.RLock()
	runs := f.runs
	f.mutex.RUnlock()
	for _, j := range runs {
		paths, err := s.Inputs(j.run)
		if err != nil {
			f.problem(j, err.Error()+".", s)
			continue
		}
		stamp, youngest := f.inputs(paths)
		switch {
		case !j.begun:
			j.begun = true
			if !youngest.After(f.checked(j.key)) && !strings.Contains(stamp, gone) {
				j.seen = stamp
			}
			j.last = stamp
		case stamp != j.last:
			j.last = stamp
			continue // wait until it stands still
		}
		if stamp != j.seen {
			j.seen = stamp
			f.again(j, paths, s)
		}
	}
}

func (f *Folder) again(j *job, paths []string, s Source) {
	start := time.Now()
	var err error
	for _, p := range paths {
		if f.serves(p) {
			err = fmt.Errorf("%s is read and written by this run, so it is not made again; let it write into another folder", p)
		}
	}
	if err == nil {
		err = s.Check(j.run)
	}
	f.relist(s) // of a campus some roofs may be done
	if err != nil {
		f.problem(j, err.Error(), s)
		return
	}
	f.problem(j, "", s)
	s.Say(fmt.Sprintf("checked again in %.1f s: %s", time.Since(start).Seconds(), strings.Join(f.names(j.key), ", ")))
}

func (f *Folder) relist(s Source) {
	if err := f.list(); err != nil {
		s.Say(err.Error())
	}
}

// problem notes why a run could not be made again; empty: it was.
func (f *Folder) problem(j *job, text string, s Source) {
	f.mutex.Lock()
	isNew := j.problem != text
	j.problem = text
	f.mutex.Unlock()
	if isNew && text != "" {
		s.Say("not checked again, the last result stays: " + text)
	}
}

// checked returns when the oldest result of a run was written.
func (f *Folder) checked(key string) time.Time {
	f.mutex.RLock()
	defer f.mutex.RUnlock()
	var oldest time.Time
	for i := range f.roofs {
		if r := &f.roofs[i]; keyOf(&r.run) == key && (oldest.IsZero() || r.Checked.Before(oldest)) {
			oldest = r.Checked
		}
	}
	return oldest
}

func (f *Folder) names(key string) []string {
	f.mutex.RLock()
	defer f.mutex.RUnlock()
	var names []string
	for i := range f.roofs {
		if keyOf(&f.roofs[i].run) == key {
			names = append(names, f.roofs[i].Name)
		}
	}
	const most = 5
	if len(names) > most {
		names = append(names[:most:most], fmt.Sprintf("and %d more", len(names)-most))
	}
	return names
}

// gone marks a missing file in a stamp; no name of a file holds it.
const gone = "\x00gone"

// inputs returns a text that changes when one of the inputs does, and when the youngest was written. Of a folder its
// files count, but not those that are results of this one.
func (f *Folder) inputs(paths []string) (stamp string, youngest time.Time) {
	var b strings.Builder
	note := func(path string, info fs.FileInfo) {
		fmt.Fprintf(&b, "%s %d %d\n", path, info.Size(), info.ModTime().UnixNano())
		if info.ModTime().After(youngest) {
			youngest = info.ModTime()
		}
	}
	for _, path := range paths {
		info, err := os.Stat(path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			b.WriteString(path + gone + "\n")
		case err != nil:
			b.WriteString(path + " " + err.Error() + "\n")
		case !info.IsDir():
			note(path, info)
		default:
			entries, err := os.ReadDir(path)
			if err != nil {
				b.WriteString(path + " " + err.Error() + "\n")
			}
			for _, e := range entries {
				inside := filepath.Join(path, e.Name())
				if info, err := e.Info(); err == nil && info.Mode().IsRegular() && !temporary(e.Name()) && !f.serves(inside) {
					note(inside, info)
				}
			}
		}
	}
	return b.String(), youngest
}

// temporary reports whether a name is that of an unfinished file of this program.
func temporary(name string) bool { return strings.HasPrefix(name, ".runnel-") }
