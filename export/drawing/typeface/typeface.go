// Package typeface measures and breaks texts in the typeface of package font, as drawings need it.
//
// Characters that the typeface does not have, and those that turn or hide text, do not come onto a sheet. Widths are
// without kerning, as the writers set texts.
package typeface

import (
	"strings"
	"sync"
	"unicode"

	"runnel/analysis/choose"
	"runnel/export/font"
)

// Missing stands for a character that the typeface does not have.
const Missing = '?'

// limit is above the characters that are measured; later ones count as missing.
const limit = font.Limit

// metrics returns the widths of all characters up to limit, in parts of the size, of the regular and the bold typeface; 0 where
// there is none.
var metrics = sync.OnceValue(func() *[2][limit]float64 {
	var m [2][limit]float64
	for r := range rune(limit) {
		m[0][r], m[1][r] = font.Advance(r, false), font.Advance(r, true)
	}
	return &m
})

// Width returns how wide a text is at a size, in the unit of the size. The text is one that Clean returned.
func Width(text string, size float64, bold bool) float64 {
	i := choose.If(bold, 1, 0)
	m, sum := &metrics()[i], 0.0
	for _, r := range text {
		if r < limit {
			sum += m[r]
		}
	}
	return sum * size
}

// Clean returns a text as it can be drawn on one line: blanks for whatever parts words, nothing for control
// characters and those that turn or hide text, Missing for characters that the typeface does not have, and for Hebrew ones,
// which it has but which the writers would set in the wrong order.
func Clean(text string) string {
	m := &metrics()[0]
	var b strings.Builder
	gap := false
	for _, r := range text {
		switch {
		case unicode.IsSpace(r):
			gap = b.Len() > 0
			continue
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), unicode.Is(unicode.Mn, r), unicode.Is(unicode.Variation_Selector, r):
			continue
		case r >= limit || m[r] == 0 || !font.Has(r) || unicode.Is(unicode.Hebrew, r):
			r = Missing
		}
		if gap {
			b.WriteByte(' ')
			gap = false
		}
		b.WriteRune(r)
	}
	return b.String()
}

// Cut shortens a text to a width, with an ellipsis where something is left out.
func Cut(text string, size, width float64, bold bool) string {
	if Width(text, size, bold) <= width {
		return text
	}
	room := width - Width("…", size, bold)
	for i, r := range text {
		room -= Width(string(r), size, bold)
		if room < 0 {
			return strings.TrimRight(text[:i], " ") + "…"
		}
	}
	return text
}

// Wrap breaks a text at plain blanks into lines of at most a width; a word that is wider is broken inside.
func Wrap(text string, size, width float64, bold bool) []string {
	var lines []string
	line, used := "", 0.0
	blank := Width(" ", size, bold)
	flush := func() {
		if line != "" {
			lines = append(lines, line)
		}
		line, used = "", 0
	}
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' }) {
		w := Width(word, size, bold)
		if line != "" && used+blank+w > width {
			flush()
		}
		if line != "" {
			line, used = line+" ", used+blank
		}
		if w <= width {
			line, used = line+word, used+w
			continue
		}
		for _, r := range word {
			c := Width(string(r), size, bold)
			if used+c > width && line != "" {
				flush()
			}
			line, used = line+string(r), used+c
		}
	}
	flush()
	return lines
}
