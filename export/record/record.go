// Package record writes the named properties of results, once for every output that carries them.
//
// An Object is the facts of one result: flat, in the order of writing, typed, numbers with a fixed
// count of decimals; each writer sets them in its own way, as JSON, cells or columns. A value that is unknown is left out, never null: an empty text, a NaN and an
// infinity write nothing. Units turn a quantity in SI into the reader's unit and put the unit at the
// end of the name ("depth_mm", "depth_in"). Names give every result its id. Builders such as Pond and
// Outlet then say which properties a result has, so that the GeoJSON and the summary cannot differ.
package record

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"runnel/analysis/choose"
)

// Fact is one property of a result: its name, which ends in its unit, and its value.
type Fact struct {
	Name     string
	Kind     FactKind
	Text     string
	Number   float64 // as many decimals of it are written
	Decimals int
	True     bool
	List     []string
	JSON     json.RawMessage // of a value that is written as it is: an object, or a property of the user's own
}

// FactKind is what the value of a fact is.
type FactKind uint8

// The kinds of value.
const (
	TextFact FactKind = iota
	NumberFact
	TruthFact
	ListFact
	JSONFact
)

// Object is the facts of one result, in the order of writing. The zero value is empty and ready.
type Object struct{ facts []Fact }

// Reset empties o and keeps its memory.
func (o *Object) Reset() { o.facts = o.facts[:0] }

// Has reports whether o has a fact of that name.
func (o *Object) Has(name string) bool { return o.Fact(name) != nil }

// Empty reports whether o has no fact.
func (o *Object) Empty() bool { return len(o.facts) == 0 }

// Facts returns the facts, in order; they hold until o changes.
func (o *Object) Facts() []Fact { return o.facts }

// Fact returns the fact of that name, nil where there is none; it holds until o changes.
func (o *Object) Fact(name string) *Fact {
	for i := range o.facts {
		if o.facts[i].Name == name {
			return &o.facts[i]
		}
	}
	return nil
}

// Append appends the object as JSON, braces included.
func (o *Object) Append(dst []byte) []byte {
	dst = append(dst, '{')
	for i := range o.facts {
		if i > 0 {
			dst = append(dst, ',')
		}
		dst = AppendString(dst, o.facts[i].Name)
		dst = append(dst, ':')
		dst = o.facts[i].appendValue(dst)
	}
	return append(dst, '}')
}

func (f *Fact) appendValue(dst []byte) []byte {
	switch f.Kind {
	case NumberFact:
		return AppendNumber(dst, f.Number, f.Decimals)
	case TruthFact:
		return strconv.AppendBool(dst, f.True)
	case ListFact:
		dst = append(dst, '[')
		for i, v := range f.List {
			if i > 0 {
				dst = append(dst, ',')
			}
			dst = AppendString(dst, v)
		}
		return append(dst, ']')
	case JSONFact:
		return append(dst, f.JSON...)
	case TextFact:
	}
	return AppendString(dst, f.Text)
}

// Plain returns the value as plain text: a number to its decimals, true or false, a list with commas between.
func (f *Fact) Plain() string {
	switch f.Kind {
	case TextFact:
		return f.Text
	case ListFact:
		return strings.Join(f.List, ", ")
	case NumberFact, TruthFact, JSONFact:
	}
	return string(f.appendValue(nil))
}

// Rounded returns the number to its decimals, as it is written.
func (f *Fact) Rounded() float64 {
	text := AppendNumber(nil, f.Number, f.Decimals)
	n, _ := strconv.ParseFloat(string(text), 64) // a number that was just written
	return n
}

// MarshalJSON returns the object's text.
func (o *Object) MarshalJSON() ([]byte, error) { return o.Append(nil), nil }

// WriteJSON writes the object as a file of JSON, indented.
func (o *Object) WriteJSON(w io.Writer) error {
	var out bytes.Buffer
	if err := json.Indent(&out, o.Append(nil), "", "  "); err != nil {
		return err
	}
	out.WriteByte('\n')
	_, err := w.Write(out.Bytes())
	return err
}

// Text adds a text; an empty one is left out.
func (o *Object) Text(name, value string) {
	if value != "" {
		o.facts = append(o.facts, Fact{Name: name, Kind: TextFact, Text: value})
	}
}

// Bool adds a truth value.
func (o *Object) Bool(name string, value bool) {
	o.facts = append(o.facts, Fact{Name: name, Kind: TruthFact, True: value})
}

// Flag adds a truth value only when it is true.
func (o *Object) Flag(name string, value bool) {
	if value {
		o.Bool(name, true)
	}
}

// Int adds a whole number.
func (o *Object) Int(name string, value int) { o.Number(name, float64(value), 0) }

// Number adds a number with at most the given count of decimals; NaN and infinities are left out.
func (o *Object) Number(name string, value float64, decimals int) {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return
	}
	o.facts = append(o.facts, Fact{Name: name, Kind: NumberFact, Number: value, Decimals: decimals})
}

// Positive returns value where it is over 0, else NaN, which nothing is written for: of what is not there no 0 is said.
func Positive(value float64) float64 { return Where(value > 0, value) }

// Where returns value where it holds, else NaN, which nothing is written for.
func Where(holds bool, value float64) float64 { return choose.If(holds, value, math.NaN()) }

// Texts adds a list of texts; an empty list is left out.
func (o *Object) Texts(name string, values []string) {
	if len(values) > 0 {
		o.facts = append(o.facts, Fact{Name: name, Kind: ListFact, List: values})
	}
}

// Raw adds a value that is JSON text already.
func (o *Object) Raw(name string, value json.RawMessage) {
	o.facts = append(o.facts, Fact{Name: name, Kind: JSONFact, JSON: value})
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
		if c := text[i]; c < utf8.RuneSelf {
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

// Join adds the facts of p after those of o.
func (o *Object) Join(p *Object) { o.facts = append(o.facts, p.facts...) }

// Value returns the fact of that name as plain text, empty where there is none.
func (o *Object) Value(name string) string {
	if f := o.Fact(name); f != nil {
		return f.Plain()
	}
	return ""
}

// Names returns the names of the facts, in order.
func (o *Object) Names() []string {
	names := make([]string, len(o.facts))
	for i := range names {
		names[i] = o.facts[i].Name
	}
	return names
}

// List adds an array of n objects, empty where there are none.
func (o *Object) List(name string, n int, fill func(item *Object, i int)) {
	text := []byte{'['}
	var item Object
	for i := range n {
		if i > 0 {
			text = append(text, ',')
		}
		item.Reset()
		fill(&item, i)
		text = item.Append(text)
	}
	o.Raw(name, append(text, ']'))
}
