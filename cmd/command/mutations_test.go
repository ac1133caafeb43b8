package command

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Every deliberate fault of the list can still be planted: what it replaces stands in its file, as often as it says.
func TestFaultsCanBePlanted(t *testing.T) {
	root := filepath.Join("..", "..")
	list, err := os.ReadFile(filepath.Join(root, "testdata", "mutations.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for line := range strings.Lines(string(list)) {
		cells := strings.Split(strings.TrimRight(line, "\n"), "\t")
		if strings.HasPrefix(line, "#") || cells[0] == "id" || len(cells) < 6 {
			continue
		}
		rows++
		nth, err := strconv.Atoi(cells[5])
		if err != nil {
			t.Errorf("%s: %v", cells[0], err)
			continue
		}
		text, err := os.ReadFile(filepath.Join(root, cells[1], cells[2]))
		if err != nil {
			t.Errorf("%s: %v", cells[0], err)
			continue
		}
		if strings.Count(string(text), cells[3]) < nth {
			t.Errorf("%s: %q does not stand in %s/%s", cells[0], cells[3], cells[1], cells[2])
		}
	}
	if rows < 50 {
		t.Errorf("only %d faults", rows)
	}
}
