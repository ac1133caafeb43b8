package draft

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"runnel/analysis/choose"
	"runnel/analysis/gather"
)

// longestText is the longest name, id or note that is read [characters]. Every output writes names again and again, and wraps
// them: a longer one is a file that went wrong.
const longestText = 1000

// Fitting returns a name, id or note that is read, cleaned; where it is too long, its beginning and what is wrong with it, else "".
func Fitting(name, text string) (clean, rule string) {
	const shown = 20
	n := utf8.RuneCountInString(text)
	if n <= longestText {
		return Clean(text), ""
	}
	rule = fmt.Sprintf("%s has %d characters; the most that is read is %d", name, n, longestText)
	return Clean(string([]rune(text[:shown*utf8.UTFMax])[:shown])), rule
}

// Clean returns a name or an id as one line that prints as it reads: characters that steer a terminal, end a
// line or turn the direction of text become blanks, and runs of blanks become one.
func Clean(text string) string {
	if strings.IndexFunc(text, steers) < 0 {
		return text
	}
	return strings.Join(strings.Fields(Blank(text)), " ")
}

// Blank puts a blank for each character of a text that steers a terminal or turns the direction of text; tabs and
// the ends of lines stay.
func Blank(text string) string {
	odd := func(r rune) bool { return r != '\t' && r != '\n' && r != '\r' && steers(r) }
	if strings.IndexFunc(text, odd) < 0 {
		return text
	}
	return strings.Map(func(r rune) rune {
		return choose.If(odd(r), ' ', r)
	}, text)
}

// steers reports whether a character is a control character, a separator of lines, or one that turns the
// direction of text.
func steers(r rune) bool {
	if r < 0x7f {
		return r < ' '
	}
	return unicode.Is(unicode.Cc, r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) || unicode.Is(unicode.Bidi_Control, r) || r == '\ufeff'
}

// Decode returns the text of a file without its mark of byte order. A file that is not in UTF-8 is taken as
// ISO 8859-1, in which many instruments write; latin says so.
func Decode(data []byte) (text string, latin bool) {
	if utf8.Valid(data) {
		return Blank(strings.TrimPrefix(string(data), "\ufeff")), false
	}
	runes := gather.Each(data, func(b byte) rune { return rune(b) })
	return Blank(string(runes)), true
}
