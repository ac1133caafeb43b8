// Package record writes the named properties of results, once for every output that carries them.
//
// An Object is a JSON object under construction: flat, in the order of writing, numbers with a fixed
// count of decimals. A value that is unknown is left out, never null: an empty text, a NaN and an
// infinity write nothing. Units turn a quantity in SI into the reader's unit and put the unit at the
// end of the name ("depth_mm", "depth_in"). Names give every result its id. Builders such as Pond and
// Outlet then say which properties a result has, so that the GeoJSON and the summary cannot differ.
package record

import (
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"unicode/utf8"
)

// Object is a flat JSON object under construction. The zero value is empty and ready.
type Object struct {
	b     []byte   // members with commas between them, no braces
	names []string // of the members, in order
}

// Reset empties o and keeps its memory.
func (o *Object) Reset() { o.b, o.names = o.b[:0], o.names[:0] }

// Has reports whether o has a member of that name.
func (o *Object) Has(name string) bool { return slices.Contains(o.names, name) }

// Empty reports whether o has no member.
func (o *Object) Empty() bool { return len(o.b) == 0 }

// Append appends the object's text, braces included.
func (o *Object) Append(dst []byte) []byte {
	dst = append(dst, '{')
	dst = append(dst, o.b...)
	return append(dst, '}')
}

// MarshalJSON returns the object's text.
func (o *Object) MarshalJSON() ([]byte, error) { return o.Append(nil), nil }

func (o *Object) key(name string) {
	if len(o.b) > 0 {
		o.b = append(o.b, ',')
	}
	o.names = append(o.names, name)
	o.b = AppendString(o.b, name)
	o.b = append(o.b, ':')
}

// Text adds a text; an empty one is left out.
func (o *Object) Text(name, value string) {
	if value == "" {
		return
	}
	o.key(name)
	o.b = AppendString(o.b, value)
}

// Bool adds a truth value.
func (o *Object) Bool(name string, value bool) {
	o.key(name)
	o.b = strconv.AppendBool(o.b, value)
}

// Flag adds a truth value only when it is true.
func (o *Object) Flag(name string, value bool) {
	if value {
		o.Bool(name, true)
	}
}

// Int adds a whole number.
func (o *Object) Int(name string, value int) {
	o.key(name)
	o.b = strconv.AppendInt(o.b, int64(value), 10)
}

// Number adds a number with at most the given count of decimals; NaN and infinities are left out.
func (o *Object) Number(name string, value float64, decimals int) {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return
	}
	o.key(name)
	o.b = AppendNumber(o.b, value, decimals)
}

// Texts adds a list of texts; an empty list is left out.
func (o *Object) Texts(name string, values []string) {
	if len(values) == 0 {
		return
	}
	o.key(name)
	o.b = append(o.b, '[')
	for i, v := range values {
		if i > 0 {
			o.b = append(o.b, ',')
		}
		o.b = AppendString(o.b, v)
	}
	o.b = append(o.b, ']')
}

// Raw adds a value that is JSON text already.
func (o *Object) Raw(name string, value json.RawMessage) {
	o.key(name)
	o.b = append(o.b, value...)
}

// pow10 holds the powers of ten that AppendNumber scales by.
var pow10 = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10}

// AppendNumber appends value rounded to decimals (0 to 10) places, without trailing zeros and never
// as "-0". It scales and rounds to a whole number, which strconv formats ten times faster than a
// fixed-point float; numbers too large for that go through strconv.AppendFloat. The value must be finite.
func AppendNumber(dst []byte, value float64, decimals int) []byte {
	scaled := math.Round(value * pow10[decimals])
	if math.Abs(scaled) >= 1<<53 {
		return strconv.AppendFloat(dst, value, 'f', -1, 64)
	}
	return AppendFixed(dst, int64(scaled), decimals)
}

// AppendFixed appends n times ten to the power of -decimals, without trailing zeros.
func AppendFixed(dst []byte, n int64, decimals int) []byte {
	if n < 0 {
		dst = append(dst, '-')
		n = -n
	}
	for decimals > 0 && n%10 == 0 {
		n /= 10
		decimals--
	}
	if decimals == 0 {
		return strconv.AppendInt(dst, n, 10)
	}
	var digits [20]byte
	i := len(digits)
	for ; decimals > 0; decimals-- {
		i--
		digits[i] = byte('0' + n%10)
		n /= 10
	}
	i--
	digits[i] = '.'
	dst = strconv.AppendInt(dst, n, 10)
	return append(dst, digits[i:]...)
}

const hex = "0123456789abcdef"

// AppendString appends text as a JSON string. Bytes that are not UTF-8 become the replacement character.
func AppendString(dst []byte, text string) []byte {
	dst = append(dst, '"')
	for i := 0; i < len(text); {
		c := text[i]
		if c < utf8.RuneSelf {
			i++
			switch {
			case c == '"' || c == '\\':
				dst = append(dst, '\\', c)
			case c < ' ':
				dst = append(dst, '\\', 'u', '0', '0', hex[c>>4], hex[c&15])
			default:
				dst = append(dst, c)
			}
			continue
		}
		r, size := utf8.DecodeRuneInString(text[i:])
		dst = utf8.AppendRune(dst, r)
		i += size
	}
	return append(dst, '"')
}

// Join adds the members of p after those of o.
func (o *Object) Join(p *Object) {
	if p.Empty() {
		return
	}
	if len(o.b) > 0 {
		o.b = append(o.b, ',')
	}
	o.b = append(o.b, p.b...)
	o.names = append(o.names, p.names...)
}

// Names returns the names of the members, in order.
func (o *Object) Names() []string { return slices.Clone(o.names) }

// Value returns the member of that name as plain text, empty where there is none.
func (o *Object) Value(name string) string {
	var members map[string]json.RawMessage
	if json.Unmarshal(o.Append(nil), &members) != nil {
		return ""
	}
	var text string
	if json.Unmarshal(members[name], &text) == nil {
		return text
	}
	return string(members[name])
}
