package text

import (
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/finding"
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
	p.entry("BLOCKED", "With every primary outlet blocked and "+p.u.SayRain(s.Drainage.Overflow)+" of rain water stands at least "+
		p.u.SayDepth(l.Depth)+" deep, "+p.u.SayPressure(l.Load)+", near "+p.book.OutletNear(int(l.Deepest))+".")
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

// task is one thing to do, and the ponds or outlets where it is to be done. What is wrong and who decides stand beside
// it where no entry of the worst pond says so.
type task struct {
	urgent            bool
	what, do, decides string
	names             []string
}

// say returns the task in a sentence or more.
func (t *task) say() string {
	parts := []string{t.what, t.do}
	if t.decides != "" {
		parts = append(parts, "Decides: the "+t.decides+".")
	}
	if t.urgent {
		parts = append([]string{"URGENT."}, parts...)
	}
	text := strings.TrimSpace(strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), " "))
	if len(t.names) == 0 || len(t.names) == 1 && strings.Contains(text, t.names[0]) {
		return text
	}
	return some(t.names) + ": " + text
}

// next lists what to do, most urgent first, each thing once.
func (p *page) next() {
	tasks := p.tasks()
	if len(tasks) == 0 {
		p.entry("NEXT", "Nothing that this survey asks for. Look again after rain: no water should stand after 48 hours.")
		return
	}
	word := "NEXT"
	for i := range tasks[:min(steps, len(tasks))] {
		p.number(word, i+1, tasks[i].say())
		word = ""
	}
	if more := len(tasks) - steps; more > 0 {
		p.entry("", fmt.Sprintf("and %d more under FINDINGS.", more))
	}
}

// some lists a few names and counts the rest.
func some(names []string) string {
	const few = 6
	if len(names) <= few {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:few], ", "), len(names)-few)
}

// tasks gathers what the findings ask for; of a pond first what tells its causes apart.
func (p *page) tasks() []task {
	s := p.book.Study
	var all []task
	for i := range s.Findings {
		f := &s.Findings[i]
		t, name := task{urgent: f.Severity == finding.Urgent, do: p.u.SayText(f.Do)}, ""
		k := p.listed(f.Pond)
		switch {
		case k >= 0 && f.Kind != finding.NoWayOut:
			t.do, name = p.u.SayText(s.Causes[k].Causes[0].Measure), s.Listed[k].ID
		case k < 0 && f.Outlet >= 0:
			name = s.Surface.Outlets[f.Outlet].Label
		case k < 0:
			name = p.local(p.book.Names.Finding(i))
		}
		if k < 0 {
			t.what, t.decides = p.u.SayText(f.What), f.Decides
		}
		if t.do != "" {
			all = add(all, t, name)
		}
	}
	return all
}

// add puts name to the task that asks for the same, which it makes where there is none.
func add(all []task, t task, name string) []task {
	k := slices.IndexFunc(all, func(o task) bool { return o.do == t.do && o.urgent == t.urgent && o.decides == t.decides })
	if k < 0 {
		k, all = len(all), append(all, t)
	}
	if all[k].what != t.what {
		all[k].what = "" // of several, each under its finding
	}
	if name != "" && !slices.Contains(all[k].names, name) {
		all[k].names = append(all[k].names, name)
	}
	return all
}

// listed returns the index into Study.Listed of a pond (index into ponding.Ponds.Ponds), -1 when it is not listed.
func (p *page) listed(pond int) int {
	for i := range p.book.Study.Listed {
		if int(p.book.Study.Listed[i].Pond) == pond {
			return i
		}
	}
	return -1
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
