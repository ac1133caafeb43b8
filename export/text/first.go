package text

import (
	"fmt"
	"strings"

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

// lead says the worst thing known; where that is no pond, what is known of ponds follows.
func (p *page) lead() {
	ponds := p.book.Ponds()
	if lead := p.book.Lead(); lead.Text != ponds {
		p.entry(lead.Word, lead.Text)
	}
	p.entry("PONDS", strings.TrimSpace(ponds+" "+p.book.Unresolved()))
}

// blocked says how deep the water stands with the primary outlets blocked under the rain stated, unless the page began with that.
func (p *page) blocked() {
	if text := p.book.Blocked(); text != "" && !strings.HasPrefix(p.book.Lead().Text, text) {
		p.entry("BLOCKED", text)
	}
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
