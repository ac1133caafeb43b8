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
	if got := numbers(logbook.Course(b, "P1")); !slices.Equal(got, []int{2, 1}) {
		t.Errorf("depths of P1: %v", got)
	}
	if got := logbook.Ponds(b); !slices.Equal(got, []string{"P1"}) {
		t.Errorf("ponds: %v", got)
	}
}

// A repair before the pond was first seen is no part of its course, nor is one of another pond.
func TestCourse(t *testing.T) {
	b := &logbook.Book{Entries: []logbook.Entry{
		{Number: 1, Date: "2024-01-01", Kind: logbook.Repaired},
		{Number: 2, Date: "2026-01-01", Kind: logbook.Dry, Hours: 50},
		{Number: 3, Date: "2024-03-01", Kind: logbook.Water, Pond: "P1", Depth: 20},
		{Number: 4, Date: "2025-05-01", Kind: logbook.Repaired},
		{Number: 5, Date: "2025-06-01", Kind: logbook.Water, Pond: "P1", Depth: 3},
		{Number: 6, Date: "2025-07-01", Kind: logbook.Repaired, Pond: "P2"},
		{Number: 7, Date: "2025-08-01", Kind: logbook.Look},
	}}
	var got []int
	for _, e := range logbook.Course(b, "P1") {
		got = append(got, e.Number)
	}
	if want := []int{3, 4, 5, 2}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
