package points

import (
	"fmt"
	"strings"

	"runnel/analysis/quantity"
	"runnel/importer/points/wallbook"
)

// kind is what a column holds.
type kind uint8

const (
	ignored kind = iota
	pointColumn
	xColumn
	yColumn
	zColumn
	codeColumn
	sigmaColumn
	rodColumn
	placeColumn
	depthColumn
	wallColumn // distance from a wall; there may be several
)

// kinds is how many kinds of column there are.
const kinds = int(wallColumn) + 1

// column is one column of a file.
type column struct {
	kind kind
	name string        // as written
	unit quantity.Unit // stated in the name
	says frame         // what the name says of the frame
	wall string        // of a wallColumn, as a place names it
}

// frame is what a column's name says of the frame.
type frame uint8

const (
	unsaid frame = iota
	grid
	geographic
)

// names lists the names of columns, in lower case, blanks between words.
var names = map[string]column{
	"point": {kind: pointColumn}, "id": {kind: pointColumn}, "pt": {kind: pointColumn}, "no": {kind: pointColumn}, "nr": {kind: pointColumn},
	"number": {kind: pointColumn}, "name": {kind: pointColumn}, "point id": {kind: pointColumn}, "point no": {kind: pointColumn},
	"point number": {kind: pointColumn}, "point name": {kind: pointColumn}, "pt no": {kind: pointColumn}, "pt id": {kind: pointColumn}, "p": {kind: pointColumn},
	"x": {kind: xColumn}, "east": {kind: xColumn, says: grid}, "easting": {kind: xColumn, says: grid}, "e": {kind: xColumn, says: grid},
	"lon": {kind: xColumn, says: geographic}, "long": {kind: xColumn, says: geographic}, "longitude": {kind: xColumn, says: geographic}, "lng": {kind: xColumn, says: geographic},
	"y": {kind: yColumn}, "north": {kind: yColumn, says: grid}, "northing": {kind: yColumn, says: grid}, "n": {kind: yColumn, says: grid},
	"lat": {kind: yColumn, says: geographic}, "latitude": {kind: yColumn, says: geographic},
	"z": {kind: zColumn}, "elev": {kind: zColumn}, "elevation": {kind: zColumn}, "height": {kind: zColumn}, "rl": {kind: zColumn},
	"code": {kind: codeColumn}, "desc": {kind: codeColumn}, "description": {kind: codeColumn},
	"sigma": {kind: sigmaColumn}, "rod": {kind: rodColumn},
	"place": {kind: placeColumn}, "depth": {kind: depthColumn},
}

// columnNames is what a message offers.
const columnNames = "point, x or east, y or north, lon, lat, z or elevation, code, sigma, rod; or place, depth, and a wall such as W wall"

// readColumn reads the name of a column, with a unit at its end as in elev_ft or "Elevation (ft)".
func readColumn(name string) column {
	plain, unit := plainColumn(name)
	c := names[plain]
	c.name, c.unit = name, unit
	if wall, ok := wallbook.WallName(strings.TrimPrefix(plain, "from ")); c.kind == ignored && ok {
		c.kind, c.wall = wallColumn, wall
	}
	return c
}

// plainColumn returns the name of a column in lower case, blanks between words, and the unit that stood at its end.
func plainColumn(name string) (string, quantity.Unit) {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" \t_()[]./\"'", r) })
	for n := min(3, len(words)-1); n > 0; n-- {
		if u, err := quantity.ParseUnit(strings.Join(words[len(words)-n:], "-")); err == nil {
			words = words[:len(words)-n]
			if last := len(words) - 1; last > 0 && words[last] == "in" { // "elevation in ft"
				words = words[:last]
			}
			return strings.Join(words, " "), u
		}
	}
	return strings.Join(words, " "), quantity.Unstated
}

// statesTwoUnits reports whether two units stand behind the name of a column that is known without them: elev_ft_m.
func (c column) statesTwoUnits() bool {
	plain, first := plainColumn(c.name)
	plain, second := plainColumn(plain)
	return first != quantity.Unstated && second != quantity.Unstated && names[plain].kind != ignored
}

// checkColumns returns what is wrong with a set of columns, or nothing.
func checkColumns(columns []column) (rule, mend string) {
	var have [kinds]int
	for _, c := range columns {
		have[c.kind]++
		if c.kind != ignored && c.kind != wallColumn && have[c.kind] > 1 {
			return fmt.Sprintf("two columns say the same: %.40q", c.name), "rename or remove one of them"
		}
		if c.statesTwoUnits() {
			return fmt.Sprintf("column %.40q states two units", c.name), "leave one of them out"
		}
	}
	if taped := have[placeColumn] > 0 || have[wallColumn] > 1; taped {
		return checkTaped(have)
	}
	return checkPlaced(columns, have)
}

// checkPlaced returns what is wrong with the columns of a file whose places are coordinates.
func checkPlaced(columns []column, have [kinds]int) (rule, mend string) {
	switch {
	case have[xColumn] == 0 || have[yColumn] == 0:
		return "no columns for the place", "name the columns, with commas, semicolons, tabs or blanks between them; known names are " + columnNames
	case have[zColumn] == 0 && have[rodColumn] == 0:
		return "no column for the elevation", "name it z, elevation or rod"
	case have[zColumn] > 0 && have[rodColumn] > 0:
		return "a column for elevations and one for rod readings", "remove one of them"
	}
	x, y := find(columns, xColumn), find(columns, yColumn)
	switch {
	case x.unit != y.unit:
		return fmt.Sprintf("columns %.40q and %.40q are in different units", x.name, y.name), "bring them into one unit"
	case x.says != y.says && (x.says == geographic || y.says == geographic):
		return fmt.Sprintf("columns %.40q and %.40q do not belong together", x.name, y.name), "name them x and y, east and north, or lon and lat"
	}
	return "", ""
}

func find(columns []column, k kind) column {
	for _, c := range columns {
		if c.kind == k {
			return c
		}
	}
	return column{}
}
