package text

import (
	"fmt"
	"strings"

	"runnel/analysis/finding"
	"runnel/export/record"
)

// steps is how many things to do next the first screen names.
const steps = 4

func (p *page) title() {
	r := p.book.Study.Roof
	name := r.Name + " (" + p.book.Names.Roof + ")"
	if r.Building != "" && r.Building != r.Name {
		name = r.Building + ", " + name
	}
	if r.Surveyed != "" {
		name += ", surveyed " + r.Surveyed
	}
	name = short(name)
	p.line(name)
	p.line(strings.Repeat("=", min(width, len([]rune(name)))))
}

// ponds says how many ponds there are and describes the worst.
func (p *page) ponds() {
	s := p.book.Study
	if len(s.Listed) == 0 {
		text := "none that " + p.spots() + " can show."
		if s.Shallow.Count > 0 {
			text += " Shallower water than the list takes: " + p.shallow() + "."
		}
		text = strings.TrimSpace(text + " " + p.book.Unresolved())
		p.entry("PONDS", capital(text))
		return
	}
	worst := &s.Listed[0]
	pond := &s.Ponds.Ponds[worst.Pond]
	text := "1 pond: "
	if n := len(s.Listed); n > 1 {
		text = fmt.Sprintf("%d ponds. The worst is ", n)
	}
	text += worst.ID + p.place(0) + ". When full it is " + p.u.SayDepth(pond.Depth) + " deep over " + p.u.SayArea(pond.Area) + ": " +
		p.u.SayMass(worst.Weight) + " of water, " + p.u.SayPressure(worst.Load) + " where it is deepest."
	if pond.Undrained {
		text += " It has no way out at any level."
	}
	text = strings.TrimSpace(text + " " + p.book.Unresolved())
	p.entry("PONDS", text)
}

// blocked says how deep the water stands with the primary outlets blocked under the rain stated; a storm's headline says
// that itself.
func (p *page) blocked() {
	s := p.book.Study
	l := s.RainLoad
	if l == nil || s.Storm != nil || s.Drainage == nil || s.Drainage.Overflow <= 0 {
		return
	}
	text := "With every primary outlet blocked and " + p.u.SayRain(s.Drainage.Overflow) + " of rain "
	switch {
	case l.Deepest < 0 && l.Enclosed:
		text += "water has no way out at any level: it rises as long as it rains."
	case l.Deepest < 0:
		text += "no water stands."
	default:
		text += "water stands at least " + p.u.SayDepth(l.Depth) + " deep, " + p.u.SayPressure(l.Load) + ", near " + p.book.OutletNear(int(l.Deepest)) + "."
	}
	p.entry("BLOCKED", text)
}

// shallow sums up the ponds that are not listed.
func (p *page) shallow() string {
	s := &p.book.Study.Shallow
	depth := p.u.SayDepth(s.Depth)
	if !strings.HasPrefix(depth, "less than") {
		depth = "at most " + depth
	}
	text := plural(s.Count, "place") + ", " + depth + " deep"
	if s.Area >= 0.05 {
		text += ", " + p.u.SayArea(s.Area) + " in all"
	}
	return text
}

// place returns where listed pond i lies, in the words of its finding, with a blank and a comma before.
func (p *page) place(i int) string {
	f := p.findingOf(i)
	if f == nil {
		return ""
	}
	if where := strings.TrimSuffix(p.u.SayText(f.Where), "."); where != "" {
		return ", " + where
	}
	return ""
}

// findingOf returns the first finding about listed pond i, nil when there is none.
func (p *page) findingOf(i int) *finding.Finding {
	s := p.book.Study
	for k := range s.Findings {
		if f := &s.Findings[k]; f.Pond == int(s.Listed[i].Pond) {
			return f
		}
	}
	return nil
}

// next lists what to do, most urgent first, each thing once.
func (p *page) next() {
	tasks := p.book.Steps()
	if len(tasks) == 0 {
		p.entry("NEXT", record.NothingToDo)
		return
	}
	word := "NEXT"
	for i := range tasks[:min(steps, len(tasks))] {
		p.number(word, i+1, tasks[i].Say())
		word = ""
	}
	if more := len(tasks) - steps; more > 0 {
		p.entry("", fmt.Sprintf("and %d more under FINDINGS.", more))
	}
}

// limit says what none of this says.
func (p *page) limit() {
	p.entry("LIMIT", "This does not say that the roof can carry the water. That is for a structural engineer.")
}

// capital returns s with its first letter in upper case.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// plural writes "1 place" or "3 places".
func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
