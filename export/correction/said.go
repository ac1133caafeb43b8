package correction

import (
	"slices"
	"strconv"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/correction"
	"runnel/analysis/takeoff"
	"runnel/export/record"
	"runnel/export/text"
)

// Measured writes the amount of an item of the take-off with its unit.
func (p *Proposal) Measured(x *takeoff.Item) string { return p.measure(x) }

// Leftovers says what an answer leaves, at which ponds, what is to be done about it where the work does not say so, and who decides: one sentence for all ponds of which it is true.
func Leftovers(b *record.Book, a *correction.Answer) []string {
	var says []string
	var ponds [][]string
	for i := range a.Left {
		l := &a.Left[i]
		say := strings.TrimSuffix(b.Units.SayText(l.What), ".") + "."
		if do := b.Units.SayText(b.Study.KeepOff.Guard(l.Do)); l.Do.Format != "" {
			say += " " + do
		}
		say += " " + record.Decides(l.Decides)
		k := slices.Index(says, say)
		if k < 0 {
			k = len(says)
			says, ponds = append(says, say), append(ponds, nil)
		}
		if l.Pond != "" && !slices.Contains(ponds[k], l.Pond) {
			ponds[k] = append(ponds[k], l.Pond)
		}
	}
	for i := range says {
		if len(ponds[i]) > 0 {
			says[i] = strings.Join(ponds[i], ", ") + ": " + says[i]
		}
	}
	return says
}

// notTaken says why an option that was tried is no answer: what it leaves, makes worse or breaks, else what more it opens than the first answer.
func (p *Proposal) notTaken(o *correction.Option) string {
	u := p.Book.Units
	if !o.Possible {
		return u.SayText(o.Why)
	}
	var why []string
	if o.PondsLeft > 0 {
		why = append(why, text.Plural(o.PondsLeft, "pond")+" left")
	}
	add := func(before string, list []correction.Limit) {
		for i := range list {
			if say := before + list[i].Name; !slices.Contains(why, say) {
				why = append(why, say)
			}
		}
	}
	add("worse: ", o.Worse)
	add("limit: ", o.Limits)
	if len(why) == 0 && o.FlatLeft > 0 {
		why = append(why, tooFlat(o.FlatLeft))
	}
	if len(why) == 0 && len(p.Result.Answers) > 0 {
		first := &p.Result.Options[p.Result.Answers[0].Option]
		switch opens, lays := u.SayArea(o.Opened), u.SaySolid(o.Fill); {
		case opens != u.SayArea(first.Opened):
			why = append(why, "opens "+opens+", answer 1 "+u.SayArea(first.Opened))
		case lays != u.SaySolid(first.Fill):
			why = append(why, "lays "+lays+", answer 1 "+u.SaySolid(first.Fill))
		default:
			why = append(why, "no better than answer 1")
		}
	}
	return strings.Join(why, "; ")
}

// tooFlat counts what falls too little.
func tooFlat(n int) string {
	return choose.If(n == 1, "1 plane or valley too flat", strconv.Itoa(n)+" planes or valleys too flat")
}
