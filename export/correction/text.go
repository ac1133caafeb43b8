package correction

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"runnel/analysis/correction"
	"runnel/analysis/finding"
	"runnel/export/caution"
	"runnel/export/text"
)

// WriteText writes the options as a page to read.
func WriteText(w io.Writer, p *Proposal) error {
	l := text.NewLines()
	name := p.Book.Study.Roof.Name
	l.Title("Corrections for " + name + " (" + p.Book.Names.Roof + ")")
	if first, ok := p.Book.KeepOff(); ok {
		l.Entry("FIRST", first.Say())
	}
	l.Entry("AS FOUND", p.asFound())
	l.Entry("BEST", p.best())
	if i := p.Chosen; i >= 0 && i != p.Result.Best {
		l.Entry("DRAWN", p.Name(i)+": it was asked for, or comes nearest.")
	}
	l.Entry("LEAST", p.bound())
	l.Entry("LIMIT", caution.Design+" No option says that the structure carries it, or that a code is met: numbers are compared with limits, and each limit's source is named. Not computed: condensation and vapour, wind uplift, fire listing.")
	l.Heading("Options side by side")
	l.Table(p.table())
	for i := range p.Result.Options {
		p.describe(l, i)
	}
	p.sources(l)
	p.amounts(l)
	_, err := w.Write(l.Bytes())
	return err
}

func (p *Proposal) asFound() string {
	s := p.Book.Study
	if len(s.Listed) == 0 {
		return "No pond is listed."
	}
	worst := &s.Ponds.Ponds[s.Listed[0].Pond]
	return fmt.Sprintf("%s; the worst is %s, %s deep over %s.", text.Plural(len(s.Listed), "pond"), s.Listed[0].ID, p.Book.Units.SayDepth(worst.Depth), p.Book.Units.SayArea(worst.Area))
}

// best says which option changes least of those that do, or what stands in the way.
func (p *Proposal) best() string {
	r := p.Result
	if r.Best >= 0 {
		o := &r.Options[r.Best]
		text := p.Name(r.Best) + ". After it the check lists no pond; it meets what could be compared"
		if open := p.open(o); open != "" {
			text += "; not compared: " + open + ". Settle this before it is chosen"
		}
		text += ". Of the options that do, it leaves least in doubt, then changes least. " + p.amount(o)
		if len(o.Decides) > 0 {
			text += " Decides: " + strings.Join(o.Decides, ", ") + "."
		}
		return text
	}
	if l := r.InTheWay; l != nil {
		return "No option meets. In the way stands " + p.sentence(l) + "."
	}
	return "No option meets: in each, ponds or flat planes are left. See below."
}

