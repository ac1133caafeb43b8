// Package sheet has the sizes of paper, and the scales at which a plan is drawn on one.
package sheet

import (
	"fmt"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/gather"
	"runnel/export/record"
)

// Size is a size of paper, lying: its longer side is W [mm].
type Size struct {
	Name string
	W, H float64
}

// sheets are the sizes of paper: ANSI/ASME Y14.1 A and B (letter, tabloid) and the 22 by 34 in of its D; ISO 216 A4, A3
// and A1. Recalled.
var sheets = []Size{
	{"letter", 279.4, 215.9},
	{"tabloid", 431.8, 279.4},
	{"22x34", 863.6, 558.8},
	{"a4", 297, 210},
	{"a3", 420, 297},
	{"a1", 841, 594},
}

// UsualFor returns the sheet that is taken where none is asked for: letter or A4.
func UsualFor(u record.Units) Size {
	if u == record.US {
		return sheets[0]
	}
	return sheets[3]
}

// Say returns the name of the sheet as it is written on one: "letter", "A4".
func (s Size) Say() string { return choose.If(s.Name[0] == 'a', strings.ToUpper(s.Name), s.Name) }

// Parse returns the sheet of that name.
func Parse(name string) (Size, error) {
	for _, s := range sheets {
		if strings.EqualFold(strings.TrimSpace(name), s.Name) {
			return s, nil
		}
	}
	return Size{}, fmt.Errorf("unknown sheet %q: use %s", name, Names())
}

// Names lists the names of all sheets.
func Names() string {
	return strings.Join(gather.Each(sheets, func(s Size) string { return s.Name }), ", ")
}
