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
	told := h.first(f)
	f.Insert(plan, "Layout")
	if h.TakeOff.Area > 0 || len(h.TakeOff.Items) > 0 || !told {
		f.Add()
		h.drawDetails(f)
		h.drawSections(f)
		h.tables(f, told)
	}
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
	wide, row := h.sectionWide(f), 0.0
	for i := range h.sections {
		s := &h.sections[i]
		drawn, frame := h.profile(s, wide)
		if i%h.abreast() == 0 {
			f.Skip(row)
			row = sectionHigh + textEm*page.Leading + 3
			f.Need(row)
		}
		x := page.Margin + float64(i%h.abreast())*(wide+detailGap)
		caption := &scene.Scene{}
		put(caption.Layer("caption"), shortened(s.caption(&frame), wide), 0, textEm, textEm, true, scene.Start)
		f.Place(caption, scene.Point{X: x, Y: f.Y()})
		f.Place(drawn, scene.Point{X: x, Y: f.Y() + textEm*page.Leading + 1})
	}
	f.Skip(row)
}

// abreast is how many sections stand side by side: those of small changes are short.
func (h *sheets) abreast() int {
	const most = 3
	if h.local {
		return max(1, min(most, len(h.sections)))
	}
	return 1
}

// sectionWide is how wide a section is drawn [mm].
func (h *sheets) sectionWide(f *page.Flow) float64 {
	n := float64(h.abreast())
	return (f.Width() - (n-1)*detailGap) / n
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

// tables sets all that is listed, and the cautions where the first sheet had no room for them.
func (h *sheets) tables(f *page.Flow, told bool) {
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
	f.Heading("Allowed for, and left out", 10)
	h.small(f, "Allowed for: ", h.texts(t.Allowances))
	h.small(f, "Left out: ", h.texts(t.Exclusions))
	if !told {
		h.cautions(f)
	}
}

// smallEm is the size of what is read once [mm].
const smallEm = 2.3

// small sets texts that are read once, one after the other.
func (h *sheets) small(f *page.Flow, before string, texts []string) {
	if len(texts) == 0 {
		return
	}
	f.Paragraph(before+strings.Join(texts, " "), page.Style{Size: smallEm})
}

// cautions sets what holds for all work on a roof.
func (h *sheets) cautions(f *page.Flow) {
	f.Heading("Cautions", 20)
	f.Bullets(append([]string{
		caution.Design + " Boards are ordered after the deck, the outlets and all heights were measured again. Numbers are compared with limits; this says neither that a structure carries the work nor that a code is met.",
	}, caution.Texts(h.Book.Study.Cautions)...), page.Style{Size: smallEm})
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
