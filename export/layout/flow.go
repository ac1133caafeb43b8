package layout

import (
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/correction/mend"
	"runnel/analysis/takeoff"
	"runnel/export/caution"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
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

// pages sets all sheets, with smaller details where that takes a sheet less. The layout says how many there are, so they are set again.
func (h *sheets) pages() ([]*scene.Scene, error) {
	pages, err := h.set(1)
	if err != nil {
		return nil, err
	}
	if most := h.detailRoom; len(h.details()) > 0 {
		h.detailRoom = leastForDetails
		fewer, err := h.set(1)
		if err != nil {
			return nil, err
		}
		if len(fewer) < len(pages) {
			pages = fewer
		} else {
			h.detailRoom = most
		}
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
	if len(h.option.Changes) > 0 { // else the plan of the check shows all there is
		f.Insert(plan, "Layout")
	}
	if blocks := append(h.drawings(), h.tables(told)...); len(blocks) > 0 {
		f.Add()
		pack(f, blocks)
	}
	f.Number(h.title(), caution.Design+" "+caution.Foot)
	return f.Pages, nil
}

// drawings returns details and sections.
func (h *sheets) drawings() []block {
	var all []block
	if len(h.details()) > 0 {
		all = append(all, block{set: h.drawDetails})
	}
	for i := range h.sections {
		all = append(all, block{set: func(f *page.Flow) { h.drawSection(f, i) }})
	}
	return all
}

// drawSection sets one section; the first has the heading and the key over it.
func (h *sheets) drawSection(f *page.Flow, i int) {
	const row = sectionHigh + textEm*page.Leading + 3
	if i == 0 {
		f.Heading("Sections", least)
		text := "Elevations are above or below the bench mark: " + h.walls.MarkPlace() + "."
		if h.TakeOff.Volume > nought {
			text += " A thickness is that of the " + h.laidWord() + "."
		}
		f.Paragraph(text, page.Style{Size: textEm})
		f.Skip(1)
		h.sectionKey(f)
	}
	s := &h.sections[i]
	drawn, frame := h.profile(s, f.Width())
	f.Need(row)
	caption := &scene.Scene{}
	put(caption.Layer("caption"), shortened(s.caption(&frame), f.Width()), 0, textEm, textEm, true, scene.Start)
	f.Place(caption, scene.Point{X: f.X(), Y: f.Y()})
	f.Place(drawn, scene.Point{X: f.X(), Y: f.Y() + textEm*page.Leading + 1})
	f.Skip(row)
}

// sectionKey explains lines and fills.
func (h *sheets) sectionKey(f *page.Flow) {
	s := &scene.Scene{}
	l := s.Layer("key")
	x, y := 0.0, 0.0
	wide := f.Width()
	row := func(text string, draw func(r scene.Rect)) {
		if x > 0 && x+9.5+typeface.Width(text, textEm, false) > wide {
			x, y = 0, y+5
		}
		draw(scene.Rect{X: x, Y: y, W: 8, H: 3})
		put(l, text, x+9.5, y+2.5, textEm, false, scene.Start)
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
	if h.TakeOff.Volume > nought {
		row(h.laidWord(), fill(insulationOf))
	}
	if h.TakeOff.Cut > 1e-6 {
		row("taken out", fill(takenOf))
	}
	if len(h.Book.Study.Roof.Cores) > 0 {
		row("deck from cores", line(palette.Level, 0.7, nil))
	}
	f.Place(s, scene.Point{X: f.X(), Y: f.Y()})
	f.Skip(y + 6)
}

// tables returns all that is listed, and the cautions where the first sheet had no room for them. A roof on which nothing is built has no lists.
func (h *sheets) tables(told bool) []block {
	t := h.TakeOff
	var all []block
	if t.Area > 0 || len(t.Items) > 0 {
		all = []block{
			{set: h.quantities}, {set: h.boardTable}, {set: h.levelling}, {wide: len(h.TakeOff.Laid) > mostHalf, set: h.planes}, {wide: h.coursesCount() > mostHalf, set: h.courses}, {set: h.measured}, {set: h.strips},
		}
		wide := h.listed() > mostHalf && len(h.corners) > mostHalf
		if !wide {
			all = append(all, block{set: h.setOut})
		}
		if all = append(all, block{set: h.thermal}, block{set: h.limits}, block{set: h.limitSources, after: true}, block{set: h.allowed}, block{set: h.leftOut}); wide {
			all = append(all, block{wide: true, set: h.setOut})
		}
	}
	if !told {
		all = append(all, block{wide: true, set: h.cautions})
	}
	return all
}

// mostHalf is how many rows a table has that stands in half the width.
const mostHalf = 32

// allowed says what the quantities allow for, leftOut what they leave out.
func (h *sheets) allowed(f *page.Flow) {
	f.Heading("Allowed for", least)
	h.small(f, h.texts(h.TakeOff.Allowances))
}

func (h *sheets) leftOut(f *page.Flow) {
	f.Heading("Left out", least)
	h.small(f, h.texts(h.TakeOff.Exclusions))
}

// smallEm is the size of what is read once [mm].
const smallEm = 2.4

// small sets texts that are read once, one after the other.
func (h *sheets) small(f *page.Flow, texts []string) {
	if len(texts) == 0 {
		return
	}
	f.Paragraph(strings.Join(texts, " "), page.Style{Size: smallEm})
}

// smallestEm is the least size of cautions, where they would else take a sheet of their own [mm].
const smallestEm = 2.15

// cautions sets what holds for all work on a roof, in two columns.
func (h *sheets) cautions(f *page.Flow) { h.cautionsAt(smallEm)(f) }

func (h *sheets) cautionsAt(size float64) func(f *page.Flow) {
	return func(f *page.Flow) {
		f.Heading("Cautions", least)
		twoColumns(f, h.cautionTexts(), page.Style{Size: size})
	}
}

func (h *sheets) cautionTexts() []string {
	return append([]string{
		caution.Design + " Order boards after the deck, the outlets and all heights were measured again. Numbers are compared with limits; this says neither that a structure carries the work nor that a code is met.",
	}, caution.Texts(h.Book.Study.Cautions)...)
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
	f.Heading("Quantities", least)
	if t.Priced {
		h.priced(f)
	} else {
		table := &page.Table{Size: tableEm, Columns: []page.Column{{Head: "what"}, {Head: "quantity", Right: true}, {Head: "note"}}}
		for i := range t.Items {
			it := &t.Items[i]
			table.Rows = append(table.Rows, []string{h.u.SayText(it.What), h.amount(it), h.u.SayText(it.Note)})
		}
		f.Table(table)
	}
	f.Skip(1)
	if t.Volume > 0 {
		f.Paragraph(fmt.Sprintf("New insulation: %s over %s, %s thick on average, %s at the thickest place; %s in all, %s at the thickest place, without covering and fastening.",
			t.Material, h.u.SayArea(t.Covered), h.u.SayDepth(t.Average), h.u.SayDepth(t.Greatest), h.u.SayMass(t.Mass), h.u.SayPressure(t.GreatestLoad))+h.instead(), page.Style{Size: textEm})
	}
}

// instead says that new insulation which takes the place of what comes out is counted from the bottom of that.
func (h *sheets) instead() string {
	if h.option.Kind == mend.Replace || !slices.ContainsFunc(h.TakeOff.Fields, func(f takeoff.Field) bool { return f.OnDeck }) {
		return ""
	}
	return " Where old insulation comes out, new is counted from the bottom of that; " + h.u.SayDepth(h.TakeOff.Highest) + " of it stand above the old roof at most."
}

// priced sets the items with prices and costs, and the notes under them.
func (h *sheets) priced(f *page.Flow) {
	t := h.TakeOff
	bare := func(v float64) string { return strings.TrimSpace(strings.TrimPrefix(h.money(v), t.Money)) }
	head := func(what string) string { return strings.TrimSuffix(what+", "+t.Money, ", ") }
	table := &page.Table{Size: tableEm, Columns: []page.Column{{Head: "what"}, {Head: "quantity", Right: true}, {Head: head("price"), Right: true}, {Head: head("cost"), Right: true}}}
	var notes []string
	for i := range t.Items {
		it := &t.Items[i]
		row := []string{h.u.SayText(it.What), h.amount(it), "", ""}
		if it.Priced {
			row[2], row[3] = bare(it.Unit)+" "+strings.ReplaceAll(it.Per, "_", " "), bare(it.Cost)
		}
		table.Rows = append(table.Rows, row)
		if note := h.u.SayText(it.Note); note != "" {
			notes = append(notes, sentence(row[0]+": "+note))
		}
	}
	table.Rows = append(table.Rows, []string{"sum of what has a price, by the user's prices", "", "", bare(t.Cost)})
	f.Table(table)
	f.Skip(1)
	h.small(f, notes)
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
