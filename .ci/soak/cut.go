package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// cut writes small cuts of the demo roofs, and the small ones of the refused files, as inputs of the importers' targets.
func cut(dir string) error {
	roofs := filepath.Join(dir, "roofs")
	if said, err := exec.Command("go", "run", "./cmd/runnel", "demo", roofs).CombinedOutput(); err != nil { //nolint:gosec // our own program
		return fmt.Errorf("%w\n%s", err, said)
	}
	n := 0
	for _, from := range []string{roofs, filepath.Join("testdata", "broken")} {
		entries, err := os.ReadDir(from)
		if err != nil {
			return err
		}
		for _, e := range entries {
			text, err := os.ReadFile(filepath.Join(from, e.Name()))
			if err != nil {
				return err
			}
			var cuts []string
			folder := "importer/points"
			switch filepath.Ext(e.Name()) {
			case ".csv":
				cuts = someLines(strings.Split(string(text), "\n"), "", "", "\n")
			case ".geojson":
				folder, cuts = "importer/geojson", features(string(text))
			}
			for _, c := range cuts {
				n++
				if err := keep(filepath.Join(dir, "cuts", folder, "FuzzRead"), n, c); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// someLines makes cuts of five lines each, spread over the text, under its first line; first and last stand round each.
func someLines(lines []string, first, last, between string) []string {
	var cuts []string
	for from := 1; from < len(lines); from += max(5, len(lines)/12) {
		some := lines[from:min(len(lines), from+5)]
		if first == "" {
			some = append([]string{lines[0]}, some...)
		}
		cuts = append(cuts, first+strings.Join(some, between)+last)
	}
	return cuts
}

// features makes cuts of a few features each. The demo writes one a line.
func features(text string) []string {
	head, rest, ok := strings.Cut(text, "\"features\":[")
	if !ok {
		return []string{text}
	}
	lines := strings.Split(strings.TrimRight(strings.TrimSpace(rest), "]}\n"), ",\n")
	if len(lines) < 3 {
		return []string{text}
	}
	var cuts []string
	for i := 0; i < len(lines); i += max(1, len(lines)/25) {
		cuts = append(cuts, head+"\"features\":["+lines[i]+"}]}")
	}
	return cuts
}

// keep writes an input as go test -fuzz does.
func keep(folder string, n int, text string) error {
	if err := os.MkdirAll(folder, 0o750); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, fmt.Sprintf("cut-%d", n)), fmt.Appendf(nil, "go test fuzz v1\n[]byte(%q)\n", text), 0o600)
}
