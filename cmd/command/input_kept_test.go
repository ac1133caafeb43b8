package command_test

import (
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Whatever a run reads stays as it is, and no message offers to replace it.
func TestInputsAreNeverReplaced(t *testing.T) {
	dir := t.TempDir()
	for name, args := range map[string][]string{
		"the roof":                  {"check", "slab.local.geojson", "-o", "."},
		"the roof by another name":  {"check", "./slab.local.geojson", "-o", "../in"},
		"the roof in capitals":      {"check", "SLAB.local.geojson", "-o", "."},
		"the roof through a link":   {"check", "way.geojson", "-o", "out"},
		"the criteria":              {"check", "slab.local.geojson", "--criteria", "out/slab.json", "-o", "out"},
		"storm":                     {"storm", "slab.local.geojson", "--depth", "1in", "--duration", "1h", "-o", "."},
		"what correct reads":        {"correct", "out/slab.corrected.geojson", "-o", "out"},
		"correct, before it looks":  {"correct", "slab.corrected.geojson", "--rain-primary", "50 in/h", "-o", "."}, // a rate that any look at the roof refuses
		"campus":                    {"campus", ".", "-o", "."},
		"campus, the folder itself": {"campus", "../in", "-o", "../in", "--write", "geojson"},
	} {
		in := filepath.Join(dir, strings.ReplaceAll(name, " ", "-"), "in")
		if err := os.MkdirAll(filepath.Join(in, "out"), 0o700); err != nil {
			t.Fatal(err)
		}
		file(t, in, "slab.local.geojson", slab)
		switch name {
		case "the roof in capitals":
			if err := os.Rename(filepath.Join(in, "slab.local.geojson"), filepath.Join(in, "SLAB.local.geojson")); err != nil {
				t.Fatal(err)
			}
		case "the roof through a link":
			file(t, filepath.Join(in, "out"), "slab.local.geojson", slab)
			if err := os.Symlink("out/slab.local.geojson", filepath.Join(in, "way.geojson")); err != nil {
				t.Skip(err)
			}
		case "the criteria":
			file(t, filepath.Join(in, "out"), "slab.json", `{"pond_depth":"1/2 in"}`)
		case "correct, before it looks":
			if err := os.Rename(filepath.Join(in, "slab.local.geojson"), filepath.Join(in, "slab.corrected.geojson")); err != nil {
				t.Fatal(err)
			}
		case "what correct reads":
			if err := os.Remove(filepath.Join(in, "slab.local.geojson")); err != nil {
				t.Fatal(err)
			}
			file(t, filepath.Join(in, "out"), "slab.corrected.geojson", slab)
			args = []string{"correct", "out/slab.corrected.geojson", "-o", "out"}
		}
		t.Chdir(in)
		before := contents(t, in)
		for _, more := range [][]string{nil, {"--overwrite"}} {
			code, _, err := run(t, append(args, more...)...)
			if code != 2 || !strings.Contains(err, "which this run reads") || strings.Contains(err, "--overwrite") {
				t.Errorf("%s %v: exit %d: %s", name, more, code, err)
			}
			if after := contents(t, in); !maps.Equal(before, after) {
				t.Errorf("%s %v: the folder has changed", name, more)
			}
		}
	}
}
