package text

import (
	"slices"
	"testing"
)

func TestNumbersStayWithTheirUnits(t *testing.T) {
	got := Words(`water 12 mm deep over 1,234 sq ft, 5' 4" long (1.1 %), 3 of 9 m.`)
	want := []string{"water", "12 mm", "deep", "over", "1,234 sq ft,", `5' 4"`, "long", "(1.1 %),", "3", "of", "9 m."}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
