package ledger_test

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"testing"

	"runnel/export/ledger"
)

// A record takes over what it is to have of another one: not what has another mark, other files, or what it has itself, and what it
// took stays when the run is stopped and goes on.
func TestTakeOver(t *testing.T) {
	dir := t.TempDir()
	from := open(t, filepath.Join(dir, "from"), "call")
	add(t, from, 1, 0, text("one.json", "theirs"))
	add(t, from, 2, 7, text("two.json", "theirs"))
	add(t, from, 3, 0, text("three.json", "theirs"), text("odd.json", "theirs"))
	add(t, from, 4, 0, text("four.json", "theirs"))
	add(t, from, 5, 0, text("five.json", "first"))
	add(t, from, 5, 0, text("five.json", "second"))
	add(t, from, 6, 0)
	add(t, from, 99, 0, text("more.json", "theirs"))
	to := open(t, filepath.Join(dir, "to"), "call")
	add(t, to, 4, 0, text("four.json", "own"))
	var want []ledger.Expected
	for i, name := range []string{"one", "two", "three", "four", "five", "six", "seven"} {
		want = append(want, ledger.Expected{Key: uint64(i + 1), Files: []string{name + ".json"}}) //nolint:gosec // a small number
	}
	missing, err := to.TakeOver(from, want)
	if err != nil {
		t.Fatal(err)
	}
	var keys []uint64
	for _, e := range missing {
		keys = append(keys, e.Key)
	}
	if fmt.Sprint(keys) != "[2 3 7]" {
		t.Errorf("missing %v, want 2, 3 and 7", keys)
	}
	to.Close()
	to = open(t, filepath.Join(dir, "to"), "call")
	for _, e := range want {
		to.Done(e.Key, e.Mark)
	}
	if got, want := rowsOf(t, to), `{"Name":"4/0"} {"Name":"1/0"} {"Name":"5/0"} {"Name":"6/0"}`; got != want {
		t.Errorf("rows %s, want %s", got, want)
	}
	if err := to.Place(); err != nil {
		t.Fatal(err)
	}
	if got, want := files(t, filepath.Join(dir, "to")), map[string]string{"one.json": "theirs", "four.json": "own", "five.json": "second"}; !maps.Equal(got, want) {
		t.Errorf("files %v, want %v", got, want)
	}
}

// A record that names a file elsewhere moves none.
func TestTakeOverOfAPath(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "secret"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	from, to := open(t, filepath.Join(dir, "from"), "call"), open(t, filepath.Join(dir, "to"), "call")
	add(t, from, 1, 0, text("../../../secret", "theirs"))
	missing, err := to.TakeOver(from, []ledger.Expected{{Key: 1, Files: []string{"one.json"}}})
	if err != nil || len(missing) != 1 {
		t.Errorf("%v %v", missing, err)
	}
	if _, err := os.Stat(filepath.Join(dir, "secret")); err != nil {
		t.Error(err)
	}
}

// The line that says how a run was called is no roof, whatever it is written like.
func TestTheCallIsNoRoof(t *testing.T) {
	const call = `{"key":0,"mark":0}`
	dir := t.TempDir()
	from, to := open(t, filepath.Join(dir, "from"), call), open(t, filepath.Join(dir, "to"), "call")
	missing, err := to.TakeOver(from, []ledger.Expected{{}})
	if err != nil || len(missing) != 1 || to.Roofs() != 0 {
		t.Errorf("missing %v, %d roofs, %v", missing, to.Roofs(), err)
	}
	add(t, from, 0, 0)
	if missing, err = to.TakeOver(from, []ledger.Expected{{}}); err != nil || len(missing) != 0 || to.Roofs() != 1 {
		t.Errorf("missing %v, %d roofs, %v", missing, to.Roofs(), err)
	}
}
