package staged

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"runnel/analysis/gather"
)

// Commit gives every file its own name and returns their paths in the order of adding. Where one cannot have it,
// everything is as it was before, and the error says so.
func (s *Set) Commit() ([]string, error) {
	gate.RLock()
	defer gate.RUnlock()
	if s.run == nil {
		return nil, nil
	}
	defer lockFolder(s.target.Dir)()
	j := s.journal()
	err := s.place(j)
	if err == nil {
		s.close(j)
		paths := gather.Each(j.entries, func(x entry) string { return s.path(x.name) })
		written.Add(int64(len(paths)))
		return paths, nil
	}
	if undone := j.undo(s.target.Dir); undone != nil {
		forget(s)
		_ = s.run.Close() // the journal stays for the next run
		s.run = nil
		return nil, fmt.Errorf("%w; some files could not be put back (%w): the next run into this folder tries again", err, undone)
	}
	s.Discard()
	return nil, fmt.Errorf("%w; nothing was replaced", err)
}

// journal returns what Commit is about to do.
func (s *Set) journal() *journal {
	j := &journal{id: s.id}
	for _, e := range s.entries {
		if e.temporary != "" {
			j.entries = append(j.entries, e)
		}
	}
	return j
}

// place puts the files of j in their places, up to the removal of the journal, which is the moment that they stand.
func (s *Set) place(j *journal) error {
	old := false
	for i := range j.entries {
		fresh, err := s.free(j.entries[i].name) // what was free before may not be now
		if err != nil {
			return err
		}
		j.entries[i].old = !fresh
		old = old || !fresh
	}
	if len(j.entries) > 1 || old {
		if err := s.keep(j); err != nil {
			return err
		}
	}
	for i := range j.entries {
		if err := s.rename(j, i); err != nil {
			return fmt.Errorf("write %s: %w", s.path(j.entries[i].name), cause(err))
		}
	}
	if err := syncFolder(s.target.Dir); err != nil {
		return fmt.Errorf("write into %s: %w", s.target.Dir, cause(err))
	}
	if err := removeLocked(s.run, s.path(s.id)); err != nil {
		return fmt.Errorf("write into %s: %w", s.target.Dir, cause(err))
	}
	return nil
}

// keep gives the files that will be replaced a second name and writes the journal.
func (s *Set) keep(j *journal) error {
	for i := range j.entries {
		if !j.entries[i].old {
			continue
		}
		from, to := s.path(j.entries[i].name), s.path(j.kept(i))
		if err := link(from, to); err != nil && !unsupported(err) {
			return fmt.Errorf("keep %s: %w", from, cause(err))
		}
	}
	err := j.write(s.run)
	if err == nil {
		err = syncFolder(s.target.Dir)
	}
	if err != nil {
		return fmt.Errorf("write into %s: %w", s.target.Dir, cause(err))
	}
	return nil
}

// rename puts one file in its place. On a file system without second names the old one is moved away first.
func (s *Set) rename(j *journal, i int) error {
	e := &j.entries[i]
	if e.old {
		if _, err := os.Lstat(s.path(j.kept(i))); errors.Is(err, fs.ErrNotExist) {
			if err := rename(s.path(e.name), s.path(j.kept(i))); err != nil {
				return err
			}
		}
	}
	return rename(s.path(e.temporary), s.path(e.name))
}

// close ends a set whose files stand, and takes the second names of the old ones away.
func (s *Set) close(j *journal) {
	forget(s)
	if j.anyOld() {
		_ = syncFolder(s.target.Dir)
		for i := range j.entries {
			if j.entries[i].old {
				_ = remove(s.path(j.kept(i)))
			}
		}
	}
	_ = s.run.Close()
	s.run, s.entries, s.folders = nil, nil, nil
}
