package command_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"runnel/analysis/geometry/reference"
	"runnel/cmd/demo"
	"runnel/export"
)

// The same input gives the same bytes on amd64 and on arm64, where the compiler may fuse a multiplication and an
// addition: the program is built for both and the demo's roofs are checked with both, arm64 under an emulator.
func TestSameBytesOnOtherProcessor(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if _, err := demo.Write(filepath.Join(dir, "demo"), false); err != nil {
		t.Fatal(err)
	}
	reference.Run(t, "qemu-user", nil, "qemu-aarch64", "--version")
	here, err := program()
	if err != nil {
		t.Fatal(err)
	}
	there := filepath.Join(dir, "arm64")
	build := exec.Command("go", "build", "-buildvcs=false", "-trimpath", "-o", there, "runnel/cmd/runnel") //nolint:gosec // our own
	build.Env = append(os.Environ(), "GOOS=linux", "CGO_ENABLED=0", "GOARCH=arm64")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	kinds := ""
	for _, k := range export.Kinds() {
		kinds += "," + string(k)
	}
	args := []string{"campus", filepath.Join(dir, "demo"), "--workers", "1", "--write", kinds[1:], "-o"}
	reference.Run(t, "qemu-user", nil, here, append(args, filepath.Join(dir, "out-amd64"))...)
	reference.Run(t, "qemu-user", nil, "qemu-aarch64", append(append([]string{there}, args...), filepath.Join(dir, "out-arm64"))...)
	for _, args := range [][]string{
		{"correct", filepath.Join(dir, "demo", "library.geojson"), "-o"},
		{"storm", filepath.Join(dir, "demo", "library.geojson"), "--depth", "3in", "--duration", "1h", "--write", "json,geojson", "--overwrite", "-o"},
	} {
		reference.Run(t, "qemu-user", nil, here, append(args, filepath.Join(dir, "out-amd64"))...)
		reference.Run(t, "qemu-user", nil, "qemu-aarch64", append(append([]string{there}, args...), filepath.Join(dir, "out-arm64"))...)
	}
	files, err := filepath.Glob(filepath.Join(dir, "out-amd64", "*"))
	if err != nil || len(files) < 16 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, f := range files {
		want, got := read(t, f), read(t, filepath.Join(dir, "out-arm64", filepath.Base(f)))
		if !bytes.Equal(got, want) {
			t.Errorf("%s differs", filepath.Base(f))
		}
	}
}

func read(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}
