package points

import (
	"strings"
	"testing"
)

// Words stay what they were, the empty one and one longer than a page too.
func TestSlabKeepsWords(t *testing.T) {
	var s slab
	var words, kept []string
	for i := range 3 * pageSize / 50 {
		words = append(words, strings.Repeat(string(rune('a'+i%26)), i%100))
	}
	words = append(words, strings.Repeat("z", 2*pageSize), "end")
	for _, w := range words {
		kept = append(kept, s.keep(w))
	}
	for i, w := range words {
		if kept[i] != w {
			t.Fatalf("word %d is %.20q, want %.20q", i, kept[i], w)
		}
	}
}
