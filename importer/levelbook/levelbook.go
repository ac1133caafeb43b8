// Package levelbook reads the notes of a level or a laser: a table with a row a station.
package levelbook

import (
	"fmt"
	"math"
	"slices"

	"runnel/analysis/gather"
	"runnel/analysis/levelling"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points"
	"runnel/importer/surveyfile"
)

// Book is a level book as read.
type Book struct {
	Rows  []levelling.Row
	Heads []string   // of the columns that are not readings, as written: x, y, code and the like
	Kept  [][]string // their fields, one list for each row
	Unit  quantity.Unit
}

// The columns of a level book, by the names that people give them.
var bookColumns = [][]string{
	{"station", "point", "id", "pt", "name"},
	{"bs", "backsight"},
	{"is", "intermediate", "intermediate sight"},
	{"fs", "foresight"},
	{"elevation", "elev", "z", "rl", "height"},
	{"rod"},
	{"setup", "set up", "set-up"},
}

// elevationColumn is the place of the known elevation in bookColumns.
const elevationColumn = 4

// Read reads the notes of a level or laser: a header row with station, bs, is, fs and elevation, or station, setup,
// rod and elevation. unit is that of the readings where the header states none. The error is a *roof.Refusal.
func Read(path string, unit quantity.Unit) (*Book, error) {
	var problems roof.Refusal
	data, format, rule, mend := surveyfile.Load(nil, path)
	if rule == "" && format != points.Format {
		rule, mend = "this is "+format.Noun+", not a level book", "give the notes as a table with station, bs, is, fs and elevation"
	}
	if rule != "" {
		surveyfile.Refuse(&problems, path, rule, mend)
		return nil, &problems
	}
	t := points.OpenTable(path, data, &problems)
	if t == nil {
		return nil, &problems
	}
	r := &bookReader{path: path, table: t, problems: &problems, book: &Book{Unit: unit}}
	if r.columns() {
		r.rows()
	}
	if err := problems.Err(); err != nil {
		return nil, err
	}
	return r.book, nil
}

type bookReader struct {
	path     string
	table    *points.Table
	problems *roof.Refusal
	book     *Book
	at       []int // column of each of bookColumns, -1 none
	kept     []int // columns that are passed on
}

func (r *bookReader) refuse(line int, rule, mend string) {
	r.problems.Add(roof.Problem{Origin: roof.Origin{File: r.path, Line: line}, Rule: rule, Mend: mend})
}

// columns finds the columns and the unit, and reports whether they make a level book.
func (r *bookReader) columns() bool {
	for _, names := range bookColumns {
		r.at = append(r.at, r.table.Column(names...))
	}
	for i, head := range r.table.Heads {
		if !slices.Contains(r.at, i) {
			r.kept = append(r.kept, i)
			r.book.Heads = append(r.book.Heads, head)
		}
	}
	const say = "name the columns station,bs,is,fs,elevation, or station,setup,rod,elevation"
	level, laser := r.at[1] >= 0, r.at[5] >= 0
	switch {
	case r.at[0] < 0:
		r.refuse(0, "no column names the stations", say)
	case level == laser:
		r.refuse(0, "the columns are neither those of a level nor those of a laser", say)
	case r.at[elevationColumn] < 0:
		r.refuse(0, "no column holds the known elevation", say)
	}
	for k := 1; k < 6; k++ {
		if c := r.at[k]; c >= 0 && r.book.Unit == quantity.Unstated {
			r.book.Unit = r.table.Units[c]
		}
	}
	return r.problems.Err() == nil
}

func (r *bookReader) rows() {
	for i, fields := range r.table.Rows {
		row := levelling.Row{Station: fields[r.at[0]], Line: r.table.Lines[i]}
		if row.Station == "" {
			r.refuse(row.Line, "the station has no name", "name each station")
		}
		for k, into := range []*levelling.Reading{&row.Back, &row.Between, &row.Fore, &row.Elevation, &row.Rod} {
			*into = r.reading(row.Line, k+1, fields)
		}
		if c := r.at[6]; c >= 0 {
			row.SetUp = fields[c]
		}
		kept := gather.Each(r.kept, func(c int) string { return fields[c] })
		r.book.Rows, r.book.Kept = append(r.book.Rows, row), append(r.book.Kept, kept)
	}
	if len(r.book.Rows) == 0 {
		r.refuse(0, "the level book has no rows", "give a row for each station")
	}
}

// reading reads the field of column k of bookColumns; an empty one is no reading.
func (r *bookReader) reading(line, k int, fields []string) levelling.Reading {
	c := r.at[k]
	if c < 0 || fields[c] == "" {
		return levelling.Reading{}
	}
	unit := r.table.Units[c]
	if unit == quantity.Unstated {
		unit = r.book.Unit
	}
	v, err := r.table.Length(fields[c], unit)
	if err != nil {
		mend := "write the number that was read"
		if unit == quantity.Unstated {
			mend = "say --units ft or m, or name the column with its unit, such as bs_ft"
		}
		r.refuse(line, fmt.Sprintf("column %s: %v", r.table.Heads[c], err), mend)
		return levelling.Reading{}
	}
	if rule, mend := r.bounds(k, v); rule != "" {
		r.refuse(line, fmt.Sprintf("column %s: %s", r.table.Heads[c], rule), mend)
		return levelling.Reading{}
	}
	return levelling.Reading{Value: float64(v), Known: true}
}

// longestRod bounds a reading [m]: the longest levelling staves and laser rods that are sold read 8 m, common practice, no
// source; ten times that is a slip of the pen or a sign for no reading.
const longestRod = 80.0

// bounds returns the rule that a value in column k of bookColumns breaks and the mend, or nothing.
func (r *bookReader) bounds(k int, v quantity.Length) (rule, mend string) {
	switch {
	case k == elevationColumn:
		return draft.CheckElevation(float64(v))
	case math.Abs(float64(v)) > longestRod:
		return fmt.Sprintf("%.6g m is longer than any rod", v), "correct the reading or its unit"
	}
	return "", ""
}
