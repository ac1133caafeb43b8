package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"runnel/cmd/call"
	"runnel/cmd/command"
)

// A campus gives one file beside its GeoPackage, and none where something stands in the way or cannot be read; the program itself holds
// nothing of what writes it.
func TestConvert(t *testing.T) {
	dir := t.TempDir()
	var out, errs bytes.Buffer
	if code := command.Main([]string{"demo", filepath.Join(dir, "demo")}, call.Streams{Out: &out, Err: &errs}); code != 0 {
		t.Fatal(errs.String())
	}
	results := filepath.Join(dir, "out")
	if code := command.Main([]string{"campus", filepath.Join(dir, "demo"), "--write", "none", "-o", results}, call.Streams{Out: &out, Err: &errs}); code != 0 && code != 4 {
		t.Fatal(errs.String())
	}
	path := filepath.Join(results, "campus.gpkg")
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{path}, 0, "wrote "},
		{[]string{path}, 2, "Give --overwrite"},
		{[]string{"--overwrite", path}, 0, "wrote "},
		{[]string{"-o", filepath.Join(dir, "other"), path}, 0, filepath.Join("other", "campus")},
		{nil, 2, "Usage"},
		{[]string{path, path}, 2, "Usage"},
		{[]string{"-h"}, 0, "Usage"},
		{[]string{"--nope", path}, 2, "nope"},
		{[]string{filepath.Join(results, "campus.csv")}, 3, "is no GeoPackage"},
		{[]string{filepath.Join(dir, "nope.gpkg")}, 3, "no such file"},
	} {
		var text bytes.Buffer
		if code := run(c.args, &text, &text); code != c.code || !strings.Contains(text.String(), c.says) {
			t.Errorf("%v: exit %d, want %d: %s", c.args, code, c.code, text.String())
		}
	}
	found, err := filepath.Glob(filepath.Join(results, "*.parquet"))
	if err != nil || len(found) == 0 {
		t.Fatalf("%v %v", found, err)
	}
	for _, path := range found {
		one, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		two, err := os.ReadFile(filepath.Join(dir, "other", filepath.Base(path)))
		if err != nil || !bytes.Equal(one, two) || !bytes.HasPrefix(one, []byte("PAR1")) {
			t.Errorf("%s: two runs differ: %v", path, err)
		}
	}
	if text, err := exec.Command("go", "list", "-deps", "runnel/cmd/runnel").CombinedOutput(); err != nil || strings.Contains(string(text), "parquet-go") {
		t.Errorf("runnel holds parquet-go: %v", err)
	}
}
