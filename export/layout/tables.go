package layout

import (
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/correction"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/takeoff"
	"runnel/export/page"
	"runnel/export/record"
)

func (h *sheets) texts(list []finding.Text) []string { return gather.Each(list, h.u.SayText) }

// sentence begins with a capital and ends with a full stop, a question with its mark.
func sentence(s string) string {
	if s == "" {
		return s
	}
	if s = record.Capital(s); !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") {
		s += "."
	}
	return s
}

// boardTable sets the schedule of boards.
func (h *sheets) boardTable(f *page.Flow) {
	b := h.TakeOff.Boards
	if b == nil {
		return
	}
	f.Heading("Boards", least)
	t := &page.Table{Size: tableEm, Columns: []page.Column{
		{Head: "board, by its two edges"}, {Head: "whole", Right: true}, {Head: "cut", Right: true}, {Head: "to order", Right: true}, {Head: "area covered", Right: true}, {Head: "in place", Right: true},
	}}
	whole, cut, order, volume := 0, 0, 0, 0.0
	for i := range b.Schedule {
		r := &b.Schedule[i]
		t.Rows = append(t.Rows, []string{h.kindText(r.Kind), fmt.Sprint(r.Whole), fmt.Sprint(r.Cut), fmt.Sprint(r.Boards), h.u.SayArea(r.Area), h.u.SaySolid(r.Volume)})
		whole, cut, order, volume = whole+r.Whole, cut+r.Cut, order+r.Boards, volume+r.Volume
	}
	if len(b.Schedule) > 1 {
		t.Rows = append(t.Rows, []string{"all boards", fmt.Sprint(whole), fmt.Sprint(cut), fmt.Sprint(order), "", h.u.SaySolid(volume)})
	}
	f.Table(t)
	f.Skip(1)
	f.Paragraph(fmt.Sprintf("Boards %s along the fall by %s. To order: pieces and %s on top. Saw cuts: %s.",
		h.u.SayLength(float64(b.Stock.Length)), h.u.SayLength(float64(b.Stock.Width)), record.SayShare(b.Waste), h.u.SayLength(b.Cuts)), page.Style{Size: textEm})
}

// mostPlanes is how many planes the table lists.
const mostPlanes = 80

// fieldName names a plane of the new surface on the layout and in the tables: T for taper, since P is a pond.
func fieldName(i int) string { return fmt.Sprintf("T%d", i+1) }

// planes sets one row for each new plane.
func (h *sheets) planes(f *page.Flow) {
	t := &page.Table{Size: tableEm, Columns: []page.Column{
		{Head: "plane"}, {Head: "for"}, {Head: "area", Right: true}, {Head: "finished slope", Right: true}, {Head: "taper of insulation", Right: true}, {Head: "from", Right: true}, {Head: "to", Right: true}, {Head: "insulation", Right: true}, {Head: "made of"},
	}}
	left := 0
	for i := range h.TakeOff.Fields {
		fd := &h.TakeOff.Fields[i]
		if !fd.Laid { // the built-up ones stand together below
			continue
		}
		if len(t.Rows) == mostPlanes {
			left++
			continue
		}
		facet := &h.design.Facets[fd.Facet]
		made, taper := "boards", h.rate(fd.Rate)
		if fd.Rate == 0 {
			taper = "none: flat"
		}
		if fd.OnDeck {
			made += ", on the deck"
		}
		t.Rows = append(t.Rows, []string{
			fieldName(i), strings.TrimPrefix(string(fd.Use), "re-tapered "), h.u.SayArea(fd.Area), h.rate(vector.Norm(facet.DX, facet.DY)), taper,
			h.thickness(fd.Thinnest), h.thickness(fd.Thickest), h.u.SaySolid(fd.Volume), made,
		})
	}
	if len(t.Rows) == 0 {
		return
	}
	f.Heading("Planes", least)
	if len(t.Rows) > mostHalf {
		t, note := alikeDropped(t)
		f.Table(abreast(t))
		if note != "" {
			f.Line("All of them: "+note+".", page.Style{Size: textEm})
		}
	} else {
		f.Table(t)
	}
	if left > 0 {
		f.Line("and "+record.Plural(left, "smaller plane")+".", page.Style{Size: textEm, Bold: true})
	}
	if told := strings.TrimSpace(h.coursesTold() + " " + h.stripsTold()); told != "" {
		f.Paragraph(told, page.Style{Size: textEm})
	}
}

