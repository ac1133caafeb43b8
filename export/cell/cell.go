// Package cell makes texts from the input harmless in a spreadsheet.
package cell

import (
	"strconv"
	"strings"
	"unicode"
)

// Text returns a text as a cell that no spreadsheet runs as a formula: what begins like one, and is no
// number, gets an apostrophe before it. Line breaks and other control characters become blanks; marks that turn the
// direction of writing are left out.
func Text(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsControl(r), r == '\u2028', r == '\u2029':
			return ' '
		case unicode.Is(unicode.Bidi_Control, r):
			return -1
		}
		return r
	}, text)
	if _, err := strconv.ParseFloat(text, 64); err == nil {
		return text
	}
	if strings.IndexAny(strings.TrimLeft(text, " \u00a0\ufeff\u200b"), "=+-@|%\uff1d\uff0b\uff0d\uff20") == 0 {
		return "'" + text
	}
	return text
}
