package draft

import (
	"fmt"
	"slices"
	"strings"
)

// The words of a core's record.
var (
	Conditions = []string{"sound", "compressed", "wet"} // of a layer
	Cutters    = []string{"tube", "hand"}               // what it was cut with
	Reaches    = []string{"rib", "flute", "unknown"}    // where on a steel deck it ended
)

// OneOf returns text in lower case; where it is neither empty nor one of words, what is wrong and the mend.
func OneOf(name, text string, words []string) (word, rule, mend string) {
	word = strings.ToLower(strings.TrimSpace(text))
	if word != "" && !slices.Contains(words, word) {
		rule, mend = fmt.Sprintf("unknown %s %.40q", name, word), "use "+strings.Join(words, ", ")
	}
	return word, rule, mend
}