// rate writes a slope for a column: 0.25"/ft, or 2.08 %.
func (h *sheets) rate(slope float64) string {
	return choose.If(h.u == record.US, fmt.Sprintf("%.2f\"/ft", slope*12), h.u.SaySlope(slope))
}

// measured sets what no board fits; a cut alone takes no insulation and stands among the quantities.
func (h *sheets) measured(f *page.Flow) {
	t := &page.Table{Size: tableEm, Columns: []page.Column{
		{Head: "for"}, {Head: "planes"}, {Head: "area", Right: true}, {Head: "insulation", Right: true}, {Head: "taken out", Right: true}, {Head: "thickness"}, {Head: "why no boards are counted"},
	}}
	for i := range h.TakeOff.Measured {
		m := &h.TakeOff.Measured[i]
		if m.Volume < nought {
			continue
		}
		cut := choose.If(m.Cut > nought, h.u.SaySolid(m.Cut), "")
		t.Rows = append(t.Rows, []string{
			string(m.Use), h.planesOf(m), h.u.SayArea(m.Area), h.u.SaySolid(m.Volume), cut, h.thickness(m.Thinnest) + " to " + h.thickness(m.Thickest), h.u.SayText(m.Why),
		})
	}
	if len(t.Rows) == 0 {
		return
	}
	f.Heading("Built up or cut to measure", least)
	f.Table(t)
}

// nought is the volume under which nothing is built or taken out [m3]: rounding stays below it.
const nought = 1e-6

// planesOf names the planes of a patch; of many only how many.
func (h *sheets) planesOf(m *takeoff.Measured) string {
	if m.Mesh || len(m.Fields) > 6 {
		return record.Plural(len(m.Fields), "facet")
	}
	return strings.Join(gather.Each(m.Fields, fieldName), ", ")
}

func (h *sheets) strips(f *page.Flow) {
	if len(h.TakeOff.Strips) <= fewStrips {
		return
	}
	f.Heading("Tapered edge strips", least)
	t := &page.Table{Size: tableEm, Columns: []page.Column{{Head: "plane"}, {Head: "length", Right: true}, {Head: "wide on average", Right: true}, {Head: "from", Right: true}, {Head: "to", Right: true}}}
	for _, s := range h.TakeOff.Strips {
		t.Rows = append(t.Rows, []string{fieldName(s.Field), h.u.SayLength(s.Length), h.u.SayDepth(s.Wide), h.thickness(s.From), h.thickness(s.To)})
	}
	f.Table(t)
}

// fewStrips is how many edge strips are told in a line under the planes instead of in a table.
const fewStrips = 2

// stripsTold says what edge strips there are where they are few; empty where a table does.
func (h *sheets) stripsTold() string {
	if len(h.TakeOff.Strips) > fewStrips {
		return ""
	}
	var out []string
	for _, s := range h.TakeOff.Strips {
		out = append(out, fmt.Sprintf("Edge strips of %s: %s long, %s wide on average, from %s to %s thick.",
			fieldName(s.Field), h.u.SayLength(s.Length), h.u.SayDepth(s.Wide), h.thickness(s.From), h.thickness(s.To)))
	}
	return strings.Join(out, " ")
}

// r writes a thermal resistance.
func (h *sheets) r(v float64) string {
	return choose.If(h.u == record.US, fmt.Sprintf("R-%.1f", v/quantity.RUnit), fmt.Sprintf("%.2f m²K/W", v))
}

