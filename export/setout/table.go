package setout

import (
	"fmt"
	"math"
	"strconv"

	"runnel/analysis/gather"
	"runnel/export/page"
)

// tableEm is the typeface of the table [mm].
const tableEm = 3.0

// field is one column of the table on the sheet.
type field struct {
	head string
	left bool
	text func(s *Sheet, p *Point) string
}

// groups are the headings over the columns, each over so many of them.
var groups = []page.Group{
	{Head: "", Over: 2},
	{Head: "square to wall A", Over: 2},
	{Head: "square to wall B", Over: 2},
	{Head: "check: from C", Over: 2},
	{Head: "from BM: surface", Over: 2},
	{Head: "inlet", Over: 2},
}

var fields = []field{
	{"no.", false, func(_ *Sheet, p *Point) string { return strconv.Itoa(p.Number) }},
	{"what", true, func(_ *Sheet, p *Point) string { return p.What }},
	{"ft in", false, func(_ *Sheet, p *Point) string { return tape(p.A) }},
	{"m", false, func(_ *Sheet, p *Point) string { return metres(p.A) }},
	{"ft in", false, func(_ *Sheet, p *Point) string { return tape(p.B) }},
	{"m", false, func(_ *Sheet, p *Point) string { return metres(p.B) }},
	{"ft in", false, func(_ *Sheet, p *Point) string { return tape(p.Corner) }},
	{"m", false, func(_ *Sheet, p *Point) string { return metres(p.Corner) }},
	{"in", false, func(s *Sheet, p *Point) string { return in(p.HasSurface, s.Relative(p.Surface)) }},
	{"mm", false, func(s *Sheet, p *Point) string { return mm(p.HasSurface, s.Relative(p.Surface)) }},
	{"in", false, func(s *Sheet, p *Point) string { return in(p.HasInlet, s.Relative(p.Inlet)) }},
	{"mm", false, func(s *Sheet, p *Point) string { return mm(p.HasInlet, s.Relative(p.Inlet)) }},
}

// metres writes a distance to the millimetre, rounded as the file's is.
func metres(v float64) string {
	if text := fmt.Sprintf("%.3f", math.Round(v*1000)/1000); text != "-0.000" {
		return text
	}
	return "0.000"
}

func in(has bool, z float64) string {
	if !has {
		return ""
	}
	return eighths(z)
}

func mm(has bool, z float64) string {
	if !has {
		return ""
	}
	text := signed(whole(z))
	return text[:len(text)-len(" mm")]
}

// table lays the points out in rows.
func (s *Sheet) table(points []Point) *page.Table {
	t := &page.Table{Size: tableEm, Groups: groups}
	for i := range fields {
		t.Columns = append(t.Columns, page.Column{Head: fields[i].head, Right: !fields[i].left})
	}
	for k := range points {
		row := gather.Each(fields, func(x field) string { return x.text(s, &points[k]) })
		t.Rows = append(t.Rows, row)
	}
	return t
}