// open lists the limits that could not be compared, each with where, once.
func (p *Proposal) open(o *correction.Option) string {
	var names []string
	for i := range o.Unknown {
		name := o.Unknown[i].Name
		if o.Unknown[i].Where != "" {
			name += " at " + o.Unknown[i].Where
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, "; ")
}

// amount says how much is built up and cut.
func (p *Proposal) amount(o *correction.Option) string {
	u := p.Book.Units
	var parts []string
	if o.Fill > 0 {
		parts = append(parts, u.SaySolid(o.Fill)+" of fill over "+u.SayArea(o.Area)+", "+u.SayDepth(o.Average)+" on average and "+u.SayDepth(o.Greatest)+" at most")
	}
	if o.Cut > 0 {
		parts = append(parts, u.SaySolid(o.Cut)+" taken out, "+u.SayDepth(o.Deepest)+" at the deepest")
	}
	if len(parts) == 0 {
		return "No fill and no cut."
	}
	return strings.ToUpper(parts[0][:1]) + parts[0][1:] + strings.Join(append([]string{""}, parts[1:]...), "; ") + "."
}

func (p *Proposal) bound() string {
	b := &p.Result.Bound
	u := p.Book.Units
	text := "No taper of " + u.SaySlope(b.Slope)
	if b.Thickness > 0 {
		text += " with at least " + u.SayDepth(b.Thickness) + " everywhere"
	}
	text += " on the surface as it is takes less than " + u.SaySolid(b.Fill)
	if i := p.Result.Best; i >= 0 && b.Fill > 0 {
		if o := &p.Result.Options[i]; o.Fill > 0 && o.Slope >= b.Slope {
			return text + fmt.Sprintf("; the best option takes %s.", u.SaySolid(o.Fill))
		}
		return text + "; the best option changes less: it leaves the rest of the roof as it falls now."
	}
	return text + "."
}

// table sets the options side by side.
func (p *Proposal) table() [][]string {
	u := p.Book.Units
	rows := [][]string{{"option", "meets", "fill", "average", "greatest", "added load", "ponds left", "limits broken", "not known"}}
	for i := range p.Result.Options {
		o := &p.Result.Options[i]
		row := []string{p.Name(i), "-", "-", "-", "-", "-", "-", "-", "-"}
		if !o.Possible {
			row[1] = "not possible"
			rows = append(rows, row)
			continue
		}
		switch {
		case !o.Meets:
			row[1] = "no"
		case len(o.Unknown) > 0:
			row[1] = "as far as known"
		default:
			row[1] = "yes"
		}
		if o.Fill > 0 {
			row[2], row[3], row[4], row[5] = u.SaySolid(o.Fill), u.SayDepth(o.Average), u.SayDepth(o.Greatest), u.SayPressure(o.Most)
		}
		row[6], row[7], row[8] = fmt.Sprint(o.PondsLeft), fmt.Sprint(len(o.Limits)), fmt.Sprint(len(o.Unknown))
		rows = append(rows, row)
	}
	return rows
}

// describe says what one option changes and where it is bounded.
func (p *Proposal) describe(l *text.Lines, i int) {
	o := &p.Result.Options[i]
	u := p.Book.Units
	l.Heading(p.Name(i))
	if why := u.SayText(o.Why); why != "" {
		l.Paragraph(why)
	}
	if !o.Possible {
		return
	}
	if o.Fill > 0 || o.Cut > 0 {
		l.Paragraph(p.amount(o))
	}
	if o.Valley > 0 {
		l.Paragraph("Planes fall at " + u.SaySlope(o.Slope) + ", the flattest valley at " + u.SaySlope(o.Valley) + "." + p.searched(o))
	}
	if r := p.resistance(o); r != "" {
		l.Paragraph(r)
	}
	for k := range o.Changes {
		l.Bullet(u.SayText(o.Changes[k].What))
	}
	for k := range o.Limits {
		l.Bullet("Broken: " + p.compared(&o.Limits[k]) + ".")
	}
	for k := range o.Flags {
		l.Bullet("To be allowed: " + p.compared(&o.Flags[k]) + ".")
	}
	for k := range o.Unknown {
		l.Bullet("Not known: " + p.compared(&o.Unknown[k]) + ".")
	}
	if o.PondsLeft > 0 || o.FlatLeft > 0 {
		l.Bullet("Left: " + text.Plural(o.PondsLeft, "pond") + ", " + text.Plural(o.FlatLeft, "plane") + " under the criterion.")
	}
	if len(o.Decides) > 0 {
		l.Bullet("Decides: " + strings.Join(o.Decides, ", ") + ".")
	}
}

// searched says how many layouts were compared, and how far the one taken is from the least surface without boards.
func (p *Proposal) searched(o *correction.Option) string {
	say := ""
	if o.Tried > 0 {
		say = " The least of " + text.Plural(o.Tried, "combination") + " of slope and way to fall after which nothing is left, or the nearest."
	}
	if o.Least > 0 {
		say += fmt.Sprintf(" A surface that need not be built of boards takes %s at least; this is %.0f %% more.", p.Book.Units.SaySolid(o.Least), 100*(o.Fill/o.Least-1))
	}
	return say
}

// resistance says what the thermal resistance is before and after, where the surface changes.
func (p *Proposal) resistance(o *correction.Option) string {
	u, r := p.Book.Units, &o.R
	switch {
	case o.Design == nil, !r.Known && r.Why == "":
		return ""
	case !r.Known:
		return "Thermal resistance before and after: not known, " + r.Why + "."
	}
	text := fmt.Sprintf("Thermal resistance before and after, dry, without air films: %s and %s at the thinnest, %s and %s averaged over the roof",
		u.SayR(r.LeastBefore), u.SayR(r.LeastAfter), u.SayR(r.AverageBefore), u.SayR(r.AverageAfter))
	if r.Lost > 0 {
		text += "; the place that loses most loses " + u.SayR(r.Lost)
	}
	return text + "."
}

// sentence writes a limit with its source.
func (p *Proposal) sentence(l *correction.Limit) string {
	return p.compared(l) + " (" + strings.TrimSuffix(l.Source, ".") + ")"
}

// compared writes a limit: what is required, what there is, where and who decides.
func (p *Proposal) compared(l *correction.Limit) string {
	u := p.Book.Units
	text := l.Name
	if l.Where != "" {
		text += " at " + l.Where
	}
	if l.Required.Name != "" {
		text += ": " + l.Required.Name + " " + u.Say(l.Required)
	}
	if l.Available.Name != "" {
		text += ", " + l.Available.Name + " " + u.Say(l.Available)
	}
	if r, a := l.Required, l.Available; r.Name != "" && r.Dim == a.Dim && r.Value != a.Value && u.Say(r) == u.Say(a) {
		text += ", " + u.Say(finding.Quantity{Value: math.Abs(r.Value - a.Value), Dim: r.Dim}) + " apart"
	}
	if l.Decides != "" {
		text += "; decides: " + l.Decides
	}
	return text
}

// sources says once where each limit that was named stands.
func (p *Proposal) sources(l *text.Lines) {
	var names, sources []string
	for i := range p.Result.Options {
		o := &p.Result.Options[i]
		for _, list := range [][]correction.Limit{o.Limits, o.Flags, o.Unknown} {
			for k := range list {
				if !slices.Contains(names, list[k].Name) {
					names, sources = append(names, list[k].Name), append(sources, list[k].Source)
				}
			}
		}
	}
	if names == nil {
		return
	}
	l.Heading("Where the limits stand")
	for i, name := range names {
		l.Bullet(name + ": " + strings.TrimSuffix(sources[i], ".") + ".")
	}
}
