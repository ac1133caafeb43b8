package main

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
)

// readList reads a list of faults: id, folder, file, old, new, nth, divided by tabs; # begins a remark.
func readList(path string) ([]fault, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var out []fault
	for i, line := range strings.Split(string(data), "\n") {
		if line == "" || strings.HasPrefix(line, "#") || strings.HasPrefix(line, "id\t") {
			continue
		}
		f := strings.Split(line, "\t")
		if len(f) != 6 {
			return nil, fmt.Errorf("%s:%d: %d columns, not 6", path, i+1, len(f))
		}
		nth, err := strconv.Atoi(f[5])
		if err != nil || nth < 1 {
			return nil, fmt.Errorf("%s:%d: %q is no count", path, i+1, f[5])
		}
		out = append(out, fault{id: f[0], folder: f[1], file: f[2], old: f[3], with: f[4], nth: nth})
	}
	return out, nil
}

// keep returns the faults of these ids.
func keep(faults []fault, ids []string) []fault {
	return slices.DeleteFunc(faults, func(f fault) bool { return !slices.Contains(ids, f.id) })
}

// apply returns the file's text with the fault in it, and false where old does not stand there nth times.
func (f fault) apply(text string) (string, bool) {
	at := 0
	for n := 1; ; n++ {
		i := strings.Index(text[at:], f.old)
		if i < 0 {
			return "", false
		}
		if at += i; n == f.nth {
			return text[:at] + f.with + text[at+len(f.old):], true
		}
		at += len(f.old)
	}
}
