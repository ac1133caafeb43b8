package setout

import (
	"fmt"
	"strconv"
)

// field is one column of the table on the sheet.
type field struct {
	head  string
	width float64 // [mm]
	left  bool
	text  func(s *Sheet, p *Point) string
}

// groups are the headings over the columns, each over so many of them.
var groups = []struct {
	head string
	n    int
}{{"", 2}, {"square to wall A", 2}, {"square to wall B", 2}, {"check: from C", 2}, {"surface, from BM", 2}, {"inlet, from BM", 2}}

var fields = []field{
	{"no.", 9, false, func(_ *Sheet, p *Point) string { return strconv.Itoa(p.Number) }},
	{"what", 75, true, func(_ *Sheet, p *Point) string { return clean(p.What) }},
	{"ft in", 26, false, func(_ *Sheet, p *Point) string { return tape(p.A) }},
	{"m", 14, false, func(_ *Sheet, p *Point) string { return metres(p.A) }},
	{"ft in", 26, false, func(_ *Sheet, p *Point) string { return tape(p.B) }},
	{"m", 14, false, func(_ *Sheet, p *Point) string { return metres(p.B) }},
	{"ft in", 19, false, func(_ *Sheet, p *Point) string { return tape(p.Corner) }},
	{"m", 14, false, func(_ *Sheet, p *Point) string { return metres(p.Corner) }},
	{"in", 23, false, func(s *Sheet, p *Point) string { return in(p.HasSurface, s.Relative(p.Surface)) }},
	{"mm", 13, false, func(s *Sheet, p *Point) string { return mm(p.HasSurface, s.Relative(p.Surface)) }},
	{"in", 23, false, func(s *Sheet, p *Point) string { return in(p.HasInlet, s.Relative(p.Inlet)) }},
	{"mm", 13, false, func(s *Sheet, p *Point) string { return mm(p.HasInlet, s.Relative(p.Inlet)) }},
}

func metres(v float64) string {
	if text := fmt.Sprintf("%.3f", v); text != "-0.000" {
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

// table writes the points, with the headings at the top of every page.
func (p *pdf) table() {
	scale := p.tableScale()
	for i := range p.points {
		if i == 0 || p.GetY()+high > p.height-margin-4 {
			p.AddPage()
			p.SetXY(margin, margin)
			p.heads(scale)
		}
		p.row(&p.points[i], scale)
	}
	if more := len(p.s.Points) - len(p.points); more > 0 {
		p.set("B", 9)
		p.Text(margin, p.GetY()+4, fmt.Sprintf("and %d more points in the CSV file.", more))
		p.SetY(p.GetY() + 6)
	}
}

// tableScale returns the factor on the columns' widths with which the table is as wide as the sheet.
func (p *pdf) tableScale() float64 {
	sum := 0.0
	for i := range fields {
		sum += fields[i].width
	}
	return (p.width - 2*margin) / sum
}

func (p *pdf) heads(scale float64) {
	p.set("B", 8)
	p.SetFillColor(226, 226, 232)
	k := 0
	for _, g := range groups {
		width := 0.0
		for range g.n {
			width += fields[k].width * scale
			k++
		}
		p.CellFormat(width, high, g.head, "LR", 0, "C", true, 0, "")
	}
	p.Ln(high)
	for i := range fields {
		p.CellFormat(fields[i].width*scale, high, fields[i].head, "B", 0, align(&fields[i]), true, 0, "")
	}
	p.Ln(high)
}

func (p *pdf) row(point *Point, scale float64) {
	p.set("", 8.5)
	p.SetDrawColor(200, 200, 206)
	p.SetLineWidth(0.15)
	for i := range fields {
		f := &fields[i]
		width := f.width * scale
		p.CellFormat(width, high, p.fit(f.text(p.s, point), width-2), "B", 0, align(f), false, 0, "")
	}
	p.Ln(high)
	p.SetDrawColor(0, 0, 0)
}

func align(f *field) string {
	if f.left {
		return "LM"
	}
	return "RM"
}
