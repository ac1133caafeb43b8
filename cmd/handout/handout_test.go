package handout_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/cmd/handout"
	"runnel/importer"
)

var call = handout.Run{Version: "v1", Dir: "/data", Out: "out", Paths: []string{"surveys"}, Flags: []string{"--units=ft"}, Sign: "s"}

func folder(t *testing.T) handout.Folder {
	t.Helper()
	f, err := handout.Make(filepath.Join(t.TempDir(), "run"), &call)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func item(n int) *handout.Item {
	return &handout.Item{Stem: fmt.Sprintf("hall-%d", n), ID: "HAL", Key: uint64(n), Mark: 1 << 63, Ref: importer.Ref{Files: []string{"surveys/hall.geojson"}}} //nolint:gosec // a small number
}

// Every roof is in one chunk, in order, and no chunk has more than 200 roofs, or more than 4 MB of files but that of a single roof.
func TestListIsCutIntoChunks(t *testing.T) {
	for _, c := range []struct {
		roofs int
		size  int64
		want  []int // roofs of each chunk
	}{
		{0, 1, nil},
		{1, 1, []int{1}},
		{199, 1, []int{199}},
		{200, 1, []int{200}},
		{401, 1, []int{200, 200, 1}},
		{5, 2 << 20, []int{2, 2, 1}},
		{3, 100 << 20, []int{1, 1, 1}},
		{2, 4 << 20, []int{1, 1}},
		{3, 0, []int{3}},
	} {
		f := folder(t)
		list, err := f.NewList()
		if err != nil {
			t.Fatal(err)
		}
		var pieces []handout.Piece
		note := func(p handout.Piece, whole bool, err error) {
			if err != nil {
				t.Fatal(err)
			}
			if whole {
				pieces = append(pieces, p)
			}
		}
		for n := range c.roofs {
			note(list.Add(item(n), c.size))
		}
		note(list.End())
		var got []int
		at, seen := int64(0), 0
		for i, p := range pieces {
			items, err := f.Read(p)
			if err != nil || p.From != at {
				t.Fatalf("%+v: %v", p, err)
			}
			at = p.To
			for _, own := range items {
				if own.Stem != item(seen).Stem || own.Key != item(seen).Key || own.Mark != 1<<63 || own.Ref.Files[0] != "surveys/hall.geojson" {
					t.Errorf("roof %d is %+v", seen, own)
				}
				seen++
			}
			got = append(got, len(items))
			if again, err := f.Piece(i + 1); err != nil || again != p {
				t.Errorf("piece %d is noted as %+v: %v", i+1, again, err)
			}
		}
		if fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%d roofs of %d bytes: chunks of %v, want %v", c.roofs, c.size, got, c.want)
		}
	}
}

