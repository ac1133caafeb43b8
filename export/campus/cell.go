package campus

import (
	"strconv"
	"strings"
)

// cell returns a text as a cell that no spreadsheet runs as a formula: what begins like one, and is no
// number, gets an apostrophe before it. Line breaks become blanks.
func cell(text string) string {
	text = strings.Map(func(r rune) rune {
		if r == '\r' || r == '\n' || r == '\t' {
			return ' '
		}
		return r
	}, text)
	if _, err := strconv.ParseFloat(text, 64); err == nil {
		return text
	}
	if strings.IndexAny(strings.TrimLeft(text, " \u00a0"), "=+-@|%\uff1d\uff0b\uff0d\uff20") == 0 {
		return "'" + text
	}
	return text
}
