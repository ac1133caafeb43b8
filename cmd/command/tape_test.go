package command_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The reference's example by tape: the page that it shows, the files that it names, and what further commands say.
func TestReadmesTape(t *testing.T) {
	dir := t.TempDir()
	examples(t, dir)
	shed, readings := filepath.Join(dir, "shed.csv"), filepath.Join(dir, "readings.csv")
	code, page, _ := run(t, "check", shed)
	if code != 0 {
		t.Fatalf("exit %d", code)
	}
	readme, err := os.ReadFile("reference/tape.md")
	if err != nil {
		t.Fatal(err)
	}
	_, shown, _ := strings.Cut(string(readme), "`bin/runnel check shed.csv` begins:\n\n")
	shown, _, _ = strings.Cut(shown, "\n\n")
	for line := range strings.Lines(shown) {
		if line = strings.TrimPrefix(line, "    "); !strings.Contains(page+"\n", line) {
			t.Errorf("the page has no line %q", line)
		}
	}
	if code, page, _ = run(t, "check", shed, readings, "--fail-on", "repair"); code != 1 || !strings.Contains(page, "The outlet is set high, and no rise before it adds to that.") {
		t.Errorf("exit %d, %.600s", code, page)
	}
}

func TestTapeWritesItsFilesAndNoOthers(t *testing.T) {
	dir := t.TempDir()
	examples(t, dir)
	shed, out := filepath.Join(dir, "shed.csv"), filepath.Join(dir, "out")
	code, _, text := run(t, "check", shed, "-o", out)
	if code != 0 || !strings.Contains(text, "a report and a schedule need heights all over the roof") {
		t.Errorf("exit %d, %s", code, text)
	}
	want := []string{"tool-shed.json", "tool-shed.local.geojson", "tool-shed.nextspots.csv", "tool-shed.plan.pdf", "tool-shed.plan.svg"}
	entries, err := os.ReadDir(out)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("wrote %v, want %v", got, want)
	}
	if code, _, _ = run(t, "check", shed, "-o", out); code != 2 {
		t.Errorf("a second run over the same files: exit %d", code)
	}
	if code, page, _ := run(t, "check", shed, "--json"); code != 0 || !strings.Contains(page, `"tier": "A"`) {
		t.Errorf("--json: exit %d, %.200s", code, page)
	}
	for _, args := range [][]string{{"storm", shed, "--depth", "3in", "--duration", "1h"}, {"correct", shed}} {
		if code, _, text := run(t, args...); code != 3 || !strings.Contains(text, "(tier A), and this asks for heights all over it") {
			t.Errorf("%v: exit %d, %s", args, code, text)
		}
	}
}
