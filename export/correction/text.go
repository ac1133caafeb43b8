package correction

import (
	"fmt"
	"io"
	"strings"

	"runnel/analysis/correction"
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

// Title returns the heading of an answer: on a roof without ponds the first says what is done instead of that they are mended.
func Title(b *record.Book, answer string) string {
	if answer == correction.MendNow && len(b.Study.Listed) == 0 {
		return "What to do now"
	}
	return titles[answer]
}

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
	l.Entry("AS FOUND", p.Book.Ponds())
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
	say := Title(p.Book, a.Name) + ": "
	if k := p.sameAs(i); k >= 0 {
		return say + fmt.Sprintf("as answer %d.", k+1)
	}
	say += p.verdict(i) + ". "
	var why []string
	if p.Book.Study.LowPlaces != nil {
		why = append(why, "the outlets are not surveyed")
	}
	if len(p.Result.KeepOff) > 0 || len(p.Result.EngineerFirst) > 0 {
		why = append(why, "somebody has to be asked first")
	} else if o.Urgent() {
		why = append(why, "something urgent is left")
	}
	if o.Overtaxed() {
		why = append(why, "more rain comes to an outlet than it takes")
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
		why = append(why, tooFlat(o.FlatLeft))
	}
	if len(why) > 0 && !a.Meets {
		say += "Why: " + strings.Join(why, "; ") + ". "
	}
	return say + p.amount(a.Option)
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
	if o.Design != nil && o.Design.Leveller.Poured > 0 {
		parts = append(parts, "levels low places first with "+u.SaySolid(o.Design.Leveller.Poured)+" of leveller")
	}
	if m.out > 0 {
		parts = append(parts, "takes out "+u.SaySolid(m.out)+", "+u.SayDepth(m.deepest)+" at the deepest")
	}
	if len(parts) == 0 {
		return "Changes nothing of the surface."
	}
	return record.Capital(strings.Join(parts, "; ")) + "."
}
