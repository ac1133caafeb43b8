// Package logbook keeps a roof's own history: one entry a line, only ever added to. Each entry holds the hash of the line before, so that a line that was
// changed or taken out afterwards shows.
package logbook

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"

	"runnel/analysis/gather"
	"runnel/analysis/textfile"
)

// Kind says what an entry is about.
type Kind string

// The kinds of entry.
const (
	Note     Kind = "note"
	Cleaned  Kind = "cleaned"  // outlets and strainers
	Cut      Kind = "cut"      // cores and openings
	Repaired Kind = "repaired" // covering, flashings, insulation
	Consent  Kind = "consent"  // of owner, warrantor, authority
	Look     Kind = "look"     // at the roof, in spring, after the leaves have fallen, before frost, after a storm
	Water    Kind = "water"    // that stood: a pond with its depth
	Dry      Kind = "dry"      // seen dry 48 hours after rain: the close-out
)

// Kinds returns all of them, in the order in which help lists them.
func Kinds() []Kind { return []Kind{Note, Cleaned, Cut, Repaired, Consent, Look, Water, Dry} }

// Entry is one thing that happened.
type Entry struct {
	Number   int     `json:"entry"`
	Date     string  `json:"date"` // of what happened: 2026-11-29
	Kind     Kind    `json:"kind"`
	Text     string  `json:"text"`
	Who      string  `json:"who,omitempty"`
	At       string  `json:"at,omitempty"`   // a place, in words
	Pond     string  `json:"pond,omitempty"` // its name on the plan
	Depth    float64 `json:"depth_mm,omitempty"`
	Hours    float64 `json:"hours_since_rain,omitempty"`
	Photo    string  `json:"photo,omitempty"`
	PhotoSum string  `json:"photo_sha256,omitempty"` // of its bytes, so that another photo under its name shows
	Written  string  `json:"written"`                // when the entry was written
	Before   string  `json:"before"`                 // hash of the line before, empty for the first
}

// Book is a history.
type Book struct {
	Entries []Entry
	Broken  []int // numbers of entries whose line before is not the one that was there when they were written

	last  string // hash of the last line
	torn  bool   // the file ends in the middle of a line: a write was cut short
	whole int64  // bytes up to the end of the last whole line
}

// mostBytes bounds the file [bytes]: a hundred entries a week for twenty years.
const mostBytes = 64 << 20

// Read reads a history; one that does not exist is empty.
func Read(path string) (*Book, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &Book{}, nil
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular() || info.Size() > mostBytes:
		return nil, fmt.Errorf("%s: a history is a plain file of at most %d MB", path, mostBytes>>20)
	}
	text, err := os.ReadFile(path) //nolint:gosec // the file that the user names
	if err != nil {
		return nil, err
	}
	if rule, mend := textfile.NotText(text); rule != "" {
		return nil, fmt.Errorf("%s: %s; %s", path, rule, mend)
	}
	return parse(path, text)
}

// parse reads the lines of a history.
func parse(path string, text []byte) (*Book, error) {
	b := &Book{}
	scan := bufio.NewReader(bytes.NewReader(text))
	for number := 1; ; number++ {
		line, err := scan.ReadBytes('\n')
		if errors.Is(err, io.EOF) {
			b.torn = len(line) > 0
			return b, nil
		}
		if err != nil {
			return nil, err
		}
		var e Entry
		if err := json.Unmarshal(line, &e); err != nil {
			return nil, fmt.Errorf("%s line %d: this is no entry of a history: %w; the file is only added to, by runnel log", path, number, err)
		}
		if e.Before != b.last {
			b.Broken = append(b.Broken, e.Number)
		}
		b.Entries = append(b.Entries, e)
		b.last = sum(line)
		b.whole += int64(len(line))
	}
}

func sum(line []byte) string {
	h := sha256.Sum256(line)
	return hex.EncodeToString(h[:])
}

// Sum returns the hash of a photo's bytes.
func Sum(content []byte) string { return sum(content) }

// Append adds an entry at the end of the file, synced; a torn last line, of a write that was cut short, is taken away first.
func Append(path string, e *Entry) error {
	b, err := Read(path)
	if err != nil {
		return err
	}
	e.Number, e.Before = len(b.Entries)+1, b.last
	line, err := json.Marshal(e)
	if err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE, 0o644) //nolint:gosec // the file that the user names, readable as results are
	if err != nil {
		return err
	}
	if b.torn {
		if err := f.Truncate(b.whole); err != nil {
			return errors.Join(err, f.Close())
		}
	}
	_, err = f.WriteAt(append(line, '\n'), b.whole)
	return errors.Join(err, f.Sync(), f.Close())
}

// ParseKind reads a kind.
func ParseKind(name string) (Kind, error) {
	if k := Kind(strings.ToLower(name)); slices.Contains(Kinds(), k) {
		return k, nil
	}
	return "", fmt.Errorf("unknown kind %q: use %s", name, strings.Join(gather.Each(Kinds(), func(k Kind) string { return string(k) }), ", "))
}
