package demo

import (
	"bytes"
	"fmt"
	"strings"
)

// table writes the spots as rows of a point file: point, north, east, elevation, code; a header line if
// the format says so.
func (r *Roof) table() []byte {
	var b bytes.Buffer
	f, s := r.format, r.survey
	if f.points == "header" {
		b.WriteString("Point,Northing,Easting,Elevation,Code\n")
		if f.geographic() {
			b.Reset()
			b.WriteString("Point,Lat,Lon,Elevation,Code\n")
		}
	}
	n := 100
	row := func(p shot, z float64, code string) {
		n++
		x, y := f.plan(p.at)
		fmt.Fprintf(&b, "%d,%s,%s,%s,%s\n", n, y, x, f.level(z), code)
	}
	for i, k := range s.curbs {
		for j, p := range k {
			code := fmt.Sprintf("CURB %d", i+1)
			if j == 0 {
				code += " label=" + s.site.curbs[i].label
			}
			if j == len(k)-1 {
				code += " close"
			}
			row(p, p.z, code)
		}
	}
	count := map[string]int{}
	for i, line := range s.folds {
		kind := strings.ToUpper(s.kinds[i])
		count[kind]++
		for j, p := range line {
			code := fmt.Sprintf("%s %d", kind, count[kind])
			if j == 0 {
				code += " begin"
			} else if j == len(line)-1 {
				code += " end"
			}
			row(p, p.z, code)
		}
	}
	for i, o := range s.site.outlets {
		row(shot{at: o.at}, s.site.invert(i), r.code(i))
	}
	code := "SPOT"
	if f.sigma {
		m, _, d := f.unit()
		code += " sigma=" + string(number(r.method.sigma/m, d+2))
	}
	for _, p := range r.points() {
		row(p.shot, p.z, code)
	}
	return b.Bytes()
}

func (r *Roof) code(i int) string {
	o := r.survey.site.outlets[i]
	plain := func(m float64) string { return strings.ReplaceAll(r.format.span(m), " ", "") }
	size := plain(o.size)
	if o.height > 0 {
		size += " h=" + plain(o.height)
	}
	if o.leader > 0 {
		size += " leader=" + plain(o.leader)
	}
	size += " label=" + o.label
	switch {
	case o.overflow && o.kind == "scupper":
		return "OVERFLOW w=" + size
	case o.overflow:
		return "OVERFLOW d=" + size
	case o.kind == "scupper":
		return "SCUPPER w=" + size
	default:
		return "DRAIN d=" + size
	}
}
