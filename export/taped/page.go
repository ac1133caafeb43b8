package taped

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/offset"
	"runnel/analysis/roof"
	"runnel/analysis/tape"
	"runnel/export/caution"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/text"
)

// page gathers the lines of the page.
type page struct {
	strings.Builder
	*Book
}

// Write writes the page: the answer on its first screen, then the tables, then what is to be minded.
func Write(w io.Writer, b *Book) error {
	p := &page{Book: b}
	p.first()
	p.walls()
	p.outlets()
	p.ponds()
	p.readings()
	p.slopes()
	p.cores()
	p.next()
	p.findings()
	p.end()
	_, err := io.WriteString(w, p.String())
	return err
}

func (p *page) entry(word, what string) {
	if what != "" {
		p.WriteString(text.Paragraph(text.Label(word), what))
	}
}

func (p *page) heading(word string) { p.WriteString("\n" + strings.ToUpper(word) + "\n") }

// first writes the first screen, in the order of every page.
func (p *page) first() {
	r := p.Survey.Roof
	name := r.Name
	if r.Building != "" && r.Building != r.Name {
		name = r.Building + ", " + name
	}
	if r.Surveyed != "" {
		name += ", surveyed " + r.Surveyed
	}
	name += " (tier " + p.Survey.Tier.String() + ")"
	p.WriteString(text.Paragraph("", name))
	p.WriteString(strings.Repeat("=", min(len([]rune(name)), 80)) + "\n")
	steps, from := p.Steps(), 0
	step := func(word string, i int) {
		p.WriteString(text.Paragraph(text.Label(word)+strconv.Itoa(i+1)+". ", steps[i]))
	}
	if p.Survey.KeepOff.Is() { // before all else, as on every page
		step(model.FirstOfAll, 0)
		from = 1
	}
	lead := p.Lead()
	p.entry(lead.Word, lead.Text)
	if lead.Word != "PONDS" && len(p.Survey.Ponds) > 0 {
		p.entry("PONDS", p.Ponds())
	}
	p.entry("HELD BY", p.Held())
	for i := from; i < len(steps); i++ {
		step(choose.If(i == from, "NEXT", ""), i)
	}
	p.entry("MEND", p.Mend())
	p.entry("SURVEY", p.Measured()+" It tells: "+record.Small(p.canSay())+" It cannot tell: "+record.Small(p.CannotSay())+" "+p.NextTier())
	p.entry("LIMIT", Limit)
}

// table writes rows of cells in columns, the first row being the heads.
func (p *page) table(rows [][]string) {
	var b strings.Builder
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		_, _ = fmt.Fprintln(t, "  "+strings.Join(r, "\t"))
	}
	_ = t.Flush()
	for l := range strings.Lines(b.String()) {
		p.WriteString(strings.TrimRight(l, " \n") + "\n")
	}
}

func (p *page) walls() {
	p.heading("Walls")
	rows := [][]string{{"wall", "faces", "length"}}
	for i := range p.Survey.Walls {
		w := &p.Survey.Walls[i]
		rows = append(rows, []string{strconv.Itoa(w.Number), offset.Names[w.Faces], p.Units.SayTape(w.Length)})
	}
	p.table(rows)
	p.WriteString(text.Paragraph("  ", "The roof covers "+p.Units.SayArea(p.Survey.Area)+"."))
}

func (p *page) outlets() {
	p.heading("Outlets")
	if len(p.Survey.Exits) == 0 {
		p.WriteString("  none recorded\n")
		return
	}
	rows := [][]string{{"outlet", "type", "duty", "where", "inlet"}}
	for i := range p.Survey.Exits {
		e := &p.Survey.Exits[i]
		duty := map[roof.Duty]string{roof.Primary: "primary", roof.Overflow: "overflow"}[e.Duty]
		if e.Outlet < 0 {
			rows = append(rows, []string{e.Name, map[roof.EdgeType]string{roof.Gutter: "gutter", roof.Free: "free"}[e.Edge], duty, "", ""})
			continue
		}
		o := &p.Survey.Roof.Outlets[e.Outlet]
		inlet := choose.If(o.HasInvert, p.Units.SayElevation(o.Invert), "not read")
		kind := map[roof.OutletType]string{roof.Drain: "drain", roof.Scupper: "scupper"}[o.Type]
		rows = append(rows, []string{e.Name, kind, duty, p.Units.SayText(p.Survey.Where(o.Plan)), inlet})
	}
	p.table(rows)
}

