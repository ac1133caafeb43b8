package campus

import (
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// The second sheet says how many roofs the first has no room for, and nothing where it has room for all.
func TestRoofsThatTheWorkbookHasNoRoomFor(t *testing.T) {
	for more, want := range []string{"", "And 1 less bad roof in ", "And 2 less bad roofs in "} {
		b := &book{file: excelize.NewFile(), total: &Total{Roofs: mostInBook + more}}
		if err := b.about(); err != nil {
			t.Fatal(err)
		}
		rows, err := b.file.GetRows("about")
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		for _, row := range rows {
			if len(row) > 0 && strings.HasPrefix(row[0], "And ") {
				said = row[0]
			}
		}
		if !strings.HasPrefix(said, want) || (said == "") != (want == "") {
			t.Errorf("%d roofs too many: %q", more, said)
		}
	}
}
