package campus

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"sync"

	"runnel/export/staged"
)

// Head is the first line of a file of rows of one part of a campus.
type Head struct {
	Format  string `json:"format"`
	Part    int    `json:"part"` // from 1
	Of      int    `json:"of"`
	Call    string `json:"call"` // what parts of one campus have in common: how the run was called
	Rank    string `json:"rank,omitempty"`
	Units   string `json:"units_out,omitempty"`
	Reports bool   `json:"reports,omitempty"`
}

// partFormat is what Head.Format says.
const partFormat = "runnel campus part 1"

// PartName is the name of the file of a part.
func PartName(number, of int) string { return fmt.Sprintf("campus.part-%d-of-%d.ndjson", number, of) }

var partName = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^campus\.part-([0-9]+)-of-([0-9]+)\.ndjson$`) })

// WritePart writes the rows of a part: a head, and one row a line, in the order of their names.
func WritePart(store Store, rows Source, head Head) (*Total, error) {
	s := &Sorter{compare: byName, scratch: store.Scratch, size: mostHeld}
	defer s.discard()
	total, err := s.take(rows)
	if err != nil {
		return nil, err
	}
	head.Format = partFormat
	return total, store.AddLast(staged.Output{Name: PartName(head.Part, head.Of), Write: func(w io.Writer) error {
		out := json.NewEncoder(w)
		if err := out.Encode(head); err != nil {
			return err
		}
		return s.Each(func(r *Row) error { return out.Encode(r) })
	}})
}

// Parts are the files of rows of all parts of a campus.
type Parts struct {
	Head  Head // what they have in common
	Paths []string
}

// PartsError says which parts are wanting, or do not belong together.
type PartsError struct{ text string }

// Error says it.
func (e *PartsError) Error() string { return e.text }

func wrongParts(format string, args ...any) error { return &PartsError{fmt.Sprintf(format, args...)} }

// PartsIn finds the parts in a folder. The error is a *PartsError where one is wanting, or where they are not of one campus.
func PartsIn(dir string) (*Parts, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	p := &Parts{}
	var have []bool
	for _, e := range entries {
		m := partName().FindStringSubmatch(e.Name())
		if m == nil || !e.Type().IsRegular() {
			continue
		}
		path := filepath.Join(dir, e.Name())
		head, err := partHead(path, m[1], m[2])
		if err != nil {
			return nil, err
		}
		number, of := head.Part, head.Of
		head.Part = 0
		if have == nil {
			p.Head, have = head, make([]bool, of)
		}
		if head != p.Head {
			return nil, wrongParts("%s is of another run than %s: keep the parts of one", path, p.Paths[0])
		}
		have[number-1] = true
		p.Paths = append(p.Paths, path)
	}
	if have == nil {
		return nil, wrongParts("%s holds no part of a campus: run campus with --shard", dir)
	}
	slices.Sort(p.Paths)
	return p, p.whole(dir, have)
}

// whole reports the parts that are wanting.
func (p *Parts) whole(dir string, have []bool) error {
	var missing []string
	for i, there := range have {
		if !there && len(missing) < most {
			missing = append(missing, fmt.Sprint(i+1))
		}
	}
	if missing == nil {
		return nil
	}
	return wrongParts("%s: %d of %d parts are there; wanting: %v", dir, len(p.Paths), len(have), missing)
}

// partHead reads the head of a part whose name says which it is, of how many.
func partHead(path, part, parts string) (Head, error) {
	number, errNumber := strconv.Atoi(part)
	of, errOf := strconv.Atoi(parts)
	if errNumber != nil || errOf != nil || number < 1 || number > of || of > MostParts {
		return Head{}, wrongParts("%s: there is no part %s of %s", filepath.Base(path), part, parts)
	}
	head, err := readHead(path)
	if err == nil && (head.Part != number || head.Of != of) {
		err = wrongParts("%s says that it is part %d of %d", path, head.Part, head.Of)
	}
	return head, err
}

// MostParts is how many parts a campus may have.
const MostParts = 1000000

func readHead(path string) (Head, error) {
	var h Head
	f, err := os.Open(path)
	if err != nil {
		return h, err
	}
	defer func() { _ = f.Close() }()
	text, err := bufio.NewReader(f).ReadBytes('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return h, err
	}
	if json.Unmarshal(text, &h) != nil || h.Format != partFormat {
		return h, wrongParts("%s is no part of a campus as this version writes it", path)
	}
	return h, nil
}

// Rows hands the rows of all parts to take.
func (p *Parts) Rows(take func(*Row) error) error {
	for _, path := range p.Paths {
		if err := eachRow(path, take); err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
	}
	return nil
}

// eachRow hands the rows of the file of a part to take.
func eachRow(path string, take func(*Row) error) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }()
	in := bufio.NewReaderSize(f, 1<<18)
	for number := 1; ; number++ {
		text, err := in.ReadBytes('\n')
		if errors.Is(err, io.EOF) && len(text) == 0 {
			return nil
		}
		if err != nil {
			return wrongParts("line %d is cut off; run that part again", number)
		}
		if number == 1 {
			continue
		}
		r, err := ParseRow(text)
		if err != nil {
			return wrongParts("line %d is not a row: %v", number, err)
		}
		if err := take(&r); err != nil {
			return err
		}
	}
}

// InOrder returns the names of files of a campus, the one to open first before the others.
func InOrder(names []string) []string {
	usual := Names()
	slices.SortFunc(names, func(a, b string) int { return slices.Index(usual, a) - slices.Index(usual, b) })
	return names
}
