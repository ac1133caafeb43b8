package logbook_test

import (
	"slices"
	"testing"

	"runnel/export/logbook"
)

// A history is told in the order in which things happened, whenever they were written down; of one day in the order in which they were. A pond is told over
// the years where its depth was kept twice.
func TestOrderOfThings(t *testing.T) {
	b := &logbook.Book{Entries: []logbook.Entry{
		{Number: 1, Date: "2026-05-01", Pond: "P1", Depth: 20},
		{Number: 2, Date: "2025-04-01", Pond: "P1", Depth: 30},
		{Number: 3, Date: "2025-04-01"},
		{Number: 4, Date: "2026-01-01", Pond: "P2", Depth: 10},
		{Number: 5, Date: "2026-04-30", Pond: "P1"},
	}}
	numbers := func(list []logbook.Entry) (out []int) {
		for i := range list {
			out = append(out, list[i].Number)
		}
		return out
	}
	if got := numbers(logbook.ByDate(b)); !slices.Equal(got, []int{2, 3, 4, 5, 1}) {
		t.Errorf("by date: %v", got)
	}
	if got := numbers(logbook.Of(b, "P1")); !slices.Equal(got, []int{2, 1}) {
		t.Errorf("depths of P1: %v", got)
	}
	if got := logbook.Ponds(b); !slices.Equal(got, []string{"P1"}) {
		t.Errorf("ponds: %v", got)
	}
}
