// Page builds runnel for a browser: a folder of static files that any web space serves, and one single file for a desk.
//
//	page [-o dist] [-only FOLDER]
//
// It writes dist/page and dist/runnel.html. It needs Go alone.
package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// Where the parts of the page stand.
const (
	site    = "cmd/page/site"
	example = "library.geojson"
	first   = "runnel.wasm.gz" // checks
	second  = "whole.wasm.gz"  // the whole command line
)

// inlined are the packages that keep their small functions inlined: what runs longest. Elsewhere a call costs less than the bytes.
var inlined = []string{"runnel/analysis/...", "runtime", "internal/runtime/...", "math", "slices", "cmp", "sort", "sync/atomic"}

func main() {
	out := flag.String("o", "dist", "folder to write into")
	flag.Parse()
	if err := build(*out); err != nil {
		fmt.Fprintln(os.Stderr, "page:", err)
		os.Exit(1)
	}
}

func build(out string) error {
	folder := filepath.Join(out, "page")
	if err := os.RemoveAll(folder); err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	files, err := parts()
	if err != nil {
		return err
	}
	single, err := singleFile(files)
	if err != nil {
		return err
	}
	files["sw.js"] = serviceWorker(files)
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
			return err
		}
	}
	if err := os.WriteFile(filepath.Join(out, "runnel.html"), single, 0o644); err != nil {
		return err
	}
	fmt.Printf("%s: %d files, %s %.2f MB, %s %.2f MB\n%s: %.2f MB\n", folder, len(files), first, mega(files[first]), second, mega(files[second]),
		filepath.Join(out, "runnel.html"), mega(single))
	return nil
}

func mega(data []byte) float64 { return float64(len(data)) / 1e6 }

// parts returns the files of the page, but the service worker.
func parts() (map[string][]byte, error) {
	files := map[string][]byte{}
	entries, err := os.ReadDir(site)
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		if files[e.Name()], err = os.ReadFile(filepath.Join(site, e.Name())); err != nil {
			return nil, err
		}
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, err
	}
	if files["wasm_exec.js"], err = os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js")); err != nil {
		return nil, err
	}
	if files[first], err = program("./cmd/page", append(sparing(), "-tags", "screen")...); err != nil {
		return nil, err
	}
	if files[second], err = program("./cmd/runnel"); err != nil {
		return nil, err
	}
	if files[example], err = exampleRoof(); err != nil {
		return nil, err
	}
	files["icon.png"], err = icon()
	return files, err
}

// sparing are flags of the compiler that keep the program small.
func sparing() []string {
	flags := []string{"-gcflags=all=-l"}
	for _, p := range inlined {
		flags = append(flags, "-gcflags="+p+"=-l=0")
	}
	return flags
}

// program compiles a package to WebAssembly and returns it compressed.
func program(pkg string, flags ...string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "page")
	if err != nil {
		return nil, err
	}
	defer func() { _ = os.RemoveAll(dir) }()
	path := filepath.Join(dir, "program.wasm")
	c := exec.Command("go", slices.Concat([]string{"build", "-trimpath", "-ldflags", "-s -w", "-o", path}, flags, []string{pkg})...) //nolint:gosec // our own
	c.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	if said, err := c.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("build %s: %w\n%s", pkg, err, said)
	}
	code, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(code); err != nil {
		return nil, err
	}
	err = w.Close()
	return b.Bytes(), err
}

// exampleRoof returns the invented roof that the page offers to try.
func exampleRoof() ([]byte, error) {
	dir, err := os.MkdirTemp("", "demo")
	if err != nil {
		return nil, err
	}
	defer func() { _ = os.RemoveAll(dir) }()
	if said, err := exec.Command("go", "run", "-trimpath", "./cmd/runnel", "demo", filepath.Join(dir, "demo")).CombinedOutput(); err != nil { //nolint:gosec // our own
		return nil, fmt.Errorf("demo: %w\n%s", err, said)
	}
	return os.ReadFile(filepath.Join(dir, "demo", example))
}

// serviceWorker returns the service worker with the list of files that it keeps from the first visit on, and a version that changes with any of them.
func serviceWorker(files map[string][]byte) []byte {
	var names []string
	sum := sha256.New()
	for name := range files {
		names = append(names, name)
	}
	slices.Sort(names)
	list := []string{`"./"`}
	for _, name := range names {
		_, _ = fmt.Fprintf(sum, "%s %d\n", name, len(files[name]))
		_, _ = sum.Write(files[name])
		if name != second && name != "sw.js" {
			list = append(list, fmt.Sprintf("%q", name))
		}
	}
	text := strings.Replace(string(files["sw.js"]), "'unbuilt'", "'"+hex.EncodeToString(sum.Sum(nil))[:16]+"'", 1)
	return []byte(strings.Replace(text, "FILES = []", "FILES = ["+strings.Join(list, ", ")+"]", 1))
}
