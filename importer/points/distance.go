package points

import (
	"slices"
	"strings"
	"unicode"

	"runnel/analysis/quantity"
	"runnel/importer/points/code"
	"runnel/importer/points/separated"
)

// rejoin puts fields together again that a separator within them cut: "12' from W wall, 30' from S wall", and in the last field a
// list of walls.
func (r *reader) rejoin(fields []string) []string {
	want := len(r.columns)
	sep := string(r.sep) + " "
	if i := r.at[placeColumn]; i >= 0 {
		for len(fields) > want && i+1 < len(fields) && isDistance(fields[i+1]) {
			fields = append(append(fields[:i:i], fields[i]+sep+fields[i+1]), fields[i+2:]...)
		}
	}
	if last := want - 1; len(fields) > want && r.at[codeColumn] == last && strings.Contains(fields[last], "=") {
		fields = append(fields[:last:last], strings.Join(fields[last:], sep))
	}
	return fields
}

func isDistance(field string) bool {
	return strings.Contains(field, " from ") || strings.Contains(field, " of ")
}

// writtenUnit returns the unit that the lengths of the outline, of places, of plan coordinates and of sizes of ponds agree on: feet where they
// are written in feet or inches, metres where they are written in metres, centimetres or millimetres; Unstated where they disagree or carry none.
func (f *File) writtenUnit() quantity.Unit {
	r := &reader{File: f, comma: f.sep != ','}
	for k := range r.at {
		r.at[k] = slices.IndexFunc(f.columns, func(c column) bool { return int(c.kind) == k })
	}
	feet, metres := false, false
	for row := range strings.SplitSeq(f.body, "\n") {
		for _, text := range r.lengthTexts(r.taking(separated.Trim(row))) {
			a, b := unitsIn(text)
			feet, metres = feet || a, metres || b
		}
	}
	switch {
	case feet && !metres:
		return quantity.Feet
	case metres && !feet:
		return quantity.Metres
	}
	return quantity.Unstated
}

// taking returns the fields of a row, nil where it has none or too few.
func (r *reader) taking(row string) []string {
	if separated.Empty(row, r.sep) || len(row) > MaxLine {
		return nil
	}
	fields, err := separated.Split(nil, row, r.sep, 0)
	if err != nil {
		return nil
	}
	if fields = r.rejoin(fields); len(fields) < len(r.columns) {
		return nil
	}
	return fields
}

// lengthTexts returns the texts of a row that hold distances on the roof.
func (r *reader) lengthTexts(fields []string) []string {
	if fields == nil {
		return nil
	}
	var out []string
	for i, c := range r.columns {
		if c.kind == placeColumn || c.kind == wallColumn || c.kind == xColumn || c.kind == yColumn {
			out = append(out, fields[i])
		}
	}
	if r.at[codeColumn] < 0 {
		return out
	}
	c := code.Parse(fields[r.at[codeColumn]])
	for _, key := range []string{"rect", "walls", "size"} {
		if p, ok := c.Value(key); ok {
			out = append(out, p.Value)
		}
	}
	return out
}

// plainSigns writes the typographer's signs for feet and inches as keyboards have them.
var plainSigns = strings.NewReplacer("′", "'", "’", "'", "″", `"`, "”", `"`)

// unitsIn reports whether a number in a text is followed by a sign or word for feet or inches, or for a metric unit.
func unitsIn(text string) (feet, metres bool) {
	text = strings.ToLower(text)
	if strings.ContainsFunc(text, func(c rune) bool { return c > unicode.MaxASCII }) {
		text = plainSigns.Replace(text)
	}
	for i := 1; i < len(text); i++ {
		if strings.IndexByte("0123456789", text[i-1]) < 0 {
			continue
		}
		rest := strings.TrimLeft(text[i:], " ")
		word := rest
		if k := strings.IndexFunc(rest, func(c rune) bool { return c < 'a' || c > 'z' }); k >= 0 {
			word = rest[:k]
		}
		switch {
		case rest == "":
		case rest[0] == '\'' || rest[0] == '"' || word == "ft" || word == "feet" || word == "in":
			feet = true
		case word == "m" || word == "cm" || word == "mm":
			metres = true
		}
	}
	return feet, metres
}
