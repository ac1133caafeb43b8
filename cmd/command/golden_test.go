package command_test

import (
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"runnel/cmd/call"
	"runnel/cmd/command"
)

// TestGoldenRoofs checks every roof of testdata/roofs: the page and all files must be those of the folder
// "want", to the byte. UPDATE_GOLDEN=1 writes them anew; the difference is then to be read.
func TestGoldenRoofs(t *testing.T) {
	cases, err := os.ReadDir("../../testdata/roofs")
	if err != nil {
		t.Fatal(err)
	}
	if len(cases) < 3 {
		t.Fatalf("only %d roofs", len(cases))
	}
	for _, c := range cases {
		t.Run(c.Name(), func(t *testing.T) {
			dir, err := filepath.Abs(filepath.Join("../../testdata/roofs", c.Name()))
			if err != nil {
				t.Fatal(err)
			}
			here := t.TempDir()
			if err := os.CopyFS(filepath.Join(here, "in"), os.DirFS(filepath.Join(dir, "in"))); err != nil {
				t.Fatal(err)
			}
			t.Chdir(here) // so that messages and the record of the run name the files as on any machine
			got := golden(t)
			want := filepath.Join(dir, "want")
			if os.Getenv("UPDATE_GOLDEN") != "" {
				rewrite(t, want, got)
			}
			compare(t, contents(t, want), got)
		})
	}
}

// golden runs the check of the files in "in" of the working directory and returns what it prints and writes.
func golden(t *testing.T) map[string]string {
	t.Helper()
	inputs, err := filepath.Glob("in/*")
	if err != nil || len(inputs) == 0 {
		t.Fatalf("no input: %v", err)
	}
	slices.SortFunc(inputs, func(a, b string) int { return strings.Compare(filepath.Ext(b), filepath.Ext(a)) })
	const out = "out"
	var page, warnings bytes.Buffer
	args := append([]string{"check", "-o", out}, inputs...)
	if code := command.Main(args, call.Streams{Out: &page, Err: &warnings}); code != 0 {
		t.Fatalf("exit %d: %s", code, warnings.String())
	}
	got := contents(t, out)
	got["/files.txt"] = listOfSheets(got)
	got["/page.txt"] = page.String()
	return got
}

// listOfSheets takes the drawings and sheets, which have tests of their own, out of files and returns their names.
func listOfSheets(files map[string]string) string {
	list := ""
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if ext := filepath.Ext(name); ext != ".geojson" && ext != ".json" {
			list += name[1:] + "\n"
			delete(files, name)
		}
	}
	return list
}

func rewrite(t *testing.T, want string, got map[string]string) {
	t.Helper()
	if err := os.RemoveAll(want); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(want, 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range got {
		if err := os.WriteFile(want+name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func compare(t *testing.T, want, got map[string]string) {
	t.Helper()
	for name, text := range want {
		if got[name] == text {
			continue
		}
		a, b := strings.Split(text, "\n"), strings.Split(got[name], "\n")
		for i := range max(len(a), len(b)) {
			if i >= len(a) || i >= len(b) || a[i] != b[i] {
				t.Errorf("%s line %d:\n got %.200s\nwant %.200s", name, i+1, strings.Join(b[min(i, len(b)):min(i+1, len(b))], ""),
					strings.Join(a[min(i, len(a)):min(i+1, len(a))], ""))
				break
			}
		}
	}
	if len(want) != len(got) {
		t.Errorf("%d files, want %d", len(got), len(want))
	}
}
