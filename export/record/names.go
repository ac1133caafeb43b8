package record

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"

	"runnel/analysis/choose"
	"runnel/analysis/study"
	"runnel/analysis/surface"
)

// Names gives every result of one study its id: the roof's short id, a full stop, a letter and a number.
type Names struct {
	Roof    string   // short id of the roof
	Outlets []string // by index of surface.Outlets
	Ponds   []string // by index of ponding.Ponds.Ponds; ponds too shallow to list share "<roof>.P00"
}

// RoofID returns the short id of a roof from its name: of one word the first three letters, of several
// words their first letters, digits kept whole, all in upper case; "R1" when that leaves nothing.
// "Library" gives "LIB", "North wing 2" gives "NW2", "Roof 1" gives "R1".
func RoofID(name string) string {
	words := strings.FieldsFunc(name, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	letters := choose.If(len(words) == 1, 3, 1)
	var b strings.Builder
	for _, w := range words {
		n := 0
		for _, r := range w {
			switch {
			case unicode.IsDigit(r):
				b.WriteRune(r)
			case n < letters:
				b.WriteRune(unicode.ToUpper(r))
				n++
			}
		}
	}
	if b.Len() == 0 {
		return "R1"
	}
	return b.String()
}

// NewNames numbers the results of s. roofID is the roof's short id; empty means RoofID of its name.
func NewNames(s *study.Study, roofID string) *Names {
	n := &Names{Roof: roofID}
	if n.Roof == "" {
		n.Roof = RoofID(s.Roof.Name)
	}
	n.Outlets = outletIDs(n.Roof, s.Surface.Outlets)
	n.Ponds = slices.Repeat([]string{n.Roof + ".P00"}, len(s.Ponds.Ponds))
	for _, l := range s.Listed {
		n.Ponds[l.Pond] = n.Roof + "." + l.ID
	}
	return n
}

// called is a label that can be an id: a short word of letters, digits and hyphens, with a hyphen or without a digit at its end, so that
// it is none of the ids made here.
var called = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[A-Za-z0-9]+(-[A-Za-z0-9]+)+$|^[A-Za-z]{2,20}$`) })

// outletIDs returns the ids of outlets: as people call them ("LIB.RD-2") where no other outlet is called so, else by letter and number.
func outletIDs(roof string, outlets []surface.Outlet) []string {
	count := map[string]int{}
	for i := range outlets {
		count[strings.ToLower(outlets[i].Label)]++
	}
	ids := make([]string, len(outlets))
	for i := range outlets {
		o := &outlets[i]
		ids[i] = roof + "." + o.ID
		if len(o.Label) <= 20 && called().MatchString(o.Label) && count[strings.ToLower(o.Label)] == 1 {
			ids[i] = roof + "." + o.Label
		}
	}
	return ids
}

func (n *Names) number(letter string, i, width int) string {
	return fmt.Sprintf("%s.%s%0*d", n.Roof, letter, width, i)
}

// Plane returns the id of plane i.
func (n *Names) Plane(i int) string { return n.number("L", i+1, 2) }

// Facet returns the id of facet i.
func (n *Names) Facet(i int) string { return n.number("F", i+1, 1) }

// Contour returns the id of contour i.
func (n *Names) Contour(i int) string { return n.number("C", i+1, 2) }

// Valley returns the id of valley i.
func (n *Names) Valley(i int) string { return n.number("V", i+1, 2) }

// Ridge returns the id of ridge i.
func (n *Names) Ridge(i int) string { return n.number("R", i+1, 2) }

// Finding returns the id of finding i.
func (n *Names) Finding(i int) string { return n.number("N", i+1, 2) }

// NextCore returns the id of proposed core i.
func (n *Names) NextCore(i int) string { return n.number("B", i+1, 2) }

// NextSpot returns the id of place i to shoot next.
func (n *Names) NextSpot(i int) string { return n.number("M", i+1, 2) }

// Local returns an id without the roof's own.
func (n *Names) Local(id string) string { return strings.TrimPrefix(id, n.Roof+".") }

// Lists reports whether a pond is deep enough to be listed, and so has an id of its own.
func (n *Names) Lists(pond int32) bool { return n.Ponds[pond] != n.Roof+".P00" }

// End returns the id of the outlet or pond where water ends; empty where there is neither.
func (n *Names) End(outlet, pond int32) string {
	switch {
	case outlet >= 0:
		return n.Outlets[outlet]
	case pond >= 0:
		return n.Ponds[pond]
	}
	return ""
}

// Lip returns the id of the lip of pond i (index into ponding.Ponds.Ponds).
func (n *Names) Lip(i int) string { return n.Ponds[i] + ".lip" }

// Input returns the id of a measured thing: the roof's id, its role and its own id. An id that already
// reads so, because the file is an earlier output, stays as it is.
func (n *Names) Input(role, id string) string {
	prefix := n.Roof + "." + role + "."
	return choose.If(strings.HasPrefix(id, prefix), id, prefix+id)
}
