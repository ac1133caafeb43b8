package correction

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/correction"
	"runnel/analysis/finding"
	"runnel/export/record"
	"runnel/export/text"
)

// told says what has to be found out first, what an answer then does, and what it leaves: a crew reads it from the top.
func (p *Proposal) told(l *text.Lines, i int) {
	a := &p.Result.Answers[i]
	o := &p.Result.Options[a.Option]
	u := p.Book.Units
	l.Heading(Title(p.Book, a.Name))
	if k := p.sameAs(i); k >= 0 {
		l.Paragraph(fmt.Sprintf("The same roof as answer %d.", k+1))
		p.reroofing(l, a)
		return
	}
	p.reroofing(l, a)
	for k := range a.Questions {
		q := &a.Questions[k]
		say := strings.TrimSuffix(u.SayText(p.Book.Study.KeepOff.Guard(finding.Say("Find out first:").And(q.Ask))), ".")
		if !strings.HasSuffix(say, "?") {
			say += "."
		}
		l.Bullet(say + " " + u.SayText(q.If) + ": " + record.Small(u.SayText(q.Then)) + ". " + record.Decides(q.Decides))
	}
	for k := range o.Changes {
		c := &o.Changes[k]
		say := choose.If(c.Pond != "", c.Pond+": ", "")
		say += strings.TrimSuffix(u.SayText(p.Book.Study.KeepOff.Guard(c.What)), ".") + "."
		if c.Opened > 0 {
			say += " Opens " + u.SayArea(c.Opened) + "."
		}
		if c.Decides != "" {
			say += " " + record.Decides(c.Decides)
		}
		l.Bullet(say)
	}
	if o.ToMeasure > 0 {
		l.Bullet("Boards in stock are what is drawn and counted. Planes cut to measure would take " + p.Book.Units.SaySolid(o.ToMeasure) + " instead, with no leveller: the exception, where heights leave no room for stock.")
	}
	if len(o.Changes) == 0 {
		l.Paragraph(NothingDone(p.Book))
	}
	if r := p.resistance(o, a.Option); r != "" {
		l.Paragraph(r)
	}
	p.compare(l, o)
	for _, left := range Leftovers(p.Book, a) {
		l.Bullet("Left: " + left)
	}
}

// reroofing says what the code asks at re-roofing and, apart from it, what is good practice.
func (p *Proposal) reroofing(l *text.Lines, a *correction.Answer) {
	for _, part := range []struct {
		head string
		list []finding.Text
	}{{"What the code asks", a.Asked}, {"Good practice", a.Practice}} {
		if len(part.list) > 0 {
			l.Paragraph(part.head + ":")
		}
		for _, t := range part.list {
			l.Bullet(p.Book.Units.SayText(t))
		}
	}
}

// compare lists what is worse, broken, to be allowed and not known of an option.
func (p *Proposal) compare(l *text.Lines, o *correction.Option) {
	for _, kind := range []struct {
		word string
		list []correction.Limit
	}{{"Worse than before", o.Worse}, {"Broken", o.Limits}, {"To be allowed", o.Flags}, {"Not known", o.Unknown}} {
		for k := range kind.list {
			said := kind.word + ": " + p.LimitSaid(&kind.list[k]) + "."
			if who := kind.list[k].Decides; who != "" {
				said += " " + record.Decides(who)
			}
			l.Bullet(said)
		}
	}
}

// others lists what was tried and not taken.
func (p *Proposal) others(l *text.Lines) {
	var rows [][]string
	for i := range p.Result.Options {
		o := &p.Result.Options[i]
		if o.Answer != "" {
			continue
		}
		if row := []string{p.Said(i), p.notTaken(o)}; !slices.ContainsFunc(rows, func(r []string) bool { return slices.Equal(r, row) }) {
			rows = append(rows, row)
		}
	}
	if len(rows) > 0 {
		l.Heading("Tried and not taken")
		l.Table(append([][]string{{"option", "why not"}}, rows...))
	}
}

// bound says what a full taper would take.
func (p *Proposal) bound() string {
	b := &p.Result.Bound
	if b.Fill <= 0 {
		return ""
	}
	return "A full taper of " + p.Book.Units.SaySlope(b.Slope) + " over the roof as it is takes at least " + p.Book.Units.SaySolid(b.Fill) + "."
}

// resistance says what the thermal resistance of an answer's roof is before and after, where the surface changes: in the figures of the quantities and sheets.
func (p *Proposal) resistance(o *correction.Option, option int) string {
	t := p.thermalOf(option)
	switch {
	case o.Design == nil, t == nil:
		return ""
	case !t.Before.Known:
		return "Thermal resistance before and after: not known, " + t.Before.Why + "."
	case !t.After.Known:
		return "Thermal resistance after: not known, " + t.After.Why + "."
	}
	u := p.Book.Units
	text := fmt.Sprintf("Thermal resistance before and after, dry, without air films: %s and %s at the thinnest, %s and %s averaged over the roof",
		u.SayR(t.Before.Least), u.SayR(t.After.Least), u.SayR(t.Before.Average), u.SayR(t.After.Average))
	if t.Reduced {
		text += "; the place that loses most loses " + u.SayR(t.Lost)
	}
	return text + "."
}

// LimitSaid says a limit: where, what is required and what there is.
func (p *Proposal) LimitSaid(l *correction.Limit) string {
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
	return text
}

// sources says once where each limit that was named stands.
func (p *Proposal) sources(l *text.Lines) {
	var names, sources []string
	for i := range p.Result.Options {
		o := &p.Result.Options[i]
		if o.Answer == "" {
			continue
		}
		var approved []correction.Limit // kept, and named among the approvals
		for k := range o.Checked {
			if o.Checked[k].Decides == "engineer" {
				approved = append(approved, o.Checked[k])
			}
		}
		for _, list := range [][]correction.Limit{o.Worse, o.Limits, o.Flags, o.Unknown, approved} {
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
