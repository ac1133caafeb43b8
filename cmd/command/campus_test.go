package command_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/cmd/call"
	"runnel/cmd/command"
)

// pit is a small roof with one low place, so that every roof has features of each kind.
const pit = `{"type":"FeatureCollection","units":"m","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","edge":"free"},"geometry":{"type":"Polygon","coordinates":[[[0,0,1],[9,0,1],[9,9,1],[0,9,1],[0,0,1]]]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[4,4,0.9]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[5,4,0.9]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[4,5,0.9]}}]}`

// Library and Liberty both shorten to LIB; the ids of their features must still differ.
func TestCampusIDsDiffer(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"library", "liberty"} {
		if err := os.WriteFile(filepath.Join(dir, name+".geojson"), []byte(pit), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var out, errs bytes.Buffer
	if code := command.Main([]string{"campus", dir, "-o", filepath.Join(dir, "out")}, call.Streams{Out: &out, Err: &errs}); code != 0 {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	one, two := read(t, filepath.Join(dir, "out", "liberty.local.geojson")), read(t, filepath.Join(dir, "out", "library.local.geojson"))
	if !bytes.Contains(one, []byte(`"LIB.P01"`)) || !bytes.Contains(two, []byte(`"LIB-2.P01"`)) {
		t.Error("the ponds of the two roofs are not LIB.P01 and LIB-2.P01")
	}
}

// A path that is not there is refused as a whole: it is no roof that failed.
func TestCampusRefusesMissingPath(t *testing.T) {
	dir := t.TempDir()
	var out, errs bytes.Buffer
	code := command.Main([]string{"campus", filepath.Join(dir, "nope"), "-o", filepath.Join(dir, "out")}, call.Streams{Out: &out, Err: &errs})
	if code != 3 || !strings.Contains(errs.String(), "no such file or folder") {
		t.Errorf("exit %d: %s", code, errs.String())
	}
	if _, err := os.Stat(filepath.Join(dir, "out")); err == nil {
		t.Error("a folder was left behind")
	}
}

// An id that no roof has is told, as check refuses it; one that a roof has is not.
func TestCampusTellsIDsThatNoRoofHas(t *testing.T) {
	dir := t.TempDir()
	file(t, dir, "slab.geojson", strings.Replace(slab, `"id":"3"`, `"id":"17"`, 1))
	file(t, dir, "basin.geojson", basin)
	for _, c := range []struct{ id, says string }{{"17", ""}, {"99", "--drop 99: no roof has a spot with this id"}} {
		_, _, errs := run(t, "campus", dir, "-o", filepath.Join(dir, "out"+c.id), "--drop", c.id)
		if !strings.Contains(errs, c.says) || c.says == "" && strings.Contains(errs, "--drop") {
			t.Errorf("--drop %s: %s", c.id, errs)
		}
		says := strings.Replace(c.says, "drop", "keep", 1)
		_, _, errs = run(t, "campus", dir, "-o", filepath.Join(dir, "kept"+c.id), "--keep", c.id)
		if !strings.Contains(errs, says) || says == "" && strings.Contains(errs, "--keep") {
			t.Errorf("--keep %s: %s", c.id, errs)
		}
	}
}