func (p *page) ponds() {
	if len(p.Survey.Ponds) == 0 {
		return
	}
	p.heading("Ponds seen")
	rows := [][]string{{"pond", "area", "deepest read", "volume", "weight", "likely", "load there", "from an outlet"}}
	for i := range p.Survey.Ponds {
		q := &p.Survey.Ponds[i]
		row := []string{q.ID, "not seen", "", "", "", "", "", p.toExit(q)}
		if q.Water != nil {
			row[1], row[2] = p.Units.SayArea(q.Bowl.Area), "none"
		}
		if q.Depth > 0 {
			row[2] = p.Units.SayDepth(q.Depth)
			row[3] = p.Units.SayVolume(q.Bowl.Least) + " to " + p.Units.SayVolume(q.Bowl.Most)
			row[4] = p.Units.SayMass(q.WeightLeast) + " to " + p.Units.SayMass(q.WeightMost)
			row[5], row[6] = p.Units.SayMass(q.Weight), p.Units.SayPressure(q.Load)
		}
		rows = append(rows, row)
	}
	p.table(rows)
	for i := range p.Survey.Ponds {
		if i > 0 {
			p.WriteString(text.Paragraph("  "+p.Survey.Ponds[i].ID+" held by: ", p.HeldBy(&p.Survey.Ponds[i])))
		}
	}
	p.WriteString(text.Paragraph("  ", "The least of a range is a bottom that runs straight from the edge to each depth that was read, the most a flat pan of those depths. "+
		"A lip stands at least as high as the water before it was deep."))
}

// readings lists the heights that were read for ponds, over the lowest of them.
func (p *page) readings() {
	low := math.Inf(1)
	for i := range p.Survey.Roof.Tape.Probes {
		low = min(low, p.Survey.Roof.Tape.Probes[i].Z)
	}
	for i := range p.Survey.Roof.Outlets {
		if o := &p.Survey.Roof.Outlets[i]; o.HasInvert {
			low = min(low, o.Invert)
		}
	}
	if math.IsInf(low, 1) {
		return
	}
	p.heading("Heights read")
	rows := [][]string{{"what", "where", "over the lowest of these"}}
	for i := range p.Survey.Roof.Outlets {
		if o := &p.Survey.Roof.Outlets[i]; o.HasInvert {
			rows = append(rows, []string{"inlet of " + o.Label, p.Units.SayText(p.Survey.Where(o.Plan)), p.Units.SayDepth(o.Invert - low)})
		}
	}
	for i := range p.Survey.Roof.Tape.Probes {
		q := &p.Survey.Roof.Tape.Probes[i]
		if what := tape.ProbeName(q); what != "" {
			rows = append(rows, []string{what, p.Units.SayText(p.Survey.Where(q.Plan)), p.Units.SayDepth(q.Z - low)})
		}
	}
	p.table(rows)
}

func (p *page) slopes() {
	if len(p.Survey.Slopes) == 0 {
		return
	}
	p.heading("Slopes measured with a level")
	rows := [][]string{{"where", "falls toward", "slope", "error"}}
	for i := range p.Survey.Slopes {
		s := &p.Survey.Slopes[i]
		way := offset.Names[offset.Point(s.Gap.Toward[0], s.Gap.Toward[1])]
		rows = append(rows, []string{p.Units.SayText(s.Where), way, p.Units.SaySlope(s.Slope), p.Units.SaySlope(s.Error)})
	}
	p.table(rows)
	p.WriteString(text.Paragraph("  ", "Each holds for the length of the level alone. New work must have "+p.Units.SaySlope(p.Survey.Criteria.MinSlopeNew)+"."))
}

func (p *page) cores() {
	if len(p.Survey.Cores.Cores) == 0 {
		return
	}
	p.heading("Cores, layers from the top")
	for i := range p.Survey.Cores.Cores {
		c := &p.Survey.Cores.Cores[i]
		thick, known := "", ""
		if c.HasThickness {
			thick = p.Units.SayDepth(c.Thickness) + " thick, give or take " + p.Units.SayDepth(c.Sigma) + ": "
		}
		if len(c.Flags) > 0 {
			known = " To be known: " + model.Flags(c) + "."
		}
		p.WriteString(text.Paragraph("  "+c.ID+"  ", thick+model.Layers(p.Units, c)+". "+p.Units.SayText(p.Survey.Where(c.Plan))+"."+known))
	}
}

