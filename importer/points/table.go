package points

import (
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/points/separated"
)

// Table is a text file with a header, as fields: of level books and the like, whose columns are not those of points.
type Table struct {
	Names []string        // of the columns, in lower case, without units
	Units []quantity.Unit // stated in the columns' names, else Unstated
	Heads []string        // the columns' names as written
	Rows  [][]string      // one field for each column
	Lines []int           // of the file, one for each row
	Comma bool            // a comma may be a decimal sign
}

// OpenTable reads a text with a header row, separated as point files are. Problems are added to problems; a nil Table means
// that it cannot be read at all.
func OpenTable(name string, data []byte, problems *roof.Refusal) *Table {
	refuse := refusing[Table](name, problems)
	f := &File{Name: name}
	if rule, mend := f.take(data); rule != "" {
		return refuse(0, rule, mend)
	}
	first, rest, line := f.firstRow()
	if first == "" {
		return refuse(0, "the file has no rows", "give a header row and a row for each station")
	}
	sep := separated.Guess(first)
	heads, err := separated.Split(nil, first, sep, 0)
	if err != nil || !isHeader(heads) {
		return refuse(line, "the first row does not name the columns", "name them, such as station,bs,is,fs,elevation")
	}
	t := &Table{Heads: heads, Comma: sep != ','}
	for _, h := range heads {
		plain, unit := plainColumn(h)
		t.Names, t.Units = append(t.Names, plain), append(t.Units, unit)
	}
	for rest != "" {
		var row string
		row, rest, _ = strings.Cut(rest, "\n")
		line++
		if row = separated.Trim(row); separated.Empty(row, sep) {
			continue
		}
		fields, err := separated.Split(nil, row, sep, 0)
		for err == nil && len(fields) > len(heads) && fields[len(fields)-1] == "" {
			fields = fields[:len(fields)-1]
		}
		if err != nil || len(fields) != len(heads) {
			refuse(line, fmt.Sprintf("the row has %s where %d belong", counted(len(fields), "field"), len(heads)),
				"write a value, or nothing between two separators, for each column")
			continue
		}
		t.Rows, t.Lines = append(t.Rows, fields), append(t.Lines, line)
	}
	return t
}

// Column returns the index of the column of one of these names, -1 where there is none.
func (t *Table) Column(names ...string) int {
	return slices.IndexFunc(t.Names, func(have string) bool { return slices.Contains(names, have) })
}

// Length reads a field as a length: a number in unit, or one with its own unit.
func (t *Table) Length(field string, unit quantity.Unit) (quantity.Length, error) {
	if v, _, ok := separated.Number(field, t.Comma); ok {
		if unit == quantity.Unstated {
			return 0, fmt.Errorf("%.40q has no unit", field)
		}
		return quantity.Length(v * unit.Metres()), nil
	}
	return quantity.ParseLength(field, unit)
}
