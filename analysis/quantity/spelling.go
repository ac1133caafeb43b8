package quantity

import (
	"strings"
)

// maxText is the longest text that is read as a quantity.
const maxText = 64

// spellings turns typographic signs into the plain ones that the parsers read.
var spellings = strings.NewReplacer(
	"’", "'", "‘", "'", "′", "'", "ʹ", "'", "´", "'", "`", "'",
	"”", `"`, "“", `"`, "″", `"`, "ʺ", `"`, "„", `"`,
	"–", "-", "—", "-", "−", "-", "‐", "-", "‑", "-",
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⅓", " 1/3", "⅔", " 2/3",
	"⁄", "/", "∕", "/",
	"\u00a0", " ", "\u2009", " ", "\u202f", " ", "\t", " ",
)

// plain returns text in lower case with plain signs and single blanks.
func plain(text string) string {
	if isPlain(text) {
		return text
	}
	s := strings.ReplaceAll(spellings.Replace(text), "''", `"`)
	return strings.ToLower(strings.Join(strings.Fields(s), " "))
}

// isPlain reports whether a text has none but ASCII letters in lower case, plain signs and single blanks between them.
func isPlain(text string) bool {
	for i := range len(text) {
		c, next := text[i], byte(' ')
		if i+1 < len(text) {
			next = text[i+1]
		}
		if c >= 0x80 || c == '`' || c >= 'A' && c <= 'Z' || c < ' ' || c == '\'' && next == '\'' || c == ' ' && (next == ' ' || i == 0) {
			return false
		}
	}
	return true
}
