package ledger

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
)

// placing is the line that says that files move to their places.
const placing = "placing"

// line is what the journal says of one roof.
type line struct {
	Key   uint64          `json:"key"`
	Mark  uint64          `json:"mark"`
	Files []file          `json:"files,omitempty"`
	Row   json.RawMessage `json:"row"`
}

type file struct {
	Name string `json:"name"`
	Size int64  `json:"size"`
}

// sumLength is that of a checksum and the blank after it.
const sumLength = 9

// append adds one line. mutex is held, or nobody else is at work.
func (l *Ledger) append(text string) error {
	if l.err != nil {
		return l.err
	}
	whole := fmt.Sprintf("%08x %s\n", crc32.ChecksumIEEE([]byte(text)), text)
	n, err := l.journal.WriteAt([]byte(whole), l.size)
	if err != nil {
		_ = l.journal.Truncate(l.size) // it is healed on reading as well
		l.err = &StoreError{fmt.Errorf("write %s: %w", l.path(journalName), cause(err))}
		return l.err
	}
	l.size += int64(n)
	return nil
}

// cause strips a path that the caller names from an error.
func cause(err error) error {
	var p *os.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// load reads the journal, and takes off what is behind its last whole line. same says that it is that of this call.
func (l *Ledger) load(call string) (same bool, err error) {
	at, first := int64(0), true
	err = l.each(func(text []byte, from, to int64) error {
		at = to
		if first {
			same, first = string(text) == call, false
			return nil
		}
		if string(text) == placing {
			l.Moving = true
			return nil
		}
		var e line
		if json.Unmarshal(text, &e) == nil {
			l.done[e.Key] = entry{mark: e.Mark, at: from}
		}
		return nil
	})
	if err != nil {
		return false, err
	}
	l.size, l.Before = at, len(l.done)
	if err := l.journal.Truncate(at); err != nil {
		return false, err
	}
	return same && !first, nil
}

// each hands the whole lines of the journal to take, with where each begins and ends; what follows a line that is not
// whole is not looked at.
func (l *Ledger) each(take func(text []byte, from, to int64) error) error {
	in := bufio.NewReaderSize(io.NewSectionReader(l.journal, 0, 1<<62), 1<<18)
	for at := int64(0); ; {
		text, err := in.ReadBytes('\n')
		if err != nil {
			if errors.Is(err, io.EOF) {
				return nil
			}
			return err
		}
		to := at + int64(len(text))
		text = text[:len(text)-1]
		if len(text) < sumLength || text[sumLength-1] != ' ' {
			return nil
		}
		sum, err := strconv.ParseUint(string(text[:sumLength-1]), 16, 32)
		if err != nil || uint32(sum) != crc32.ChecksumIEEE(text[sumLength:]) {
			return nil //nolint:nilerr // the journal ends here
		}
		if err := take(text[sumLength:], at, to); err != nil {
			return err
		}
		at = to
	}
}

// sweep drops the roofs whose files are not as the journal says, as after a loss of power.
func (l *Ledger) sweep() error {
	return l.each(func(text []byte, from, _ int64) error {
		var e line
		if json.Unmarshal(text, &e) != nil || e.Row == nil || l.done[e.Key].at != from {
			return nil //nolint:nilerr // no line of a roof
		}
		for _, f := range e.Files {
			if info, err := os.Stat(l.where(f.Name)); err != nil || info.Size() != f.Size {
				delete(l.done, e.Key)
				l.Before--
				break
			}
		}
		return nil
	})
}

// where returns where a file of a roof stands now.
func (l *Ledger) where(name string) string {
	path := filepath.Join(l.work, roofFolder, name)
	if l.Moving {
		if _, err := os.Stat(path); err != nil {
			return filepath.Join(l.dir, name)
		}
	}
	return path
}

// Rows hands the row of each roof of this run to take, in the order in which they were done. It takes away the files of
// roofs that are none of this run's, and those that a roof had before it was done anew. An error of take ends it.
func (l *Ledger) Rows(take func(row []byte) error) error {
	stale := map[uint64][]file{}
	err := l.each(func(text []byte, from, _ int64) error {
		var e line
		if json.Unmarshal(text, &e) != nil || e.Row == nil {
			return nil //nolint:nilerr // no line of a roof
		}
		if last := l.done[e.Key]; !last.seen || last.at != from {
			stale[e.Key] = append(stale[e.Key], e.Files...)
			return nil
		}
		if old, ok := stale[e.Key]; ok {
			stale[e.Key] = slices.DeleteFunc(old, func(f file) bool {
				return slices.ContainsFunc(e.Files, func(own file) bool { return own.Name == f.Name })
			})
		}
		return take(e.Row)
	})
	if err != nil {
		return err
	}
	for _, files := range stale {
		l.drop(files)
	}
	return nil
}
