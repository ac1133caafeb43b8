package drawing

import (
	"fmt"
	"strings"
)

// Sheet is a size of paper, lying: its longer side is W [mm].
type Sheet struct {
	Name string
	W, H float64
}

// sheets are the sizes of paper: ANSI/ASME Y14.1 A and B (letter, tabloid) and the 22 by 34 in of its D; ISO 216 A4, A3
// and A1. Recalled.
var sheets = []Sheet{
	{"letter", 279.4, 215.9},
	{"tabloid", 431.8, 279.4},
	{"22x34", 863.6, 558.8},
	{"a4", 297, 210},
	{"a3", 420, 297},
	{"a1", 841, 594},
}

// say returns the name of the sheet as it is written on one: "letter", "A4".
func (s Sheet) say() string {
	if s.Name[0] == 'a' {
		return strings.ToUpper(s.Name)
	}
	return s.Name
}

// ParseSheet returns the sheet of that name.
func ParseSheet(name string) (Sheet, error) {
	for _, s := range sheets {
		if strings.EqualFold(strings.TrimSpace(name), s.Name) {
			return s, nil
		}
	}
	return Sheet{}, fmt.Errorf("unknown sheet %q: use %s", name, SheetNames())
}

// SheetNames lists the names of all sheets.
func SheetNames() string {
	names := make([]string, len(sheets))
	for i, s := range sheets {
		names[i] = s.Name
	}
	return strings.Join(names, ", ")
}