// What is no piece of a list is refused, and so is a roof whose name is a path.
func TestListsOfOthers(t *testing.T) {
	f := folder(t)
	good := `{"stem":"a","id":"A","key":1,"mark":2,"ref":{"files":["a"]}}` + "\n"
	for what, text := range map[string]string{
		"no JSON": "a\n", "half": good[:20], "more": strings.Replace(good, `"key"`, `"root":true,"key"`, 1), "way up": strings.Replace(good, `"stem":"a"`, `"stem":"../a"`, 1),
		"id": strings.Replace(good, `"id":"A"`, `"id":"A/../B"`, 1), "hidden": strings.Replace(good, `"stem":"a"`, `"stem":".a"`, 1), "empty": strings.Replace(good, `"stem":"a"`, `"stem":""`, 1),
		"long": strings.Replace(good, `"stem":"a"`, `"stem":"`+strings.Repeat("a", 5000)+`"`, 1), "many": strings.Repeat(good, 201),
	} {
		if err := os.WriteFile(filepath.Join(string(f), "list"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if items, err := f.Read(handout.Piece{From: 0, To: int64(len(text))}); err == nil {
			t.Errorf("%s: %+v", what, items)
		}
	}
	if err := os.WriteFile(filepath.Join(string(f), "list"), []byte(good), 0o600); err != nil {
		t.Fatal(err)
	}
	if items, err := f.Read(handout.Piece{To: int64(len(good))}); err != nil || len(items) != 1 {
		t.Errorf("%v %v", items, err)
	}
	for _, p := range []handout.Piece{{-1, 5}, {5, 5}, {5, 2}, {0, 1 << 40}, {0, int64(len(good)) + 1}, {3, int64(len(good))}} {
		if items, err := f.Read(p); err == nil {
			t.Errorf("%+v: %+v", p, items)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(`{"stem":"a","id":"A","key":1,"mark":2,"ref":{"files":["a"],"from":1,"to":2,"number":3}}`))
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, text []byte) {
		if err := os.WriteFile(filepath.Join(dir, "list"), text, 0o600); err != nil {
			t.Fatal(err)
		}
		items, err := handout.Folder(dir).Read(handout.Piece{To: int64(len(text))})
		if err != nil {
			return
		}
		for _, i := range items {
			if i.Stem != filepath.Base(i.Stem) || i.ID != filepath.Base(i.ID) || strings.ContainsAny(i.Stem+i.ID, "./\\\x00\n") {
				t.Errorf("%+v", i)
			}
		}
	})
}

// The call of a run is read back as it was; what is none is refused.
func TestCall(t *testing.T) {
	f := folder(t)
	got, err := f.Call()
	if err != nil || fmt.Sprint(*got) != fmt.Sprint(call) {
		t.Errorf("%+v %v", got, err)
	}
	for _, text := range []string{"", "{}", `{"version":"1","dir":"data","out":"o","paths":["a"]}`, `{"version":"1","dir":"/data","out":"o","paths":[]}`, `{"version":"1","dir":"/data","out":"o","paths":["a"],"run":"rm"}`} {
		if err := os.WriteFile(filepath.Join(string(f), "run.json"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if got, err := f.Call(); err == nil {
			t.Errorf("%s: %+v", text, got)
		}
	}
}

// The results of a chunk come once: the second worker that ends it, before the run has taken them or after, changes nothing.
func TestTheFirstToFinishCounts(t *testing.T) {
	f := folder(t)
	try := func(text string) string {
		path, err := f.Begin(7)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(path, "x"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	first, second, third := try("1"), try("2"), try("3")
	if n := len(f.Begun(7)); n != 3 || len(f.Begun(70)) != 0 {
		t.Errorf("%d begun", n)
	}
	for _, path := range []string{first, second} {
		if err := f.Finish(7, path); err != nil {
			t.Error(err)
		}
	}
	if text, err := os.ReadFile(filepath.Join(f.Ready(7), "x")); string(text) != "1" || err != nil || !f.Has(7) || f.Has(70) {
		t.Errorf("%s %v", text, err)
	}
	if chunks, err := f.Waiting(); err != nil || fmt.Sprint(chunks) != "[7]" {
		t.Errorf("%v %v", chunks, err)
	}
	if err := f.Took(7); err != nil {
		t.Error(err)
	}
	if err := f.Finish(7, third); err != nil || !f.Has(7) {
		t.Error(err)
	}
	if chunks, err := f.Waiting(); len(chunks) != 0 || err != nil || len(f.Begun(7)) != 0 {
		t.Errorf("%v %v: %v is left", chunks, err, f.Begun(7))
	}
}

// A path that leads out of the root, by its words or by links, is refused.
func TestRoot(t *testing.T) {
	dir := t.TempDir()
	outside := t.TempDir()
	for _, name := range []string{"in/a", "other/b"} {
		if err := os.MkdirAll(filepath.Join(dir, name), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	for name, to := range map[string]string{"in/out": outside, "in/up": "../other", "in/own": "a", "link": "in"} {
		if err := os.Symlink(to, filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	root, err := handout.NewRoot(filepath.Join(dir, "link")) // a link itself
	if err != nil {
		t.Fatal(err)
	}
	in := filepath.Join(dir, "in")
	for path, held := range map[string]bool{"a": true, "own": true, in: true, filepath.Join(dir, "link", "a"): true, ".": true, "..": false, "out": false, "up": false, "up/b": false, "../in/a": true, "../inner": false, outside: false, "/": false} {
		keeper := root.Keeper(in)
		for _, err := range []error{root.Holds(in, path), keeper(path), keeper(path)} {
			var out *handout.OutsideError
			if (err == nil) != held || !held && !errors.As(err, &out) && !errors.Is(err, os.ErrNotExist) {
				t.Errorf("%s: %v", path, err)
			}
		}
	}
}

// A keeper knows the folders that it has followed, and still follows each file: what comes after a file that is held is refused where it
// leads out, also by a way back from a link.
func TestKeeper(t *testing.T) {
	dir, outside := t.TempDir(), t.TempDir()
	in := filepath.Join(dir, "in")
	for _, path := range []string{filepath.Join(in, "deep"), filepath.Join(outside, "deep")} {
		if err := os.MkdirAll(path, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	for _, path := range []string{filepath.Join(in, "a"), filepath.Join(in, "b"), filepath.Join(outside, "a"), filepath.Join(in, "deep", "a")} {
		if err := os.WriteFile(path, nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for name, to := range map[string]string{"out": filepath.Join(outside, "a"), "own": "b", "door": filepath.Join(outside, "deep")} {
		if err := os.Symlink(to, filepath.Join(in, name)); err != nil {
			t.Fatal(err)
		}
	}
	root, err := handout.NewRoot(in)
	if err != nil {
		t.Fatal(err)
	}
	keeper := root.Keeper(in)
	for _, c := range []struct {
		path string
		held bool
	}{
		{"a", true},
		{"b", true},
		{"out", false},
		{"own", true},
		{"gone", false},
		{"deep/a", true},
		{in + "/deep/../a", true},
		{in + "/door/../a", false},
		{"door/a", false},
		{"a", true},
		{filepath.Join(outside, "a"), false},
		{in + "/..", false},
	} {
		if err := keeper(c.path); (err == nil) != c.held {
			t.Errorf("%s: %v", c.path, err)
		}
	}
}
