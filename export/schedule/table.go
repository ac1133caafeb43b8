package schedule

import (
	"strings"

	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/quantity"
	"runnel/export/cell"
	"runnel/export/record"
)

// column is one column of a table: a member of the summary's object, or what the schedule adds to it.
type column struct {
	name   string // of the member, with its unit
	head   string // for reading, with its unit
	kind   kind
	places int     // decimals shown of a number
	width  float64 // in characters
}

// kind is what stands in a column's cells.
type kind uint8

const (
	number kind = iota
	word        // one line
	prose       // wrapped
	yes         // yes or no
	maybe       // yes or no, or empty where it is not known
)

// value is one cell.
type value struct {
	text   string
	number float64
	is     kind // number or word
}

// table is one table of the schedule.
type table struct {
	name    string // of the sheet and the file
	columns []column
	rows    int
	fill    func(o *record.Object, i int)
}

// words returns a column of texts.
func words(name, head string, width float64) column {
	return column{name: name, head: head, kind: word, width: width}
}

// text returns a column of sentences.
func text(name string, width float64) column {
	return column{name: name, head: strings.ReplaceAll(name, "_", " "), kind: prose, width: width}
}

func answer(name, head string) column { return column{name: name, head: head, kind: yes, width: 10} }

// shown is how many decimals of a number are shown, for SI and US.
var shown = map[finding.Dimension][2]int{
	finding.Depth: {0, 2}, finding.Length: {1, 1}, finding.Elevation: {3, 2}, finding.Area: {1, 1}, finding.Volume: {0, 0},
	finding.Flow: {2, 0}, finding.Rain: {0, 1}, finding.Mass: {0, 0}, finding.Pressure: {2, 1}, finding.Slope: {2, 2}, finding.Share: {3, 3}, finding.Bearing: {0, 0},
}

// figures returns the column of a number; in US units a depth has a second one with inches to eighths, and a slope one
// with inches per foot.
func figures(u record.Units, name, head string, dim finding.Dimension) []column {
	full := u.Name(name, dim)
	unit := strings.TrimPrefix(strings.TrimPrefix(full, name), "_")
	c := []column{{name: full, head: head + " (" + spelled(unit) + ")", places: shown[dim][u], width: 11}}
	switch {
	case u != record.US:
	case dim == finding.Depth:
		c = append(c, words(name+"_eighths", head+` (to 1/8 in)`, 10))
	case dim == finding.Slope:
		c = append(c, column{name: name + "_in_per_ft", head: head + " (in per ft)", places: 3, width: 11})
	}
	return c
}

// between returns the columns of the bounds of a figure: its name with _5 and with _95.
func between(u record.Units, name, head string, dim finding.Dimension) []column {
	c := figures(u, name, head, dim)[0]
	low, high := c, c
	low.name, low.head = c.name+"_5", c.head+": 5 %"
	high.name, high.head = c.name+"_95", c.head+": 95 %"
	return []column{low, high}
}

// spelled returns a unit of a name as it is read.
func spelled(unit string) string {
	switch unit {
	case "m2":
		return "m²"
	case "ft2":
		return "sq ft"
	case "l":
		return "litres"
	case "pct":
		return "%"
	case "kpa":
		return "kPa"
	case "share":
		return "share of 1"
	case "deg":
		return "degrees"
	case "lps":
		return "L/s"
	case "mm_per_h":
		return "mm/h"
	case "in_per_h":
		return "in/h"
	}
	return unit
}

// eighths adds the text of a depth [m] where the table has a column for it.
func eighths(o *record.Object, u record.Units, name string, metres float64) {
	if u == record.US {
		o.Text(name+"_eighths", quantity.InchesEighths(quantity.Length(metres)))
	}
}

// row returns the cells of row i.
func (t *table) row(o *record.Object, i int) []value {
	o.Reset()
	t.fill(o, i)
	return gather.Each(t.columns, func(x column) value { return read(x.kind, o.Fact(x.name)) })
}

// read returns the cell of a fact, which is empty where there is none.
func read(k kind, f *record.Fact) value {
	switch {
	case (k == yes || k == maybe) && f != nil && f.True:
		return value{text: "yes", is: word}
	case k == yes || k == maybe && f != nil:
		return value{text: "no", is: word}
	case f == nil:
		return value{is: word}
	case k == number:
		return value{text: f.Plain(), number: f.Rounded(), is: number}
	}
	return value{text: cell.Text(f.Plain()), is: word}
}
