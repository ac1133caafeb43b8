package staged

import (
	"fmt"
	"hash/crc32"
	"path/filepath"
	"testing"
	"time"

	"runnel/analysis/soak"
)

// A journal that counts names nothing outside of its folder, and says the same when it is written again.
func journals() *soak.Target {
	g := soak.New("FuzzParseJournal", ".runnel-1-1.0", "../", "true", "false", "a.json")
	whole := &journal{id: ".runnel-1-1", entries: []entry{{name: "a.json", temporary: ".runnel-1-1.0", old: true, size: 3, modified: time.Unix(1, 2)}}}
	g.Add(whole.text(), false)
	g.Add("\"../a.json\" \"b\" true 3 4", true)
	g.Add("\"a\\nb\" \".runnel-1-1.0\" false 3 4\n\"c\" \"d\" true -1 -2", true)
	g.Property = func(t *testing.T, text string, mend bool) {
		t.Helper()
		if mend { // with a right sum what stands in the lines counts
			text = journalHead + "\n" + text + "\n"
			text += fmt.Sprintf(journalEnd, crc32.ChecksumIEEE([]byte(text)))
		}
		j, ok := parseJournal(whole.id, text)
		if !ok {
			return
		}
		for _, e := range j.entries {
			for _, name := range []string{e.name, e.temporary} {
				if filepath.Dir(filepath.Join("folder", name)) != "folder" {
					t.Fatalf("%q leads out of the folder", name)
				}
			}
		}
		again, ok := parseJournal(whole.id, j.text())
		if !ok || again.text() != j.text() {
			t.Fatalf("%q is not read again", j.text())
		}
	}
	return g
}

func FuzzParseJournal(f *testing.F) { journals().Fuzz(f) }

func TestSoakParseJournal(t *testing.T) { journals().Soak(t) }
