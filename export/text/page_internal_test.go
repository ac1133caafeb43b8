package text

import (
	"slices"
	"strings"
	"testing"

	"runnel/export/record"
)

func TestNumbersStayWithTheirUnits(t *testing.T) {
	got := Words(`water 12 mm deep over 1,234 sq ft, 5' 4" long (1.1 %), 3 of 9 m.`)
	want := []string{"water", "12 mm", "deep", "over", "1,234 sq ft,", `5' 4"`, "long", "(1.1 %),", "3", "of", "9 m."}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// A label of any length must not make a line of any length; 92 is the width of the page.
func TestNoWordIsWiderThanTheColumn(t *testing.T) {
	long := strings.Repeat("ä", 10000)
	var p page
	p.entry("PONDS", "near "+long)
	p.number("NEXT", 1, long)
	p.note(long)
	p.table([][]string{{"label", "deep"}, {long, "3 mm"}})
	for line := range strings.Lines(p.String()) {
		if n := len([]rune(line)); n > 100 {
			t.Errorf("a line of %d characters", n)
		}
	}
	if got := strings.Count(p.String(), "…"); got != 4 {
		t.Errorf("%d words are marked as cut, want 4", got)
	}
	if path := strings.Repeat("/roof", 14); record.Short(path) != path {
		t.Errorf("%q is cut", path)
	}
}
