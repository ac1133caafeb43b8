// Package textfile says what a file is that should be text and is not, and where JSON is broken; it reads the small JSON
// files that a user writes by hand. What stands in a file that is not what it should be is not quoted at length: it may
// be another file, named by mistake or on purpose.
package textfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

const asText = "save it as CSV or GeoJSON in UTF-8"

// kinds are files by what they begin with.
var kinds = []struct{ begins, what, mend string }{
	{"PK\x03\x04", "a workbook or an archive (zip)", "unpack it, or save the table as CSV in UTF-8"},
	{"PK\x05\x06", "an archive (zip) that is empty", "look for the right file"},
	{"\x1f\x8b", "a file that was packed with gzip", "unpack it"},
	{"%PDF-", "a PDF", "ask for the survey as CSV or GeoJSON: a drawing on paper holds no points"},
	{"\x89PNG\r\n\x1a\n", "a picture (PNG)", "ask for the survey as CSV or GeoJSON: a picture holds no points"},
	{"\xff\xd8\xff", "a picture (JPEG)", "ask for the survey as CSV or GeoJSON: a picture holds no points"},
	{"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "a workbook or document of an old kind", "save the table as CSV in UTF-8"},
	{"SQLite format 3\x00", "a database (SQLite, as GeoPackage is)", "export its layer as GeoJSON"},
	{"\xff\xfe", "text in UTF-16", asText},
	{"\xfe\xff", "text in UTF-16", asText},
}

// Clip returns text as a message quotes it: where it has more than most characters, its beginning and three dots.
func Clip(text string, most int) string {
	if r := []rune(text); len(text) > most && len(r) > most {
		return string(r[:most]) + "..."
	}
	return text
}

// looked is how much of a file is looked at [bytes].
const looked = 4096

// NotText says what a file is that is no text in an encoding of bytes, and what to do; nothing where it is text.
func NotText(data []byte) (rule, mend string) {
	head := data[:min(len(data), looked)]
	for _, k := range kinds {
		if bytes.HasPrefix(head, []byte(k.begins)) {
			return "this is " + k.what + ", not text in UTF-8", k.mend
		}
	}
	switch {
	case isWide(head):
		return "this is text in UTF-16, not in UTF-8", asText
	case bytes.IndexByte(head, 0) >= 0:
		return "this is not text", asText
	}
	return "", ""
}

// isWide reports whether every other byte of a text is zero, as in UTF-16 without a mark at its beginning.
func isWide(head []byte) bool {
	const least = 8
	if len(head) < least {
		return false
	}
	var zeros [2]int
	for i, b := range head {
		if b == 0 {
			zeros[i%2]++
		}
	}
	half := len(head) / 2
	return zeros[0] == 0 && zeros[1] >= half*9/10 || zeros[1] == 0 && zeros[0] >= half*9/10
}

// lineAndColumn returns the line of an offset in a text, from 1, and the column in it, from 1 and in characters.
func lineAndColumn(data []byte, offset int) (line, column int) {
	before := data[:max(0, min(offset, len(data)))]
	line = 1 + bytes.Count(before, []byte("\n"))
	return line, 1 + utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:])
}

// JSONFault says where and how data is not JSON; nil where it is.
func JSONFault(data []byte) error {
	if json.Valid(data) {
		return nil
	}
	var raw json.RawMessage
	err := json.Unmarshal(data, &raw)
	var bad *json.SyntaxError
	if !errors.As(err, &bad) {
		return fmt.Errorf("this is not JSON: %w", err)
	}
	if bad.Offset >= int64(len(data)) && strings.Contains(bad.Error(), "unexpected end") {
		line, column := lineAndColumn(data, len(bytes.TrimRight(data, " \t\r\n")))
		return fmt.Errorf("the file is cut off: the JSON does not end; its last sign is on line %d, column %d", line, column-1)
	}
	at := int(bad.Offset) - 1
	line, column := lineAndColumn(data, at)
	for _, word := range []string{"NaN", "Infinity", "-Infinity", "nan", "inf"} {
		if bytes.HasPrefix(data[at:], []byte(word)) {
			return fmt.Errorf("line %d, column %d: %s is not a number in JSON; leave out what was not measured", line, column, word)
		}
	}
	return fmt.Errorf("line %d, column %d: this is not JSON: %w", line, column, bad)
}

// Member is one name of a JSON object and what stands behind it.
type Member struct {
	Name  string
	Line  int
	Value json.RawMessage
}

// Members reads a file that is one JSON object, in order. A name that stands twice is refused: readers differ on which
// of the two counts. shape says what the file should be, such as `prices are a JSON object of names and numbers`.
func Members(data []byte, shape string) ([]Member, error) {
	if rule, mend := NotText(data); rule != "" {
		return nil, fmt.Errorf("%s; %s", rule, mend)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, fmt.Errorf("the file is empty; %s", shape)
	}
	if !utf8.Valid(data) {
		return nil, errors.New("the text is not in UTF-8; save it in UTF-8")
	}
	return membersOf(data, shape)
}

// membersOf reads an object whose text is known to be text.
func membersOf(data []byte, shape string) ([]Member, error) {
	d := json.NewDecoder(bytes.NewReader(data))
	broken := func(err error) error { return fault(data, err, shape) }
	if open, err := d.Token(); err != nil || open != json.Delim('{') {
		return nil, broken(err)
	}
	var members []Member
	lines := map[string]int{}
	for d.More() {
		key, err := d.Token()
		if err != nil {
			return nil, broken(err)
		}
		m := Member{Name: key.(string)} // the decoder takes no other key
		m.Line, _ = lineAndColumn(data, int(d.InputOffset()))
		if before, twice := lines[m.Name]; twice {
			return nil, fmt.Errorf("line %d: %.40q stands already on line %d; leave one of the two out", m.Line, m.Name, before)
		}
		lines[m.Name] = m.Line
		if err := d.Decode(&m.Value); err != nil {
			return nil, broken(err)
		}
		members = append(members, m)
	}
	if _, err := d.Token(); err != nil {
		return nil, broken(err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		line, _ := lineAndColumn(data, int(d.InputOffset()))
		return nil, fmt.Errorf("line %d: something follows the object; %s", line, shape)
	}
	return members, nil
}

// fault says where data is broken, or that it is not of the shape that it should have.
func fault(data []byte, err error, shape string) error {
	var bad *json.SyntaxError
	if errors.As(err, &bad) || errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		if found := JSONFault(data); found != nil {
			return fmt.Errorf("%w; %s", found, shape)
		}
	}
	return errors.New(shape)
}

// Text returns the value as a text or as a number as it was written; false where it is neither.
func (m *Member) Text() (string, bool) {
	var s string
	if json.Unmarshal(m.Value, &s) == nil && len(m.Value) > 0 && m.Value[0] == '"' {
		return s, true
	}
	var n json.Number
	if json.Unmarshal(m.Value, &n) == nil && m.Value[0] != 'n' {
		return n.String(), true
	}
	return "", false
}
