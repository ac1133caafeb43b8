package correction

import (
	"fmt"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/correction"
	"runnel/analysis/gather"
	"runnel/analysis/rainload"
	"runnel/export/text"
)

// sameAs returns the earlier answer that is the same roof, -1 for none.
func (p *Proposal) sameAs(i int) int {
	for k := range i {
		if p.Result.Answers[k].Option == p.Result.Answers[i].Option {
			return k
		}
	}
	return -1
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
	rows := gather.Each(names, func(name string) []string { return []string{name} })
	for _, group := range p.alike() {
		a := &p.Result.Answers[group[0]]
		o, m := &p.Result.Options[a.Option], p.amountOf(a.Option)
		column := []string{answersNamed(group), shortVerdict[p.verdict(group[0])], u.SayArea(o.Opened), u.SayArea(m.area), "-", "-", "-", fmt.Sprint(o.PondsLeft), "-", "-", "-", strings.Join(o.Decides, ", ")}
		if p.Book.Study.LowPlaces != nil { // no outlet is surveyed
			column[7] = "not known"
		}
		if m.laid > 0 {
			column[4], column[6] = u.SaySolid(m.laid), u.SayPressure(o.Most)
		}
		if m.out > 0 {
			column[5] = u.SaySolid(m.out)
		}
		column[8], column[9], column[10] = p.blocked(o)
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

// blocked says the level, depth and load of the water with every primary outlet blocked, before and after an option.
func (p *Proposal) blocked(o *correction.Option) (level, depth, load string) {
	u := p.Book.Units
	if o.BlockedKnown {
		was, is := &o.Blocked[0], &o.Blocked[1]
		return beforeAfter(u.SayElevation(was.Level), u.SayElevation(is.Level)), beforeAfter(u.SayDepth(was.Depth), u.SayDepth(is.Depth)), beforeAfter(u.SayPressure(was.Load), u.SayPressure(is.Load))
	}
	if l := p.Book.Study.RainLoad; l == nil || !l.Enclosed {
		return "-", "-", "-"
	}
	const walls = "to the top of the walls"
	if after := rainLoad(o); o.NewOutlets > 0 && after != nil && !after.Enclosed && after.Deepest >= 0 {
		return walls + " now, " + u.SayElevation(after.Level[after.Deepest]), u.SayDepth(after.Depth), u.SayPressure(after.Load)
	}
	return walls, "-", "-"
}

// rainLoad returns the water with every primary outlet blocked on an option's roof, nil where it is not known.
func rainLoad(o *correction.Option) *rainload.Load {
	if o.Study == nil {
		return nil
	}
	return o.Study.RainLoad
}

// beforeAfter says a figure before and after, once where it stays.
func beforeAfter(was, is string) string { return choose.If(was == is, was+", as now", was+" now, "+is) }

// shortVerdict is a verdict where there is little room.
var shortVerdict = map[string]string{fits: "fits", fitsIf: "fits, with conditions", misses: "does not meet"}

// answersNamed is the head of a column: "answer 1", or "answers 2, 3".
func answersNamed(group []int) string {
	text := choose.If(len(group) > 1, "answers", "answer")
	for i, k := range group {
		if i > 0 {
			text += ","
		}
		text += fmt.Sprintf(" %d", k+1)
	}
	return text
}
