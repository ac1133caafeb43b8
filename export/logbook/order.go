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

// Of returns the entries with a depth of a pond, in the order in which it was seen.
func Of(b *Book, pond string) []Entry {
	return slices.DeleteFunc(ByDate(b), func(e Entry) bool { return e.Pond != pond || e.Depth == 0 })
}
