package command_test

import (
	"go/doc"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// packages returns a line for every package of the module: its path and the first sentence of what it says of itself.
func packages(t *testing.T, root string) []string {
	t.Helper()
	var lines []string
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		if name := d.Name(); path != root && (strings.HasPrefix(name, ".") || name == "testdata" || name == "bin") {
			return filepath.SkipDir
		}
		files, err := filepath.Glob(filepath.Join(path, "*.go"))
		said, code := "", false
		for _, f := range files {
			if strings.HasSuffix(f, "_test.go") {
				continue
			}
			code = true
			parsed, err := parser.ParseFile(token.NewFileSet(), f, nil, parser.ParseComments|parser.PackageClauseOnly)
			if err != nil {
				return err
			}
			if parsed.Doc != nil {
				said = new(doc.Package).Synopsis(parsed.Doc.Text())
			}
		}
		if !code {
			return err
		}
		at, relErr := filepath.Rel(root, path)
		if relErr != nil {
			return relErr
		}
		words := strings.SplitN(said, " ", 3) // "Package vector has ..."
		if len(words) < 3 {
			t.Fatalf("%s says nothing of itself", at)
		}
		lines = append(lines, "| `"+filepath.ToSlash(at)+"` | "+strings.TrimSuffix(words[2], ".")+" |")
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

// TestGoldenPackages holds DEVELOPERS.md to list every package with what it says of itself, and none that is not there.
func TestGoldenPackages(t *testing.T) {
	const path, head = "../../DEVELOPERS.md", "| package | what it does |\n|---|---|\n"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(data), head)
	table, after, ends := strings.Cut(rest, "\n\n")
	if !found || !ends {
		t.Fatal("DEVELOPERS.md has no table of packages")
	}
	want := packages(t, "../..")
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile(path, []byte(before+head+strings.Join(want, "\n")+"\n\n"+after), 0o600); err != nil {
			t.Fatal(err)
		}
		return
	}
	got := strings.Split(table, "\n")
	for _, line := range want {
		if !slices.Contains(got, line) {
			t.Errorf("DEVELOPERS.md does not have %s", line)
		}
	}
	for _, line := range got {
		if !slices.Contains(want, line) {
			t.Errorf("there is no package, or it says something else: %s", line)
		}
	}
}
