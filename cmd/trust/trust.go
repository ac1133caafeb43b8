// Package trust remembers which results this user wrote on this machine: the calls that they may be made again by, and
// the pages that may run their own scripts.
//
// Both are remembered as HMAC-SHA-256 with a key that only the user can read, in the user's configuration folder, over the
// place of the folder and what was written there; the results themselves hold nothing of it and stay the same on every
// machine. A result that came by mail, was moved or was changed by hand is not remembered. Where the configuration
// folder cannot be used, what this process itself wrote is remembered until it ends.
package trust

import (
	"bufio"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"

	"runnel/export/record"
)

const (
	keySize = 32      // bytes, as many as the hash gives
	mostOf  = 1 << 20 // bytes that are remembered of one folder; then only the last run is
)

// process is what this process remembers by itself, under a key of its own.
var process struct {
	sync.Mutex
	key  []byte
	held map[string]bool
}

// Sum is the hash of a page.
type Sum = [sha256.Size]byte

// Remember notes that run writes these pages, by name, into folder. Without a run the pages alone are remembered: who
// allowed a run of somebody else once did not make it their own.
func Remember(folder string, run *record.Run, pages map[string]Sum) error {
	place, err := placeOf(folder)
	if err != nil {
		return err
	}
	process.Lock()
	if process.key == nil {
		process.key, process.held = make([]byte, keySize), map[string]bool{}
		_, _ = rand.Read(process.key) // never fails
	}
	for _, mark := range marks(process.key, place, run, pages) {
		process.held[mark] = true
	}
	process.Unlock()
	dir, key, err := kept(makeKey)
	if err != nil {
		return err
	}
	text := ""
	for _, mark := range marks(key, place, run, pages) {
		text += mark + "\n"
	}
	return note(file(dir, key, place), text)
}

// marks are the signatures of a run, where there is one, and of its pages.
func marks(key []byte, place string, run *record.Run, pages map[string]Sum) []string {
	var all []string
	if run != nil {
		all = append(all, markOfRun(key, place, *run))
	}
	for name, sum := range pages {
		all = append(all, markOfPage(key, place, name, sum))
	}
	return all
}

// note appends text to a file in one piece; where the file has grown long, it begins anew.
func note(path, text string) error {
	how := os.O_WRONLY | os.O_CREATE | os.O_APPEND
	if info, err := os.Stat(path); err == nil && info.Size() > mostOf {
		how |= os.O_TRUNC
	}
	f, err := os.OpenFile(path, how, 0o600)
	if err != nil {
		return fmt.Errorf("remember the run: %w", err)
	}
	_, err = f.WriteString(text)
	return errors.Join(err, f.Close())
}

// Run reports whether this user wrote the results of run into folder on this machine.
func Run(folder string, run record.Run) bool {
	return holds(folder, func(key []byte, place string) string { return markOfRun(key, place, run) })
}

// Page reports whether this user wrote a page of that name and content into folder on this machine.
func Page(folder, name string, content []byte) bool {
	sum := sha256.Sum256(content)
	return holds(folder, func(key []byte, place string) string { return markOfPage(key, place, name, sum) })
}

// holds looks for a mark, first in this process.
func holds(folder string, mark func(key []byte, place string) string) bool {
	place, err := placeOf(folder)
	if err != nil {
		return false
	}
	process.Lock()
	held := process.key != nil && process.held[mark(process.key, place)]
	process.Unlock()
	if held {
		return true
	}
	dir, key, err := kept(readKey)
	if err != nil {
		return false
	}
	f, err := os.Open(file(dir, key, place))
	if err != nil {
		return false
	}
	defer func() { _ = f.Close() }()
	wanted := []byte(mark(key, place))
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if hmac.Equal(lines.Bytes(), wanted) {
			return true
		}
	}
	return false
}

func markOfRun(key []byte, place string, run record.Run) string {
	return sign(key, "run", place, string(run.Object().Append(nil)))
}

func markOfPage(key []byte, place, name string, sum Sum) string {
	return sign(key, "page", place, name, string(sum[:]))
}

// sign returns the HMAC of texts; their lengths are signed with them, so that no two lists are alike.
func sign(key []byte, texts ...string) string {
	h := hmac.New(sha256.New, key)
	for _, t := range texts {
		_, _ = fmt.Fprintf(h, "%d:%s", len(t), t)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// placeOf returns the whole path of a folder, links followed.
func placeOf(folder string) (string, error) {
	whole, err := filepath.Abs(folder)
	if err != nil {
		return "", fmt.Errorf("remember the run: %w", err)
	}
	if real, err := filepath.EvalSymlinks(whole); err == nil {
		whole = real
	}
	return whole, nil
}

// kept returns the folder for what is remembered, and its key as get has it.
func kept(get func(dir string) ([]byte, error)) (dir string, key []byte, err error) {
	if dir, err = configuration(); err != nil {
		return "", nil, err
	}
	key, err = get(dir)
	return dir, key, err
}

// configuration returns the folder for what is remembered.
func configuration() (string, error) {
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("remember the run: %w", err)
	}
	return filepath.Join(dir, "runnel"), nil
}

// file is where the marks of a folder stand. Its name does not give the folder away.
func file(dir string, key []byte, place string) string {
	return filepath.Join(dir, "runs-"+sign(key, "folder", place)[:32])
}

func keyFile(dir string) string { return filepath.Join(dir, "key") }

// makeKey reads the key, and makes one where there is none. Of several processes that make one at once, one wins: a key
// gets its name only when it is whole, and only where no other has it.
func makeKey(dir string) ([]byte, error) {
	key, err := readKey(dir)
	if !errors.Is(err, fs.ErrNotExist) {
		return key, err
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("remember the run: %w", err)
	}
	f, err := os.CreateTemp(dir, "new-*") // which only the user can read
	if err != nil {
		return nil, fmt.Errorf("remember the run: %w", err)
	}
	defer func() { _ = os.Remove(f.Name()) }()
	key = make([]byte, keySize)
	_, _ = rand.Read(key) // never fails
	_, err = f.Write(key)
	if err = errors.Join(err, f.Close()); err != nil {
		return nil, fmt.Errorf("remember the run: %w", err)
	}
	err = os.Link(f.Name(), keyFile(dir))
	if err != nil && !errors.Is(err, fs.ErrExist) { // no second names on this file system
		if _, there := os.Lstat(keyFile(dir)); errors.Is(there, fs.ErrNotExist) {
			err = os.Rename(f.Name(), keyFile(dir))
		}
	}
	if err != nil && !errors.Is(err, fs.ErrExist) {
		return nil, fmt.Errorf("remember the run: %w", err)
	}
	return readKey(dir)
}

// readKey reads the key. One that others can read or write is none.
func readKey(dir string) ([]byte, error) {
	f, err := os.Open(keyFile(dir))
	if err != nil {
		return nil, fmt.Errorf("remember the run: %w", err)
	}
	defer func() { _ = f.Close() }()
	info, err := f.Stat()
	switch {
	case err != nil:
		return nil, fmt.Errorf("remember the run: %w", err)
	case !info.Mode().IsRegular(), info.Size() != keySize:
		return nil, fmt.Errorf("remember the run: %s is not a key of this program: remove it", keyFile(dir))
	case private && info.Mode().Perm()&0o077 != 0:
		return nil, fmt.Errorf("remember the run: %s can be read by others: remove it", keyFile(dir))
	}
	key := make([]byte, keySize)
	if _, err := io.ReadFull(f, key); err != nil {
		return nil, fmt.Errorf("remember the run: %w", err)
	}
	return key, nil
}
