// Package separated reads rows of text whose fields stand between commas, semicolons, tabs or blanks, and the numbers in them, with a point or a comma for the
// decimal sign.
package separated

import (
	"encoding/csv"
	"errors"
	"strings"

	"runnel/analysis/choose"
)

// Blanks stands for any run of blanks and tabs as separator.
const Blanks = byte(' ')

// Guess returns what separates the fields of a row: a tab, else a semicolon, else a comma, else
// blanks. Commas inside of numbers of a row that blanks separate are decimal commas.
func Guess(row string) byte {
	for _, sep := range []byte{'\t', ';'} {
		if strings.IndexByte(row, sep) >= 0 {
			return sep
		}
	}
	return choose.If(strings.IndexByte(row, ',') < 0 || blanksWithDecimalCommas(row), Blanks, ',')
}

// blanksWithDecimalCommas reports whether a row is like "7 12,50 3,20 101,44": at least two numbers with
// one comma between digits, and no comma elsewhere.
func blanksWithDecimalCommas(row string) bool {
	numbers := 0
	for _, field := range strings.Fields(row) {
		switch strings.Count(field, ",") {
		case 0:
		case 1:
			if !LooksNumeric(field) {
				return false
			}
			numbers++
		default:
			return false
		}
	}
	return numbers >= 2
}

// Trim drops blanks and the end of a line; tabs may be separators of empty fields and stay.
func Trim(row string) string { return strings.Trim(row, " \r") }

// Empty reports whether a row holds nothing: blanks, a comment, or separators alone as spreadsheets write
// them.
func Empty(row string, sep byte) bool {
	for i := range len(row) {
		switch row[i] {
		case '#':
			return true
		case ' ', '\t', '\r', sep:
		default:
			return false
		}
	}
	return true
}

// Name names a separator for messages.
func Name(sep byte) string {
	switch sep {
	case '\t':
		return "tabs"
	case ';':
		return "semicolons"
	case ',':
		return "commas"
	}
	return "blanks"
}

// Split appends the trimmed fields of a row to fields. With most > 0 and blanks as separator the last field
// is all that is left of the row.
func Split(fields []string, row string, sep byte, most int) ([]string, error) {
	if sep == Blanks {
		return splitBlanks(fields, row, most), nil
	}
	if strings.IndexByte(row, '"') >= 0 {
		return splitQuoted(row, sep)
	}
	for {
		i := strings.IndexByte(row, sep)
		if i < 0 {
			return append(fields, strings.TrimSpace(row)), nil
		}
		fields = append(fields, strings.TrimSpace(row[:i]))
		row = row[i+1:]
	}
}

func splitBlanks(fields []string, row string, most int) []string {
	for {
		row = strings.TrimLeft(row, " \t")
		if row == "" {
			return fields
		}
		i := strings.IndexAny(row, " \t")
		if i < 0 || most > 0 && len(fields) == most-1 {
			return append(fields, strings.TrimRight(row, " \t"))
		}
		fields = append(fields, row[:i])
		row = row[i:]
	}
}

var errQuotes = errors.New("the quotes do not match")

// splitQuoted splits a row with quoted fields. A quote inside of a field that does not start with one, as in
// 6 1/4", is a plain sign.
func splitQuoted(row string, sep byte) ([]string, error) {
	r := csv.NewReader(strings.NewReader(row))
	r.Comma = rune(sep)
	r.LazyQuotes = true
	fields, err := r.Read()
	if err != nil {
		return nil, errQuotes
	}
	for i := range fields {
		fields[i] = strings.TrimSpace(fields[i])
	}
	return fields, nil
}
