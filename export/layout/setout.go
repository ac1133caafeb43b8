package layout

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/page"
	"runnel/export/record"
)

// listed is how many corners the set-out lists: of small changes the outline and the deepest places are enough.
func (h *sheets) listed() int {
	switch {
	case h.local:
		return 22
	case len(h.TakeOff.Laid) == 0 && h.option.Gauge == "":
		return mostHalf // a surface that follows the old one has no planes to set out
	}
	return 150
}

// setOut sets the corners of the new planes for the crew.
func (h *sheets) setOut(f *page.Flow) {
	if len(h.corners) == 0 {
		return
	}
	f.Heading("Set-out of the new surface", least)
	w := h.walls
	f.Paragraph(fmt.Sprintf("Plan distances square to wall A, the %s, and wall B, the %s. Heights from the bench mark: %s. Numbers as on the layout.%s",
		w.Walls[0].Name, w.Walls[1].Name, w.MarkPlace(), w.MarkDoubt()), page.Style{Size: textEm})
	f.Skip(1)
	columns := []page.Column{
		{Head: "no.", Right: true}, {Head: "at"}, {Head: "from wall A", Right: true}, {Head: "from wall B", Right: true}, {Head: "new surface", Right: true}, {Head: "as surveyed", Right: true}, {Head: h.thicknessHead(), Right: true},
	}
	n := min(h.listed(), len(h.corners))
	rows := make([][]string, n)
	for i := range rows {
		rows[i] = h.setOutRow(i)
	}
	t := &page.Table{Size: setOutEm, Columns: columns, Rows: rows}
	if !slices.ContainsFunc(rows, func(r []string) bool { return r[1] != "" }) {
		t = without(t, 1)
	}
	if n > mostHalf {
		t = abreast(t)
	}
	f.Table(t)
	if left := len(h.corners) - n; left > 0 {
		f.Line(fmt.Sprintf("and %d more: the corrected roof file has all.", left), page.Style{Size: textEm, Bold: true})
	}
}

// thicknessHead is the head over the thickness of new insulation, or over how much the surface goes up or down.
func (h *sheets) thicknessHead() string {
	return choose.If(h.option.Kind == mend.Replace, "thickness", "up, or cut")
}

// without leaves out column k.
func without(t *page.Table, k int) *page.Table {
	out := &page.Table{Size: t.Size, Columns: slices.Delete(slices.Clone(t.Columns), k, k+1)}
	for _, r := range t.Rows {
		out.Rows = append(out.Rows, slices.Delete(slices.Clone(r), k, k+1))
	}
	return out
}

// alikeDropped leaves out the columns of a table in which all rows say the same, and says what that is.
func alikeDropped(t *page.Table) (out *page.Table, note string) {
	out = t
	for k := len(t.Columns) - 1; k > 0; k-- {
		same := t.Rows[0][k]
		if slices.ContainsFunc(t.Rows, func(r []string) bool { return r[k] != same }) {
			continue
		}
		if out = without(out, k); same != "" {
			note = strings.TrimSuffix(t.Columns[k].Head+" "+same+", "+note, ", ")
		}
	}
	return out, note
}

// abreast sets the second half of a table's rows beside the first.
func abreast(t *page.Table) *page.Table {
	out := &page.Table{Size: t.Size, Columns: append(slices.Clone(t.Columns), t.Columns...)}
	half := (len(t.Rows) + 1) / 2
	for i := range half {
		row := slices.Clone(t.Rows[i])
		if i+half < len(t.Rows) {
			row = append(row, t.Rows[i+half]...)
		}
		out.Rows = append(out.Rows, append(row, make([]string, len(out.Columns)-len(row))...))
	}
	return out
}

// setOutEm is the size of the set-out, which stands in two columns [mm].
const setOutEm = 2.5

func (h *sheets) setOutRow(i int) []string {
	c := &h.corners[i]
	a, b := h.walls.square(c.plan)
	up := h.thickness(c.thickness)
	if up == "0" {
		up = "flush"
	}
	return []string{fmt.Sprint(i + 1), h.thingAt(c.plan), h.tape(a), h.tape(b), h.relative(c.z), h.relative(c.was), up}
}

// thingAt names the outlet that stands at a place.
func (h *sheets) thingAt(p orb.Point) string {
	for i := range h.outlets() {
		if o := &h.outlets()[i]; o.Type != roof.EdgeOutlet && vector.Distance(o.Plan, p) < 2*sameCorner {
			return o.Label
		}
	}
	return ""
}

// tape writes a distance as a tape is read.
func (h *sheets) tape(metres float64) string {
	if h.u == record.US {
		return quantity.FeetInches(quantity.Length(metres))
	}
	text := fmt.Sprintf("%.3f m", metres)
	return choose.If(text == "-0.000 m", "0.000 m", text)
}
