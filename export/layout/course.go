package layout

import (
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/board"
	"runnel/analysis/choose"
	"runnel/analysis/gather"
	"runnel/export/page"
)

// rows are the courses of planes that are laid alike.
type rows struct {
	start, rate float64
	planes      []string
	courses     []*board.Piece // one of each, by course from the low end
}

// alike is how far the start of planes that are laid alike may differ [m], and their rate.
const alike = 1e-5

// courses sets what lies in each course, from the low end of a plane up.
func (h *sheets) courses(f *page.Flow) {
	all := h.rowsAlike()
	if len(all) == 0 || h.coursesCount() <= fewCourses {
		return
	}
	f.Heading("Courses", least)
	t := &page.Table{Size: tableEm, Columns: []page.Column{
		{Head: "planes"}, {Head: "course", Right: true}, {Head: "begins, from the low end", Right: true}, {Head: "board"}, {Head: "flat fill under it"},
	}}
	for _, r := range all {
		first := r.courses[0].Course // of flat boards courses count from a corner of the grid, which may lie within the plane
		for k, p := range r.courses {
			fill := gather.Each(p.Fill, h.u.SayDepth)
			row := []string{"", fmt.Sprint(p.Course - first + 1), h.u.SayLength(float64(p.Course-first) * float64(h.TakeOff.Stock.Length)), h.kindText(p.Kind), strings.Join(fill, " + ")}
			if k == 0 {
				row[0] = strings.Join(r.planes, ", ")
			}
			if r.rate == 0 { // all alike
				row[1], row[2] = "all", ""
			}
			t.Rows = append(t.Rows, row)
		}
	}
	if len(t.Rows) > mostHalf {
		t = abreast(t)
	}
	f.Table(t)
}

// fewCourses is how many courses are told in a line under the planes instead of in a table.
const fewCourses = 6

// coursesTold says what lies in each course where there are few: "T4 13 mm to 38 mm, 38 mm to 64 mm; T5 51 mm flat". Empty where a table does.
func (h *sheets) coursesTold() string {
	if h.coursesCount() > fewCourses {
		return ""
	}
	var parts []string
	for _, r := range h.rowsAlike() {
		var kinds []string
		for _, p := range r.courses {
			text := h.kindText(p.Kind)
			for _, fill := range p.Fill {
				text += " + " + h.u.SayDepth(fill)
			}
			kinds = append(kinds, text)
		}
		parts = append(parts, strings.Join(r.planes, ", ")+" "+strings.Join(kinds, ", "))
	}
	return choose.If(len(parts) == 0, "", "Courses from the low end up: "+strings.Join(parts, "; ")+".")
}

// rowsAlike returns the courses of all planes, those that are laid alike in one.
func (h *sheets) rowsAlike() (all []rows) {
	for i, field := range h.TakeOff.Laid {
		all = h.course(all, i, field)
	}
	return all
}

// coursesCount is how many rows the courses take.
func (h *sheets) coursesCount() (n int) {
	for _, r := range h.rowsAlike() {
		n += len(r.courses)
	}
	return n
}

// course adds field i of the layout of boards to the planes that are laid as it is.
func (h *sheets) course(all []rows, i, field int) []rows {
	fd := &h.TakeOff.Fields[field]
	at := slices.IndexFunc(all, func(r rows) bool { return near0(r.start-fd.Thickness) && near0(r.rate-fd.Rate) })
	if at < 0 {
		at = len(all)
		all = append(all, rows{start: fd.Thickness, rate: fd.Rate})
	}
	r := &all[at]
	r.planes = append(r.planes, fieldName(field))
	for k := range h.TakeOff.Boards.Pieces {
		p := &h.TakeOff.Boards.Pieces[k]
		if fd.Rate == 0 && len(r.courses) > 0 { // flat boards lie alike in all
			break
		}
		if p.Field == i && !slices.ContainsFunc(r.courses, func(q *board.Piece) bool { return q.Course == p.Course }) {
			r.courses = append(r.courses, p)
		}
	}
	slices.SortFunc(r.courses, func(a, b *board.Piece) int { return a.Course - b.Course })
	return all
}

func near0(v float64) bool { return v < alike && v > -alike }
