package logbook

import (
	"slices"
	"strings"
)

// ByDate returns the entries in the order in which things happened; of one day in the order in which they were written.
func ByDate(b *Book) []Entry {
	out := slices.Clone(b.Entries)
	slices.SortStableFunc(out, func(x, y Entry) int { return strings.Compare(x.Date, y.Date) })
	return out
}

// Ponds returns the names of the ponds whose depth was kept twice or more, in their order.
func Ponds(b *Book) []string {
	count := map[string]int{}
	var out []string
	for i := range b.Entries {
		if e := &b.Entries[i]; e.Pond != "" && e.Depth > 0 {
			if count[e.Pond]++; count[e.Pond] == 2 {
				out = append(out, e.Pond)
			}
		}
	}
	return out
}

// Course returns how a pond went on: the entries with its depth, and between and after them repairs and looks at a dry roof, in the order in which things happened.
func Course(b *Book, pond string) []Entry {
	var out []Entry
	for _, e := range ByDate(b) {
		switch {
		case e.Pond == pond && e.Depth > 0:
			out = append(out, e)
		case len(out) > 0 && (e.Kind == Repaired || e.Kind == Dry) && (e.Pond == "" || e.Pond == pond):
			out = append(out, e)
		}
	}
	return out
}
