package points

import (
	"bytes"
	"encoding/csv"
	"errors"
	"strings"

	"runnel/analysis/roof"
	"runnel/importer/points/separated"
)

// Added is a row to add to a point file: a code, at a place in the file's own coordinates, by its distances from walls, or at none.
type Added struct {
	Code  string
	X, Y  string
	Place string
}

// Taped reports whether a text is a point file whose places are distances from walls.
func Taped(name string, data []byte) bool {
	f := Open(name, data, Options{}, &roof.Refusal{})
	return f != nil && f.taped()
}

// Append returns the text of a point file with rows added at its end, in its columns.
func Append(name string, data []byte, rows []Added) ([]byte, error) {
	problems := &roof.Refusal{}
	f := Open(name, data, Options{}, problems)
	if f == nil {
		return nil, problems.Err()
	}
	at := -1
	for i, c := range f.columns {
		if c.kind == codeColumn && c.name != "" {
			at = i
		}
	}
	if at < 0 || f.sep == separated.Blanks {
		return nil, errors.New(name + ": no heading names a column for the code, or blanks separate the columns; give the file a heading with a column named code, and commas or semicolons between")
	}
	out := bytes.NewBuffer(bytes.Clone(data))
	if !strings.HasSuffix(string(data), "\n") {
		out.WriteByte('\n')
	}
	w := csv.NewWriter(out)
	w.Comma = rune(f.sep)
	for _, row := range rows {
		fields := make([]string, len(f.columns))
		fields[at] = row.Code
		for i, c := range f.columns {
			switch c.kind {
			case xColumn:
				fields[i] = row.X
			case yColumn:
				fields[i] = row.Y
			case placeColumn:
				fields[i] = row.Place
			case ignored, pointColumn, zColumn, codeColumn, sigmaColumn, rodColumn, depthColumn, wallColumn:
			}
		}
		if err := w.Write(fields); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}
