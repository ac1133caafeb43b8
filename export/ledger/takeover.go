package ledger

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
)

// Folder returns the folder in which the run works; what is in it goes when the run ends.
func (l *Ledger) Folder() string { return l.work }

// Expected is a roof whose results another record may hold.
type Expected struct {
	Key, Mark uint64
	Files     []string // that it may have
}

// TakeOver moves into this record what another one has of the roofs that are expected, and returns those that it has not. What
// else stands there is not looked at. A kill meanwhile loses a roof at most, which is then done anew.
func (l *Ledger) TakeOver(from *Ledger, want []Expected) (missing []Expected, err error) {
	open := make(map[uint64]*Expected, len(want))
	for i := range want {
		if !l.Done(want[i].Key, want[i].Mark) {
			open[want[i].Key] = &want[i]
		}
	}
	err = from.each(func(text []byte, at, _ int64) error {
		var e line
		if json.Unmarshal(text, &e) != nil || e.Row == nil {
			return nil //nolint:nilerr // no line of a roof
		}
		own := open[e.Key]
		if own == nil || own.Mark != e.Mark || from.done[e.Key].at != at || !own.mayHave(e.Files) {
			return nil
		}
		delete(open, e.Key)
		return l.take(from, &e)
	})
	for i := range want {
		if open[want[i].Key] != nil {
			missing = append(missing, want[i])
		}
	}
	return missing, err
}

func (e *Expected) mayHave(files []file) bool {
	return !slices.ContainsFunc(files, func(f file) bool { return !slices.Contains(e.Files, f.Name) })
}

// take moves the files of one roof, and adds its line.
func (l *Ledger) take(from *Ledger, e *line) error {
	for _, f := range e.Files {
		if err := os.Rename(filepath.Join(from.work, roofFolder, f.Name), filepath.Join(l.work, roofFolder, f.Name)); err != nil {
			return &StoreError{fmt.Errorf("take over %s: %w", f.Name, cause(err))}
		}
	}
	return l.note(e)
}
