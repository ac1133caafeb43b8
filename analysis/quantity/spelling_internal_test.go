package quantity

import (
	"math/rand/v2"
	"strings"
	"testing"
)

// What is plain stays as it is, and what is not becomes so: the short way and the long one give the same on any text.
func TestPlain(t *testing.T) {
	signs := []string{"1", "2", " ", " ", "'", `"`, "f", "T", "-", "/", "½", "′", "\t", "`", "\u00a0", ".", "''"}
	random := rand.New(rand.NewPCG(1, 2)) //nolint:gosec // texts that repeat
	short := 0
	for range 20_000 {
		var b strings.Builder
		for range random.IntN(7) {
			b.WriteString(signs[random.IntN(len(signs))])
		}
		text := b.String()
		long := strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(spellings.Replace(text), "''", `"`)), " "))
		if got := plain(text); got != long {
			t.Fatalf("%q becomes %q, want %q", text, got, long)
		}
		if isPlain(text) {
			short++
		}
	}
	if short < 1000 {
		t.Errorf("only %d texts were plain", short)
	}
}