func (h *sheets) thermal(f *page.Flow) {
	th := &h.TakeOff.Thermal
	if h.TakeOff.Area == 0 || !th.New.Known && !th.Before.Known { // the limits say that it is not known
		return
	}
	f.Heading("Thermal resistance", least)
	t := &page.Table{Size: tableEm, Columns: []page.Column{
		{Head: "of"}, {Head: "thinnest place", Right: true}, {Head: "thickest place", Right: true}, {Head: "by average thickness", Right: true}, {Head: "true, by average U", Right: true},
	}}
	missing := ""
	for _, x := range []struct {
		name string
		r    *takeoff.Resistance
	}{{"roof before", &th.Before}, {"roof after", &th.After}, {"new insulation alone, on its area", &th.New}} {
		switch {
		case x.r.Known:
			t.Rows = append(t.Rows, []string{x.name, h.r(x.r.Least), h.r(x.r.Greatest), h.r(x.r.Average), h.r(x.r.True)})
		case x.r != &th.New && !strings.Contains(missing, x.r.Why):
			missing += " " + sentence(x.name+" not known: "+x.r.Why)
		}
	}
	f.Table(t)
	f.Skip(1)
	text := strings.TrimSpace(missing+" Without air films, dry and sound.") + " New insulation: " + h.TakeOff.Material + ", " + h.perThickness(th.PerMetre) + " (" + th.Source + ")."
	if note := h.u.SayText(th.Note); note != "" {
		text += " " + sentence(note)
	}
	if th.Reduced {
		text += " At the worst place " + h.r(th.Lost) + " of " + h.r(th.LostFrom) + " goes: the energy authority decides."
	}
	f.Paragraph(text, page.Style{Size: smallEm})
}

func (h *sheets) perThickness(v float64) string {
	if h.u == record.US {
		return fmt.Sprintf("R-%.2f per inch", v/float64(quantity.ResistivityPerInch))
	}
	return fmt.Sprintf("%.4f W/(m K)", 1/v)
}

// limits sets every limit: what is asked, what there is, where, who decides; then once where each stands.
func (h *sheets) limits(f *page.Flow) {
	t := &page.Table{Size: tableEm, Columns: []page.Column{{Head: "limit"}, {Head: "result"}, {Head: "asked for"}, {Head: "there is"}, {Head: "decides"}}}
	h.eachLimit(func(result string, l *correction.Limit) {
		name := l.Name
		if l.Where != "" {
			name += " at " + l.Where
		}
		t.Rows = append(t.Rows, []string{name, result, h.value(l.Required), h.value(l.Available), l.Decides})
	})
	if len(t.Rows) == 0 {
		return
	}
	f.Heading("Limits", least)
	f.Table(t)
}

// limitSources says where the limits stand, each once.
func (h *sheets) limitSources(f *page.Flow) {
	var names, sources []string
	h.eachLimit(func(_ string, l *correction.Limit) {
		if !slices.Contains(names, l.Name) {
			names = append(names, l.Name)
			sources = append(sources, sentence(l.Name+": "+l.Source))
		}
	})
	if len(names) > 0 {
		f.Heading("Where the limits stand", least)
		h.small(f, sources)
	}
}

// eachLimit visits the limits of the option: those that it breaks, those of which something is not known, and those that it keeps.
func (h *sheets) eachLimit(visit func(result string, l *correction.Limit)) {
	for _, group := range []struct {
		name string
		list []correction.Limit
	}{{"BROKEN", h.option.Limits}, {"not known", h.option.Unknown}, {"kept", h.option.Checked}} {
		for i := range group.list {
			visit(group.name, &group.list[i])
		}
	}
}

func (h *sheets) value(q finding.Quantity) string {
	if q.Name == "" {
		return "not measured"
	}
	return q.Name + " " + h.u.Say(q)
}

func (h *sheets) approvals(f *page.Flow) {
	if len(h.TakeOff.Approvals) == 0 {
		return
	}
	f.Heading("Approvals needed", least)
	facts := &page.Facts{Style: page.Style{Size: textEm}, Words: 38, Gap: 1}
	for _, a := range h.TakeOff.Approvals {
		facts.Rows = append(facts.Rows, [2]string{a.Who, h.u.SayText(a.Why)})
	}
	f.Facts(facts)
}
