package layout

import (
	"fmt"
	"strings"

	"runnel/analysis/takeoff"
	"runnel/export/caution"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/page"
	"runnel/export/palette"
)

// Sizes of the typeface [mm].
const (
	textEm  = 2.9
	tableEm = 2.7
)

// Fills of sections.
var (
	insulationOf = drawing.Tint(palette.Repair, 0.4)
	existingOf   = drawing.Tint(palette.Level, 0.25)
	takenOf      = drawing.Tint(palette.Urgent, 0.18)
)

// pages sets all sheets. The layout says how many there are, so they are set twice.
func (h *sheets) pages() ([]*scene.Scene, error) {
	pages, err := h.set(1)
	if err != nil {
		return nil, err
	}
	return h.set(len(pages))
}

// set sets the sheets, which are so many.
func (h *sheets) set(of int) ([]*scene.Scene, error) {
	plan, err := h.plan(of)
	if err != nil {
		return nil, err
	}
	f := page.New(h.title(), plan.Width, plan.Height)
	f.Mark("Layout")
	f.Place(plan, scene.Point{})
	details := h.details()
	for i, d := range details {
		s, err := h.detail(d, i+1, i+2, of)
		if err != nil {
			return nil, err
		}
		f.Insert(s, fmt.Sprintf("Detail %d", i+1))
	}
	f.Add()
	h.drawSections(f)
	h.tables(f)
	f.Number(h.title(), caution.Design+" "+caution.Foot)
	return f.Pages, nil
}

// drawSections sets the sections, with their key.
func (h *sheets) drawSections(f *page.Flow) {
	if len(h.sections) == 0 {
		return
	}
	f.Heading("Sections", sectionHigh)
	f.Paragraph("Elevations are above or below the bench mark: "+h.walls.Mark.What+". A thickness is that of the new insulation.", page.Style{Size: textEm})
	f.Skip(1)
	h.sectionKey(f)
	for i := range h.sections {
		s := &h.sections[i]
		drawn, frame := h.profile(s, f.Width())
		f.Need(sectionHigh + textEm*page.Leading + 2)
		f.Line(s.caption(&frame), page.Style{Size: textEm, Bold: true})
		f.Skip(1)
		f.Place(drawn, scene.Point{X: page.Margin, Y: f.Y()})
		f.Skip(sectionHigh + 2)
	}
}

// sectionKey explains lines and fills.
func (h *sheets) sectionKey(f *page.Flow) {
	s := &scene.Scene{}
	l := s.Layer("key")
	x := 0.0
	row := func(text string, draw func(r scene.Rect)) {
		draw(scene.Rect{X: x, Y: 0, W: 8, H: 3})
		put(l, text, x+9.5, 2.5, textEm, false, scene.Start)
		x += 9.5 + l.Texts[len(l.Texts)-1].Width + 6
	}
	line := func(colour string, width float64, dash []float64) func(r scene.Rect) {
		return func(r scene.Rect) {
			l.Line(colour, width, dash, scene.Point{X: r.X, Y: r.Y + 1.5}, scene.Point{X: r.X + r.W, Y: r.Y + 1.5})
		}
	}
	fill := func(colour string) func(r scene.Rect) {
		return func(r scene.Rect) { l.Box(r, colour, palette.Level, 0.1) }
	}
	row("new surface", line(palette.Ink, 0.6, nil))
	row("surface as surveyed", line(palette.Ink, 0.25, []float64{1.5, 1}))
	row("new insulation", fill(insulationOf))
	if h.TakeOff.Cut > 1e-6 {
		row("taken out", fill(takenOf))
	}
	if len(h.Book.Study.Roof.Cores) > 0 {
		row("deck from cores", line(palette.Level, 0.7, nil))
	}
	f.Place(s, scene.Point{X: page.Margin, Y: f.Y()})
	f.Skip(6)
}

// tables sets all that is listed.
func (h *sheets) tables(f *page.Flow) {
	t := h.TakeOff
	h.quantities(f)
	h.boardTable(f)
	h.planes(f)
	h.courses(f)
	h.measured(f)
	h.strips(f)
	h.thermal(f)
	h.limits(f)
	h.setOut(f)
	h.list(f, "What is done", h.changes())
	h.approvals(f)
	h.list(f, "Allowed for", h.texts(t.Allowances))
	h.list(f, "Left out", h.texts(t.Exclusions))
	h.alternates(f)
	f.Heading("Status", 20)
	f.Paragraph(caution.Design+" Boards are ordered after the deck, the outlets and all heights were measured again. Numbers are compared with limits; this says neither that a structure carries the work nor that a code is met.", page.Style{Size: textEm, Bold: true})
	h.list(f, "Cautions", caution.Texts(h.Book.Study.Cautions))
}

func (h *sheets) list(f *page.Flow, heading string, texts []string) {
	if len(texts) == 0 {
		return
	}
	f.Heading(heading, 12)
	f.Bullets(texts, page.Style{Size: textEm})
}

// quantities sets the items, with prices where there are any.
func (h *sheets) quantities(f *page.Flow) {
	t := h.TakeOff
	if len(t.Items) == 0 {
		return
	}
	f.Heading("Quantities", 30)
	table := &page.Table{Size: tableEm, Columns: []page.Column{{Head: "what"}, {Head: "quantity", Right: true}, {Head: "note"}}}
	if t.Priced {
		table.Columns = append(table.Columns, page.Column{Head: "price", Right: true}, page.Column{Head: "cost", Right: true})
	}
	for i := range t.Items {
		it := &t.Items[i]
		row := []string{h.u.SayText(it.What), h.amount(it), h.u.SayText(it.Note)}
		if t.Priced {
			row = append(row, "", "")
			if it.Priced {
				row[3], row[4] = h.money(it.Unit)+" "+strings.ReplaceAll(it.Per, "_", " "), h.money(it.Cost)
			}
		}
		table.Rows = append(table.Rows, row)
	}
	if t.Priced {
		table.Rows = append(table.Rows, []string{"sum of what has a price, by the user's prices", "", "", "", h.money(t.Cost)})
	}
	f.Table(table)
	f.Skip(1)
	if t.Volume > 0 {
		f.Paragraph(fmt.Sprintf("New insulation: %s, %s on average, %s at the thickest place; %s, %s on average and %s there (foam alone).",
			t.Material, h.u.SayDepth(t.Average), h.u.SayDepth(t.Greatest), h.u.SayMass(t.Mass), h.u.SayPressure(t.Load), h.u.SayPressure(t.GreatestLoad)), page.Style{Size: textEm})
	}
}

func (h *sheets) money(v float64) string {
	text := fmt.Sprintf("%.2f", v)
	for i := len(text) - 6; i > 0; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return strings.TrimSpace(h.TakeOff.Money + " " + text)
}

// amount writes the quantity of an item.
func (h *sheets) amount(i *takeoff.Item) string {
	switch i.Measure {
	case takeoff.Area:
		return h.u.SayArea(i.Value)
	case takeoff.Solid:
		return h.u.SaySolid(i.Value)
	case takeoff.Length:
		return h.u.SayLength(i.Value)
	case takeoff.Pieces:
	}
	return fmt.Sprintf("%.0f", i.Value)
}
