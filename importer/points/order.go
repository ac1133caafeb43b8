package points

import (
	"fmt"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/importer/points/separated"
)

// Undecided reports whether the order of the plan columns is not known: the file has no header, and
// --columns was not said. Decide it before Read.
func (f *File) Undecided() bool { return f.open }

// Share of the points that must lie on the outline for an order of the columns to be taken, and how many
// rows are looked at.
const (
	enough  = 0.9
	samples = 5000
)

// Decide takes the order of the plan columns that alone puts the points on the outline, and returns a
// sentence that says so. inside tells whether a place in the file's coordinates is on the outline; nil says
// that there is no outline. It returns false, and adds a problem, where the order stays open.
func (f *File) Decide(inside func(orb.Point) bool, geographic bool, problems *roof.Refusal) (said string, ok bool) {
	first, second := "east", "north"
	if geographic {
		first, second = "lon", "lat"
	}
	plain, swapped, rows := f.countInside(inside)
	fits, swappedFits := plain >= enough*rows && rows > 0, swapped >= enough*rows && rows > 0
	if fits == swappedFits {
		f.refuseOrder(first, second, inside == nil, fits, problems)
		return "", false
	}
	if swappedFits {
		first, second = second, first
		for i, c := range f.columns {
			switch c.kind {
			case xColumn:
				f.columns[i].kind = yColumn
			case yColumn:
				f.columns[i].kind = xColumn
			case ignored, pointColumn, zColumn, codeColumn, sigmaColumn, rodColumn, placeColumn, depthColumn, wallColumn:
			}
		}
	}
	f.open = false
	return fmt.Sprintf("%s: the columns are taken as %s, because only so the points lie on the outline.", f.Name, f.layout(first, second)), true
}

// countInside counts the rows whose place is on the outline, read easting first and northing first.
func (f *File) countInside(inside func(orb.Point) bool) (plain, swapped, rows float64) {
	if inside == nil {
		return 0, 0, 0
	}
	f.places(func(p orb.Point, _ []string) bool {
		rows++
		if inside(p) {
			plain++
		}
		if inside(orb.Point{p[1], p[0]}) {
			swapped++
		}
		return rows < samples
	})
	return plain, swapped, rows
}

// places calls yield with the place of each row that has one, as the columns stand, until it returns false.
func (f *File) places(yield func(p orb.Point, fields []string) bool) {
	text := f.body
	var fields []string
	for text != "" {
		var row string
		row, text, _ = strings.Cut(text, "\n")
		row = separated.Trim(row)
		if separated.Empty(row, f.sep) {
			continue
		}
		var err error
		if fields, err = separated.Split(fields[:0], row, f.sep, 0); err != nil {
			continue
		}
		var p orb.Point
		found := 0
		for i, c := range f.columns {
			if (c.kind == xColumn || c.kind == yColumn) && i < len(fields) {
				if v, _, ok := separated.Number(fields[i], f.sep != ','); ok {
					p[found] = v
					found++
				}
			}
		}
		if found == 2 && !yield(p, fields) {
			return
		}
	}
}

// refuseOrder shows the first row read both ways.
func (f *File) refuseOrder(first, second string, noOutline, both bool, problems *roof.Refusal) {
	why := "neither order puts the points on the outline"
	switch {
	case noOutline:
		why = "there is no outline to tell by"
	case both:
		why = "both orders put the points on the outline"
	}
	row := ""
	f.places(func(p orb.Point, _ []string) bool {
		row = fmt.Sprintf(": row 1 is %s %.10g, %s %.10g, or %s %.10g, %s %.10g", first, p[0], second, p[1], second, p[0], first, p[1])
		return false
	})
	problems.Add(roof.Problem{
		Origin: roof.Origin{File: f.Name},
		Rule:   "the file does not say which column is which, and " + why + row,
		Mend:   fmt.Sprintf("say --columns %s or --columns %s", f.layout(first, second), f.layout(second, first)),
	})
}

// layout writes the columns as --columns takes them.
func (f *File) layout(first, second string) string {
	words := make([]string, 0, len(f.columns))
	plan := []string{first, second}
	for _, c := range f.columns {
		switch c.kind {
		case pointColumn:
			words = append(words, "point")
		case xColumn, yColumn:
			words = append(words, plan[0])
			plan = plan[1:]
		case zColumn:
			words = append(words, "elevation")
		case codeColumn:
			words = append(words, "code")
		case ignored, sigmaColumn, rodColumn, placeColumn, depthColumn, wallColumn:
		}
	}
	return strings.Join(words, ",")
}
