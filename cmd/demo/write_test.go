package demo_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"runnel/cmd/demo"
	"runnel/export/staged"
)

func TestFilesAreTheSameEveryTime(t *testing.T) {
	first, second := demo.Files(), demo.Files()
	if len(first) != len(second) {
		t.Fatalf("%d files, then %d", len(first), len(second))
	}
	for i, f := range first {
		if f.Name != second[i].Name || !bytes.Equal(f.Bytes, second[i].Bytes) {
			t.Errorf("%s differs the second time", f.Name)
		}
	}
}

func TestGeoJSONParses(t *testing.T) {
	for _, f := range demo.Files() {
		if ext := filepath.Ext(f.Name); ext != ".geojson" && ext != ".json" {
			continue
		}
		if !json.Valid(f.Bytes) {
			t.Errorf("%s is not JSON", f.Name)
		}
	}
}

func TestRoofsHaveSixtyToFourHundredSpots(t *testing.T) {
	roofs := demo.Roofs()
	if len(roofs) < 6 {
		t.Errorf("%d roofs, want at least 6", len(roofs))
	}
	for _, r := range roofs {
		if n := r.Spots(); n < 60 || n > 400 {
			t.Errorf("%s: %d spots", r.Stem(), n)
		}
	}
}

func TestWriteRefusesWhatExists(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "roofs")
	paths, err := demo.Write(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	if len(paths) != len(demo.Files()) {
		t.Errorf("%d paths for %d files", len(paths), len(demo.Files()))
	}
	victim := paths[len(paths)-1]
	if err := os.WriteFile(victim, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := demo.Write(dir, false); !errors.Is(err, staged.ErrExists) {
		t.Errorf("second write: %v, want ErrExists", err)
	}
	if got, _ := os.ReadFile(victim); string(got) != "mine" {
		t.Error("a refused write changed a file")
	}
	if _, err := demo.Write(dir, true); err != nil {
		t.Errorf("write with overwrite: %v", err)
	}
	if got, _ := os.ReadFile(victim); string(got) == "mine" {
		t.Error("overwrite did not replace the file")
	}
}
