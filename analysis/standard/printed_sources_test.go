package standard_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Every source of a figure that the program uses is named somewhere outside this package, so that some output can say it.
func TestEverySourceIsSaid(t *testing.T) {
	var own, rest strings.Builder
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		data, err := os.ReadFile(path)
		if filepath.Base(filepath.Dir(path)) == "standard" {
			own.Write(data)
		} else {
			rest.Write(data)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	outside := func(name string) bool {
		return regexp.MustCompile(`standard\.` + name + `\b`).MatchString(rest.String())
	}
	_, arrangement, _ := strings.Cut(own.String(), "func ArrangementOf")
	arrangement, _, _ = strings.Cut(arrangement, "\nvar arrangementEU")
	sources := regexp.MustCompile(`(?m)^\s+([A-Z]\w*Source)\s+=`).FindAllStringSubmatch(own.String(), -1)
	if len(sources) < 40 {
		t.Fatalf("only %d sources were found", len(sources))
	}
	for _, s := range sources {
		figure := strings.TrimSuffix(s[1], "Source")
		unused := regexp.MustCompile(`\b`+figure+`\s+=`).MatchString(own.String()) && !outside(figure)
		arranged := strings.Count(arrangement, s[1]) > 0 // said by way of the rules of a practice
		if !outside(s[1]) && !unused && !arranged {
			t.Errorf("%s is said nowhere", s[1])
		}
	}
}
