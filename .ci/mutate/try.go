package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// verdict is what became of a fault.
type verdict string

const (
	killed  verdict = "noticed"
	lives   verdict = "LIVES"
	unbuilt verdict = "unbuilt"
	stale   verdict = "STALE"
)

// try runs the tests of the fault's folder with the fault in it, then those of each of last while it lives. It returns the verdict and
// the first test that failed.
func try(f fault, last []string) (v verdict, by string) {
	data, err := os.ReadFile(f.path())
	if err != nil {
		return stale, err.Error()
	}
	text, ok := f.apply(string(data))
	if !ok {
		return stale, "the text does not stand there"
	}
	work, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return stale, err.Error()
	}
	defer os.RemoveAll(work)
	overlay, err := overlayOf(work, f.path(), text)
	if err != nil {
		return stale, err.Error()
	}
	for _, tests := range append([]string{"./" + f.folder}, last...) {
		c := exec.Command("go", "test", "-overlay", overlay, "-failfast", "-vet=off", "-timeout", "5m", tests)
		c.Env = append(os.Environ(), "RUNNEL_SOAK_KEEP=no") // inputs that fail are the fault's
		if out, err := c.CombinedOutput(); err != nil {
			if strings.Contains(string(out), "[build failed]") {
				return unbuilt, ""
			}
			return killed, firstFailure(string(out))
		}
	}
	return lives, ""
}

// overlayOf writes the text and the file that tells the compiler to take it in place of path.
func overlayOf(work, path, text string) (string, error) {
	root, err := os.Getwd()
	if err != nil {
		return "", err
	}
	changed, overlay := filepath.Join(work, "changed.go"), filepath.Join(work, "overlay.json")
	if err := os.WriteFile(changed, []byte(text), 0o600); err != nil {
		return "", err
	}
	data, err := json.Marshal(map[string]map[string]string{"Replace": {filepath.Join(root, path): changed}})
	if err != nil {
		return "", err
	}
	return overlay, os.WriteFile(overlay, data, 0o600)
}

// firstFailure returns the name of the first test that failed, or what else ended the run.
func firstFailure(out string) string {
	for _, line := range strings.Split(out, "\n") {
		line = strings.TrimSpace(line)
		if name, ok := strings.CutPrefix(line, "--- FAIL: "); ok {
			return "by " + strings.Fields(name)[0]
		}
		if strings.HasPrefix(line, "panic: ") {
			return "by a panic: " + strings.TrimPrefix(line, "panic: ")
		}
	}
	return "by " + strings.TrimSpace(strings.SplitN(out, "\n", 2)[0])
}
