package assembly

import (
	"slices"
	"strings"

	"runnel/analysis/standard"
)

// Words in the description of a deck.
var (
	softWords   = []string{"soft", "rot", "rust", "corro", "decay", "spongy"} // begin a word that speaks of a doubtful deck
	soundWords  = []string{"softwood", "rotproof", "rustproof"}               // begin one that does not
	noWords     = []string{"no", "not", "non", "without", "never", "free"}    // deny what follows
	bridgeWords = []string{"any", "visible", "sign", "signs", "trace", "traces", "evidence", "of", "from", "or"}
	afterWords  = []string{"free", "proof", "proofed", "resistant", "resisting"} // deny what stands before
)

// isSoft reports whether the description of a deck says that it is soft, rotten or rusted. "No rust", "without signs of
// rot or rust" and "rust-free" say that it is not. Whatever is said less plainly, as "hardly any rust", counts as
// doubtful: a deck called so by mistake costs a call, one that is missed may cost more.
func isSoft(deck string) bool {
	clauses := strings.FieldsFunc(strings.ReplaceAll(deck, " - ", ","), func(r rune) bool { return strings.ContainsRune(",;:.()/?!&+\u2013\u2014\n", r) })
	return slices.ContainsFunc(clauses, func(clause string) bool {
		words := strings.Fields(standard.Plain(clause))
		for i, w := range words {
			// Denied from both sides, as in "not rust-free", it is said.
			if begins(w, softWords) && !begins(w, soundWords) && deniedBefore(words, i) == deniedAfter(words, i) {
				return true
			}
		}
		return false
	})
}

// deniedAfter reports whether the word after word i denies it.
func deniedAfter(words []string, i int) bool {
	return i+1 < len(words) && slices.Contains(afterWords, words[i+1])
}

// deniedBefore reports whether a word before word i denies it, with nothing but bridges and "rot or" between.
func deniedBefore(words []string, i int) bool {
	for i--; i >= 0; i-- {
		switch w := words[i]; {
		case slices.Contains(noWords, w):
			return true
		case !slices.Contains(bridgeWords, w) && (!begins(w, softWords) || words[i+1] != "or"):
			return false
		}
	}
	return false
}
