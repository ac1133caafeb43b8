package finding

import (
	"strconv"
	"strings"
)

// shift returns format with every place {n} renumbered to {n+by}.
func shift(format string, by int) string {
	return replace(format, func(n int) (string, bool) {
		return "{" + strconv.Itoa(n+by) + "}", true
	})
}

// replace returns format with every place {n} given to with; a place it declines stays as it is.
func replace(format string, with func(n int) (string, bool)) string {
	var b strings.Builder
	for {
		open := strings.IndexByte(format, '{')
		if open < 0 {
			break
		}
		width := strings.IndexByte(format[open:], '}')
		if width < 0 {
			break
		}
		b.WriteString(format[:open])
		place := format[open : open+width+1]
		n, err := strconv.Atoi(place[1:width])
		text, ok := "", false
		if err == nil && n >= 0 {
			text, ok = with(n)
		}
		if !ok {
			text = place
		}
		b.WriteString(text)
		format = format[open+width+1:]
	}
	b.WriteString(format)
	return b.String()
}
