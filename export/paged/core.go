package paged

import "runnel/export/page"

// cores sets what the cores say, where the roof was cut open.
func (r *report) cores() {
	if len(r.m.Cores) == 0 {
		return
	}
	r.Heading(r.m.CoresHeading, 25)
	for i, p := range r.m.Cores {
		if i > 0 {
			r.Skip(2)
		}
		r.Need(16)
		r.Paragraph(p.Heading, page.Style{Size: bodyEm, Bold: true})
		r.Skip(0.6)
		r.Bullets(p.Texts, note)
		if len(p.Table.Rows) > 0 {
			r.Skip(1)
			r.rows(p.Table)
		}
	}
}
