//go:build unix

package campus

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/cmd/call"
	"runnel/cmd/handout"
	"runnel/cmd/workqueue"
	"runnel/export/ledger"
	"runnel/importer"
)

// A worker does nothing of a run of another version, outside of its root, with flags that no run sends, or that it would check
// otherwise; only what shows that it can do no chunk of a run ends it.
func TestWhatWorkersRefuse(t *testing.T) {
	dir, outside := t.TempDir(), t.TempDir()
	t.Chdir(dir) // a worker goes where the run was called
	put := func(path, text string) string {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	secret := put(filepath.Join(outside, "secret.json"), `{"min_slope":"1%"}`)
	criteria := put(filepath.Join(dir, "criteria.json"), `{"min_slope":"1%"}`)
	roof := put(filepath.Join(dir, "roof.geojson"), "{}")
	if err := os.Symlink(outside, filepath.Join(dir, "away")); err != nil {
		t.Fatal(err)
	}
	for what, c := range map[string]struct {
		flags   []string
		version string
		ref     string
		changed bool // the file that a flag names is another one here
		says    string
		ends    bool
	}{
		"all is well":        {flags: []string{"--criteria=" + criteria}},
		"another version":    {version: "v9", says: "the run is of runnel v9, and this worker of " + call.Version() + ": use one version for both", ends: true},
		"a file has changed": {flags: []string{"--criteria=" + criteria}, changed: true, says: "would check otherwise", ends: true},
		"a file outside":     {flags: []string{"--criteria=" + secret}, says: "lies outside of"},
		"a way outside":      {flags: []string{"--criteria=away/secret.json"}, says: "lies outside of"},
		"another output":     {flags: []string{"--out=" + outside}, says: "which a worker is not told"},
		"no flag":            {flags: []string{outside}, says: "which a worker is not told"},
		"no such flag":       {flags: []string{"--nope=1"}, says: "which a worker is not told"},
		"a wrong flag":       {flags: []string{"--min-slope=steep"}, says: "steep"},
		"a roof outside":     {ref: secret, says: "lies outside of"},
		"a roof by a link":   {ref: "away/secret.json", says: "lies outside of"},
	} {
		t.Run(what, func(t *testing.T) {
			w := &worker{Streams: call.Streams{Out: &bytes.Buffer{}, Err: &bytes.Buffer{}}, workers: 1}
			var err error
			if w.within, err = handout.NewRoot(dir); err != nil {
				t.Fatal(err)
			}
			k, sign := calledWith(t, append([]string{"--out=out"}, c.flags...))
			if c.changed {
				put(criteria, `{"min_slope":"2%"}`)
				defer put(criteria, `{"min_slope":"1%"}`)
			}
			f, err := handout.Make(filepath.Join(t.TempDir(), "run"), &handout.Run{Version: call.Version(), Dir: dir, Out: "out", Paths: k.paths, Flags: c.flags, Sign: sign})
			if err != nil {
				t.Fatal(err)
			}
			inside := filepath.Join(dir, "queue-1")
			if err := os.Rename(string(f), inside); err != nil {
				t.Fatal(err)
			}
			defer func() { _ = os.RemoveAll(inside) }()
			list, err := handout.Folder(inside).NewList()
			if err != nil {
				t.Fatal(err)
			}
			ref := importer.Ref{Files: []string{roof}}
			if c.ref != "" {
				ref.Files[0] = c.ref
			}
			if _, _, err := list.Add(&handout.Item{Stem: "roof", ID: "ROO", Key: 1, Ref: ref}, 1); err != nil {
				t.Fatal(err)
			}
			piece, _, err := list.End()
			if err != nil {
				t.Fatal(err)
			}
			d := &workqueue.Delivery{Chunk: workqueue.Chunk{Version: call.Version(), Folder: inside, Number: 1, From: piece.From, To: piece.To}}
			if c.version != "" {
				d.Version = c.version
			}
			err = w.chunk(t.Context(), d)
			var unfit *unfitError
			if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) || errors.As(err, &unfit) != c.ends {
				t.Errorf("%v, want %q; it ends the worker: %t", err, c.says, c.ends)
			}
			if c.says == "" != handout.Folder(inside).Has(1) {
				t.Errorf("the chunk is done: %t", handout.Folder(inside).Has(1))
			}
			if err == nil {
				return
			}
			if tries := handout.Folder(inside).Begun(1); len(tries) > 0 {
				t.Errorf("%v is left", tries)
			}
		})
	}
}

// calledWith is a run that is called with flags, and its signature; flags that it does not know count for nothing.
func calledWith(t *testing.T, flags []string) (*campusRun, string) {
	t.Helper()
	t.Helper()
	c, k := newRun(call.Streams{})
	_ = c.ParseFlags(flags)
	k.paths = []string{"."}
	k.call = k.output.Run(k.paths)
	return k, k.signature()
}

// A run that goes on from a killed one takes the folder of that away, perhaps while a worker writes into it: what cannot be written then says nothing about the
// worker. Where the folder is still there it does, and the worker ends.
func TestRunsThatAreOver(t *testing.T) {
	f, err := handout.Make(filepath.Join(t.TempDir(), "run"), &handout.Run{Version: call.Version(), Dir: t.TempDir(), Out: "out", Paths: []string{"in"}})
	if err != nil {
		t.Fatal(err)
	}
	if isOver(f) || !endsWorker(&ledger.StoreError{Err: os.ErrPermission}) || endsWorker(errGone) {
		t.Error("a run with its folder is over, or what cannot be written there ends no worker")
	}
	if err := os.RemoveAll(string(f)); err != nil {
		t.Fatal(err)
	}
	if !isOver(f) {
		t.Error("a run without its folder goes on")
	}
}

// What becomes of a chunk: only an error that shows that the worker can do nothing of a run that goes on ends it.
func TestFateOfAChunk(t *testing.T) {
	unfit, broken, other := &unfitError{"another version"}, &ledger.StoreError{Err: errors.New("disk full")}, errors.New("it stood still")
	for what, c := range map[string]struct {
		err  error
		n    int
		over bool
		want fate
	}{
		"rows are written":                                {nil, 1, true, isDone},
		"rows are written at the last try":                {nil, mostTimes + 1, false, isDone},
		"the run took the chunk back":                     {errGone, 1, false, isDropped},
		"tried often enough":                              {other, mostTimes + 1, false, isDropped},
		"tried once more":                                 {other, mostTimes, false, isReturned},
		"what may pass, of a run that is over":            {other, 1, true, isReturned},
		"an unfit worker":                                 {unfit, 1, false, endsIt},
		"a full disk":                                     {broken, 1, false, endsIt},
		"an unfit worker of a run that is over":           {unfit, 1, true, isDropped},
		"a run that took its folder away while it wrote":  {broken, 1, true, isDropped},
		"a full disk at a chunk that was tried too often": {broken, mostTimes + 1, false, isDropped},
	} {
		if got := fateOf(c.err, c.n, func() bool { return c.over }); got != c.want {
			t.Errorf("%s: %d, want %d", what, got, c.want)
		}
	}
}
