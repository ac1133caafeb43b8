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
	"runnel/export/record"
	"runnel/export/text"
)

// titles are the headings of the answers.
var titles = map[string]string{
	correction.MendNow:      "Mend the ponds now",
	correction.BringToLimit: "Bring the failing sections to the limit",
	correction.AtReroofing:  "What to do at re-roofing",
}

// Title returns the heading of an answer.
func Title(answer string) string { return titles[answer] }

// WriteText writes the answers as a page to read.
func WriteText(w io.Writer, p *Proposal) error {
	l := text.NewLines()
	name := p.Book.Study.Roof.Name
	l.Title("Corrections for " + name + " (" + p.Book.Names.Roof + ")")
	if first, ok := p.Book.KeepOff(); ok {
		l.Entry("FIRST", first.Say())
	}
	for _, r := range p.Result.EngineerFirst {
		say := p.Book.Units.SayText(r.Why) + " An engineer has to answer first."
		if !p.Book.Study.KeepOff.Is() {
			say += " Clearing and measuring go on."
		}
		l.Entry("ENGINEER", say)
	}
	l.Entry("AS FOUND", p.asFound())
	for i := range p.Result.Answers {
		l.Entry(fmt.Sprintf("ANSWER %d", i+1), p.short(i))
	}
	l.Entry("LIMIT", caution.Design+" No answer says that the structure carries it, or that a code is met: numbers are compared with limits, and each limit's source is named. Not computed: condensation and vapour, wind uplift, fire listing.")
	l.Heading("Answers side by side")
	l.Table(p.sideBySide())
	for i := range p.Result.Answers {
		p.told(l, i)
	}
	l.Heading("Order of preference")
	l.Paragraph("In the names that --prefer, --only and --forbid take: " + strings.Join(names(p.Result.Preference), ", ") + ".")
	l.Paragraph(p.bound())
	p.others(l)
	p.sources(l)
	p.amounts(l)
	l.Heading("Cautions")
	for _, c := range caution.Texts(p.Book.Study.Cautions) {
		l.Bullet(c)
	}
	_, err := w.Write(l.Bytes())
	return err
}

// asFound says what a check says of ponds, in its words.
func (p *Proposal) asFound() string { return p.Book.Ponds() }

// The verdicts.
const (
	fits   = "fits what is known"
	fitsIf = "fits what is known, with conditions"
	misses = "does not meet"
)

// verdict says whether an answer fits what is known.
func (p *Proposal) verdict(i int) string {
	a := &p.Result.Answers[i]
	o := &p.Result.Options[a.Option]
	switch {
	case a.Meets && len(a.Questions)+len(o.Unknown) > 0:
		return fitsIf
	case a.Meets:
		return fits
	}
	return misses
}

// short says an answer in a sentence or two.
func (p *Proposal) short(i int) string {
	a := &p.Result.Answers[i]
	o := &p.Result.Options[a.Option]
	say := titles[a.Name] + ": "
	if k := p.sameAs(i); k >= 0 {
		return say + fmt.Sprintf("as answer %d.", k+1)
	}
	say += p.verdict(i) + ". "
	var why []string
	if len(p.Result.KeepOff) > 0 || len(p.Result.EngineerFirst) > 0 {
		why = append(why, "somebody has to be asked first")
	}
	if o.PondsLeft > 0 {
		why = append(why, text.Plural(o.PondsLeft, "pond")+" left")
	}
	if n := len(o.Worse); n > 0 {
		why = append(why, text.Plural(n, "thing")+" worse than before")
	}
	if n := len(o.Limits); n > 0 {
		why = append(why, text.Plural(n, "limit")+" broken")
	}
	if o.FlatLeft > 0 && (a.Name != correction.MendNow || len(why) == 0) {
		why = append(why, fmt.Sprintf("%d planes or valleys too flat", o.FlatLeft))
	}
	if len(why) > 0 && !a.Meets {
		say += "Why: " + strings.Join(why, "; ") + ". "
	}
	return say + p.amount(a.Option)
}

// sameAs returns the earlier answer that is the same roof, -1 for none.
func (p *Proposal) sameAs(i int) int {
	for k := range i {
		if p.Result.Answers[k].Option == p.Result.Answers[i].Option {
			return k
		}
	}
	return -1
}

// amount says how much is opened, built up and cut.
func (p *Proposal) amount(option int) string {
	u, o, m := p.Book.Units, &p.Result.Options[option], p.amountOf(option)
	var parts []string
	if o.Opened > 0 {
		parts = append(parts, "opens "+u.SayArea(o.Opened))
	}
	if m.laid > 0 && m.average > 0 {
		parts = append(parts, "lays "+u.SaySolid(m.laid)+", "+u.SayDepth(m.greatest)+" at most")
	}
	if m.out > 0 {
		parts = append(parts, "takes out "+u.SaySolid(m.out)+", "+u.SayDepth(m.deepest)+" at the deepest")
	}
	if len(parts) == 0 {
		return "Changes nothing of the surface."
	}
	say := strings.Join(parts, "; ") + "."
	return strings.ToUpper(say[:1]) + say[1:]
}

