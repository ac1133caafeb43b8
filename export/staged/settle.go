package staged

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sync"
)

// prefix begins the names of all files that are not in their places.
const prefix = ".runnel-"

// ours are the names that this package gives: those of a set, and those that earlier versions gave.
var ours = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(\.runnel-[0-9]+-[0-9]+)(\.[0-9]+(\.old)?|\.busy)?$`)
})

// Settle takes away what killed runs left in a folder. Where one was killed while it put its files in place, those that
// were there before are put back. It returns what it did about that, whole sentences. Files of runs that live stay.
func Settle(dir string) (notes []string) {
	left := leftovers(dir)
	if len(left) == 0 {
		return nil
	}
	defer lockFolder(dir)()
	ids := make([]string, 0, len(left))
	for id := range left {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for _, id := range ids {
		if note := settle(dir, id, left[id]); note != "" {
			notes = append(notes, note)
		}
	}
	return notes
}

// leftovers returns the names of the files in dir that are not in place, by the set that they belong to.
func leftovers(dir string) map[string][]string {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil
	}
	var left map[string][]string
	for _, e := range entries {
		if m := ours().FindStringSubmatch(e.Name()); m != nil && e.Type().IsRegular() {
			if left == nil {
				left = map[string][]string{}
			}
			left[m[1]] = append(left[m[1]], e.Name())
		}
	}
	return left
}

// settle settles what one set left, unless its process lives.
func settle(dir, id string, names []string) (note string) {
	path := filepath.Join(dir, id)
	run, dead := lockDead(path)
	if !dead {
		return ""
	}
	if run != nil {
		defer func() { _ = run.Close() }()
		text, err := io.ReadAll(io.LimitReader(run, longestJournal))
		if err != nil {
			return fmt.Sprintf("%s: an earlier run was cut short, and what it left cannot be read: %v.", dir, cause(err))
		}
		if j, whole := parseJournal(id, string(text)); whole {
			if err := j.undo(dir); err != nil {
				return fmt.Sprintf("%s: an earlier run was cut short while it put its files in place, and those that were there cannot be put back: %v.", dir, cause(err))
			}
			note = fmt.Sprintf("%s: an earlier run was cut short while it put its files in place; all is again as it was before that run.", dir)
		}
	}
	for _, name := range names {
		if name != id {
			_ = remove(filepath.Join(dir, name))
		}
	}
	if run != nil {
		_ = removeLocked(run, path)
	}
	return note
}
