package staged

import (
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// journal says what a set is about to do to a folder.
type journal struct {
	id      string
	entries []entry
}

// kept is the second name of the file that entry i replaces.
func (j *journal) kept(i int) string { return fmt.Sprintf("%s.%d.old", j.id, i) }

func (j *journal) anyOld() bool {
	return slices.ContainsFunc(j.entries, func(x entry) bool { return x.old })
}

// Lines of a journal.
const (
	journalHead    = "runnel journal 1"
	journalLine    = "%q %q %t %d %d\n"
	journalEnd     = "end %08x\n"
	mostEntries    = 1 << 20
	longestJournal = 64 << 20 // bytes
)

// text returns the journal as it is written. It counts only when its last line is whole.
func (j *journal) text() string {
	var b strings.Builder
	b.WriteString(journalHead + "\n")
	for _, e := range j.entries {
		fmt.Fprintf(&b, journalLine, e.name, e.temporary, e.old, e.size, e.modified.UnixNano())
	}
	return b.String() + fmt.Sprintf(journalEnd, crc32.ChecksumIEEE([]byte(b.String())))
}

func (j *journal) write(f *os.File) error {
	if err := before("write"); err != nil {
		return err
	}
	if _, err := f.WriteString(j.text()); err != nil {
		return err
	}
	return sync1(f)
}

// parseJournal reads a journal; false where it is not whole: then nothing was done to the folder. Names that lead out
// of the folder make it none of ours.
func parseJournal(id, text string) (*journal, bool) {
	at := strings.LastIndex(strings.TrimSuffix(text, "\n"), "\n") + 1
	if !strings.HasPrefix(text, journalHead+"\n") || text[at:] != fmt.Sprintf(journalEnd, crc32.ChecksumIEEE([]byte(text[:at]))) {
		return nil, false
	}
	j := &journal{id: id}
	for line := range strings.Lines(text[len(journalHead)+1 : at]) {
		var e entry
		var modified int64
		if _, err := fmt.Sscanf(line, journalLine, &e.name, &e.temporary, &e.old, &e.size, &modified); err != nil {
			return nil, false
		}
		if !inFolder(e.name) || !inFolder(e.temporary) || len(j.entries) == mostEntries {
			return nil, false
		}
		e.modified = time.Unix(0, modified)
		j.entries = append(j.entries, e)
	}
	return j, true
}

// inFolder reports whether a name is that of something in a folder itself.
func inFolder(name string) bool {
	return name != "" && name != "." && name != ".." && filepath.Base(name) == name && !strings.ContainsAny(name, `/\`)
}

// undo puts everything back as it was before the set. What somebody else has put in a place meanwhile stays.
// It may be cut short at any point and called again.
func (j *journal) undo(dir string) error {
	var failed error
	for i := range j.entries {
		e := &j.entries[i]
		path := filepath.Join(dir, e.name)
		there, err := os.Lstat(path)
		gone := errors.Is(err, fs.ErrNotExist)
		ours := err == nil && e.is(there)
		if !e.old {
			if _, err := os.Lstat(filepath.Join(dir, e.temporary)); errors.Is(err, fs.ErrNotExist) && ours {
				failed = errors.Join(failed, remove(path))
			}
			continue
		}
		kept := filepath.Join(dir, j.kept(i))
		was, err := os.Lstat(kept)
		switch {
		case err != nil: // it was not moved, or is back
		case gone, ours && !os.SameFile(was, there):
			failed = errors.Join(failed, rename(kept, path))
		default:
			failed = errors.Join(failed, remove(kept))
		}
	}
	return errors.Join(failed, syncFolder(dir))
}

// is reports whether a file is the new one of e.
func (e *entry) is(info fs.FileInfo) bool {
	return info.Mode().IsRegular() && info.Size() == e.size && info.ModTime().UnixNano() == e.modified.UnixNano()
}
