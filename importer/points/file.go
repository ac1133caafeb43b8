// Package points reads surveyed points from text: one row a point, with a header or with the columns named
// by the user, separated by commas, semicolons, tabs or blanks.
//
// A row's code says what was measured there: a spot, a corner of the outline, a vertex of a ridge, a drain.
// Rows are read in one pass over the text with few allocations, so that a million of them take about a
// second. Every number is checked; nothing that was not measured becomes one.
package points

import (
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/textfile"
	"runnel/importer/draft"
	"runnel/importer/points/code"
	"runnel/importer/points/separated"
)

// MaxLine is the longest line that is read [bytes].
const MaxLine = 1 << 20

// Options are what a user says about point files.
type Options struct {
	Columns  []string  // of files without a header
	Codes    code.List // nil for none
	HI       string    // height of instrument for rod readings
	KeepZero bool
}

// File is a point file whose columns are known, or can be decided by an outline.
type File struct {
	Name  string
	Units quantity.Unit // stated in the header, else Unstated
	Frame string        // "wgs84" or "local" where the header says so, else empty

	options Options
	body    string // rows after the header
	line    int    // number of the first line of body
	sep     byte
	columns []column
	latin   bool // the text is taken as ISO 8859-1
	named   bool // the columns are those of the options
	open    bool // the order of the plan columns is not known; columns is easting first

	inferred bool // Units follows from lengths that carry their own

	before draft.Known // what other files say of the roof, in the file's unit
}

// Open finds out how the rows are separated and what their columns are. Problems are added to problems; a
// nil File means that it cannot be read at all.
func Open(name string, data []byte, o Options, problems *roof.Refusal) *File {
	refuse := refusing[File](name, problems)
	f := &File{Name: name, options: o, line: 1}
	if rule, mend := f.take(data); rule != "" {
		return refuse(0, rule, mend)
	}
	first, rest, line := f.firstRow()
	if first == "" {
		return refuse(0, "the file has no rows", "give a row for each point")
	}
	if len(first) > MaxLine {
		return refuse(line, "the line is longer than a megabyte", "write one point a line")
	}
	f.sep = separated.Guess(first)
	fields, err := separated.Split(nil, first, f.sep, 0)
	if err != nil {
		return refuse(line, err.Error(), "write a quote inside of a quoted field twice")
	}
	if isHeader(fields) {
		f.body, f.line = rest, line+1
		for _, field := range fields {
			f.columns = append(f.columns, readColumn(field))
		}
	} else if rule, mend := f.withoutHeader(fields); rule != "" {
		return refuse(line, rule, mend)
	}
	if rule, mend := checkColumns(f.columns); rule != "" {
		return refuse(line, rule, mend)
	}
	if f.taped() && f.sep == separated.Blanks {
		return refuse(line, "the columns are separated by blanks, and a place has blanks of its own", "separate them with semicolons, commas or tabs")
	}
	f.stated()
	if f.Units == quantity.Unstated && f.Frame != "wgs84" {
		f.Units = f.writtenUnit()
		f.inferred = f.Units != quantity.Unstated
	}
	return f
}

// refusing returns what adds a problem of a file's line and gives nothing back.
func refusing[T any](name string, problems *roof.Refusal) func(line int, rule, mend string) *T {
	return func(line int, rule, mend string) *T {
		problems.Add(roof.Problem{Origin: roof.Origin{File: name, Line: line}, Rule: rule, Mend: mend})
		return nil
	}
}

// take makes the body of a file's text, its lines ended by line feeds, or says what the file is that is no text, and what to do.
func (f *File) take(data []byte) (rule, mend string) {
	if f.body, f.latin = draft.Decode(data); !strings.Contains(f.body, "\n") {
		f.body = strings.ReplaceAll(f.body, "\r", "\n")
	}
	return textfile.NotText(data)
}

// firstRow returns the first row that is neither blank nor a comment nor for spreadsheets, the text after it and its line.
func (f *File) firstRow() (row, rest string, line int) {
	rest = f.body
	for line = 1; rest != ""; line++ {
		row, rest, _ = strings.Cut(rest, "\n")
		row = separated.Trim(row)
		if !separated.Empty(row, separated.Blanks) && !namesSeparator(row) {
			return row, rest, line
		}
	}
	return "", "", 0
}

// namesSeparator reports whether a row is the line "sep=;" that spreadsheets write above the rows for each other.
func namesSeparator(row string) bool {
	return len(row) == len("sep=;") && strings.EqualFold(row[:4], "sep=")
}

// isHeader reports whether no field of the first row is a number.
func isHeader(fields []string) bool { return !slices.ContainsFunc(fields, separated.LooksNumeric) }

// withoutHeader takes the columns from the options, or leaves the order of easting and northing open.
func (f *File) withoutHeader(fields []string) (rule, mend string) {
	for _, name := range f.options.Columns {
		c := readColumn(name)
		if c.kind == ignored && name != "-" {
			return fmt.Sprintf("--columns: %.40q is no name of a column", name), "use " + columnNames + ", or - for a column that is not read"
		}
		f.columns = append(f.columns, c)
	}
	if f.columns != nil {
		f.named = true
		last := len(f.columns) - 1
		if len(fields) == last && f.sep != separated.Blanks && f.columns[last].kind == codeColumn {
			f.columns = f.columns[:last]
		}
		return "", ""
	}
	layout := []kind{xColumn, yColumn, zColumn}
	switch n := len(fields); {
	case n < 3:
		return fmt.Sprintf("the row has %s, too few for a point", counted(n, "field")), "give at least two plan coordinates and an elevation"
	case n == 4 && !separated.LooksNumeric(fields[3]):
		layout = append(layout, codeColumn)
	case n == 4:
		layout = append([]kind{pointColumn}, layout...)
	case n > 4:
		layout = append(append([]kind{pointColumn}, layout...), codeColumn)
	}
	for _, k := range layout {
		f.columns = append(f.columns, column{kind: k})
	}
	f.open = true
	return "", ""
}

// stated collects what the names of the columns say of units and frame.
func (f *File) stated() {
	x, y := find(f.columns, xColumn), find(f.columns, yColumn)
	switch {
	case x.says == geographic:
		f.Frame = "wgs84"
	case x.says == grid || y.says == grid || f.taped():
		f.Frame = "local"
	}
	for _, c := range []column{x, find(f.columns, zColumn), find(f.columns, rodColumn), find(f.columns, wallColumn)} {
		if c.unit != quantity.Unstated && f.Units == quantity.Unstated {
			f.Units = c.unit
		}
	}
}

// Named reports whether the columns are those that the options name, because the file has no header.
func (f *File) Named() bool { return f.named }

// Rod reports whether the file holds rod readings.
func (f *File) Rod() bool { return find(f.columns, rodColumn).kind == rodColumn }
