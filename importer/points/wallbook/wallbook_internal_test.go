package wallbook

import (
	"math/rand/v2"
	"strings"
	"testing"
)

// A word is found where it stands in the text in small letters, on any text.
func TestIndexFold(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4)) //nolint:gosec // texts that repeat
	found := 0
	for range 20_000 {
		var b strings.Builder
		for range random.IntN(6) {
			b.WriteString([]string{" ", "of ", " OF", "from", " From ", "o", "F", "K", "é", "at "}[random.IntN(10)])
		}
		for _, word := range []string{" of ", " from ", "at "} {
			got := indexFold(b.String(), word)
			small := strings.Map(func(r rune) rune {
				if r >= 'A' && r <= 'Z' {
					return r + 'a' - 'A'
				}
				return r
			}, b.String())
			if want := strings.Index(small, word); got != want {
				t.Fatalf("%q in %q: %d, want %d", word, b.String(), got, want)
			}
			if got >= 0 {
				found++
			}
		}
	}
	if found < 1000 {
		t.Errorf("only %d were found", found)
	}
}