// alike returns the answers that are one roof, as indices, first answer by first answer.
func (p *Proposal) alike() [][]int {
	var out [][]int
	for i := range p.Result.Answers {
		if k := p.sameAs(i); k < 0 {
			out = append(out, []int{i})
			continue
		}
		for g := range out {
			if p.Result.Answers[out[g][0]].Option == p.Result.Answers[i].Option {
				out[g] = append(out[g], i)
			}
		}
	}
	return out
}

// sideBySide sets the answers side by side; those that are one roof have one column.
func (p *Proposal) sideBySide() [][]string {
	u := p.Book.Units
	names := []string{"", "verdict", "opened", "changed", "laid", "taken out", "added at most", "ponds left", "blocked level", "blocked depth", "blocked load", "decides"}
	if len(p.Costs) > 0 {
		names = append(names, "cost")
	}
	rows := make([][]string, len(names))
	for i, name := range names {
		rows[i] = []string{name}
	}
	for _, group := range p.alike() {
		a := &p.Result.Answers[group[0]]
		o, m := &p.Result.Options[a.Option], p.amountOf(a.Option)
		column := []string{answersNamed(group), shortVerdict[p.verdict(group[0])], u.SayArea(o.Opened), u.SayArea(m.area), "-", "-", "-", fmt.Sprint(o.PondsLeft), "-", "-", "-", strings.Join(o.Decides, ", ")}
		if m.laid > 0 {
			column[4], column[6] = u.SaySolid(m.laid), u.SayPressure(o.Most)
		}
		if m.out > 0 {
			column[5] = u.SaySolid(m.out)
		}
		if o.BlockedKnown {
			was, is := &o.Blocked[0], &o.Blocked[1]
			column[8], column[9], column[10] = beforeAfter(u.SayElevation(was.Level), u.SayElevation(is.Level)), beforeAfter(u.SayDepth(was.Depth), u.SayDepth(is.Depth)), beforeAfter(u.SayPressure(was.Load), u.SayPressure(is.Load))
		} else if l := p.Book.Study.RainLoad; l != nil && l.Enclosed {
			column[8] = "to the top of the walls"
		}
		if len(p.Costs) > 0 {
			cost := "-"
			if c := p.Costs[group[0]]; c.Money != "" || c.Cost > 0 {
				cost = c.Money + text.Count(c.Cost)
			}
			column = append(column, cost)
		}
		for i := range rows {
			rows[i] = append(rows[i], column[i])
		}
	}
	return rows
}

// beforeAfter says a figure before and after, once where it stays.
func beforeAfter(was, is string) string {
	if was == is {
		return was + ", as now"
	}
	return was + " now, " + is
}

// shortVerdict is a verdict where there is little room.
var shortVerdict = map[string]string{fits: "fits", fitsIf: "fits, with conditions", misses: "does not meet"}

// answersNamed is the head of a column: "answer 1", or "answers 2, 3".
func answersNamed(group []int) string {
	text := "answer"
	if len(group) > 1 {
		text = "answers"
	}
	for i, k := range group {
		if i > 0 {
			text += ","
		}
		text += fmt.Sprintf(" %d", k+1)
	}
	return text
}

// told says what an answer does, what has to be found out first, and what it leaves.
func (p *Proposal) told(l *text.Lines, i int) {
	a := &p.Result.Answers[i]
	o := &p.Result.Options[a.Option]
	u := p.Book.Units
	l.Heading(titles[a.Name])
	if k := p.sameAs(i); k >= 0 {
		l.Paragraph(fmt.Sprintf("The same roof as answer %d.", k+1))
		p.reroofing(l, a)
		return
	}
	p.reroofing(l, a)
	for k := range o.Changes {
		c := &o.Changes[k]
		say := ""
		if c.Pond != "" {
			say = c.Pond + ": "
		}
		say += strings.TrimSuffix(u.SayText(p.Book.Study.KeepOff.Guard(c.What)), ".") + "."
		if c.Opened > 0 {
			say += " Opens " + u.SayArea(c.Opened) + "."
		}
		if c.Decides != "" {
			say += " " + record.Decides(c.Decides)
		}
		l.Bullet(say)
	}
	if len(o.Changes) == 0 {
		l.Paragraph(NothingDone(p.Book))
	}
	for k := range a.Questions {
		q := &a.Questions[k]
		say := strings.TrimSuffix(u.SayText(p.Book.Study.KeepOff.Guard(finding.Say("Find out first:").And(q.Ask))), ".")
		if !strings.HasSuffix(say, "?") {
			say += "."
		}
		l.Bullet(say + " " + u.SayText(q.If) + ": " + lower(u.SayText(q.Then)) + ". " + record.Decides(q.Decides))
	}
	if r := p.resistance(o); r != "" {
		l.Paragraph(r)
	}
	p.compare(l, o)
	for k := range a.Left {
		l.Bullet("Left: " + Leftover(p.Book, &a.Left[k]) + " " + record.Decides(a.Left[k].Decides))
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

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// compare lists what is worse, broken, to be allowed and not known of an option.
func (p *Proposal) compare(l *text.Lines, o *correction.Option) {
	for k := range o.Worse {
		l.Bullet("Worse than before: " + p.compared(&o.Worse[k]) + ".")
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