// mostListed is how many spots the page lists; the file has them all.
const mostListed = 20

func (p *page) next() {
	if len(p.Survey.Next) == 0 {
		return
	}
	p.heading("Next spots")
	rows := [][]string{{"", "code", "place", "for"}}
	for i := range p.Survey.Next[:min(mostListed, len(p.Survey.Next))] {
		n := &p.Survey.Next[i]
		rows = append(rows, []string{strconv.Itoa(i + 1), n.Code, p.Place(n), p.Units.SayText(n.For)})
	}
	p.table(rows)
	if n := len(p.Survey.Next) - mostListed; n > 0 {
		_, _ = fmt.Fprintf(p, "  and %d more; -o FOLDER writes them all\n", n)
	}
}

func (p *page) findings() {
	p.heading("Findings")
	if len(p.Survey.Findings) == 0 {
		p.WriteString("  none\n")
	}
	for i := range p.Survey.Findings {
		f := &p.Survey.Findings[i]
		p.WriteString(text.Paragraph("  "+pad(FindingID(i), 5), strings.ToUpper(f.Severity.String())+": "+p.Units.SayText(f.What)+" ("+string(f.Kind)+", "+sure(f)+")"))
		for _, d := range [][2]string{
			{"where", p.Units.SayText(f.Where)},
			{"measured", p.Units.SayAll(f.Measured)},
			{"why", p.Units.SayText(f.Why)},
			{"do", p.Units.SayText(f.Do)},
			{"decides", f.Decides},
		} {
			if d[1] != "" {
				p.WriteString(text.Paragraph("       "+pad(d[0], 10), d[1]))
			}
		}
	}
}

// sure says how sure a finding is; none of a tape's rests on spots all over the roof.
func sure(f *finding.Finding) string {
	if f.Confidence == finding.Shown {
		return "shown"
	}
	return f.Confidence.String()
}

// FindingID returns the number of a finding, from the first.
func FindingID(i int) string { return fmt.Sprintf("N%02d", i+1) }

func pad(s string, n int) string { return s + strings.Repeat(" ", max(0, n-len(s))) }

func (p *page) end() {
	p.heading("Assumptions")
	for _, a := range p.assumptions() {
		p.WriteString(text.Paragraph("  - ", a))
	}
	if all := p.Survey.Roof.Warnings; len(all) > 0 {
		p.heading("Warnings")
		for _, w := range all {
			p.WriteString(text.Paragraph("  - ", w))
		}
	}
	p.heading("Cautions")
	for _, c := range caution.Texts(p.Survey.Cautions) {
		p.WriteString(text.Paragraph("  - ", c))
	}
}

func (b *Book) assumptions() []string {
	out := []string{"A pond's edge is a smooth curve through its chalk marks."}
	if b.Survey.Roof.Outline.EdgeAssumed {
		out = append(out, "No row says what the edges are, so they are assumed to be walls, which water cannot pass.")
	}
	for i := range b.Survey.Ponds {
		p := &b.Survey.Ponds[i]
		if p.Water == nil {
			continue
		}
		if p.Water.Oval {
			out = append(out, p.ID+" is drawn as an oval of its length and width.")
		}
		if p.Reordered {
			out = append(out, "The chalk marks of "+p.ID+" are not in order round the pond; they were taken as they turn about their middle.")
		}
		if n := len(p.Water.Soundings) - len(p.Bowl.Soundings); n > 0 {
			lie := fmt.Sprintf("%d of the depths of %s lie outside its chalked edge and were left out.", n, p.ID)
			if n == 1 {
				lie = "1 of the depths of " + p.ID + " lies outside its chalked edge and was left out."
			}
			out = append(out, lie)
		}
		if p.SpreadOver {
			out = append(out, "The heights on the edge of "+p.ID+" differ by "+b.Units.SayDepth(p.Spread)+", more than their error, and water is level: read them again. Their mean was taken.")
		}
	}
	return out
}

func worst(all []finding.Finding) string {
	if len(all) == 0 {
		return ""
	}
	return all[0].Severity.String()
}
