package text

import (
	"strings"

	"runnel/export/caution"
	"runnel/export/summary"
)

func (p *page) findingList() {
	p.heading("Findings")
	s := p.book.Study
	if len(s.Findings) == 0 {
		p.line("  none")
	}
	for i := range s.Findings[:min(fullText, len(s.Findings))] {
		f := &s.Findings[i]
		p.hang("  "+pad(p.local(p.book.Names.Finding(i)), 5), strings.ToUpper(f.Severity.String())+": "+
			p.u.SayText(f.What)+" ("+string(f.Kind)+", "+f.Confidence.String()+")")
		p.detail("where", p.u.SayText(f.Where))
		p.detail("measured", p.book.SayMeasured(i))
		p.detail("limit", p.book.Limit(i))
		p.detail("why", p.u.SayText(f.Why))
		p.detail("do", p.u.SayText(f.Do))
		p.detail("decides", f.Decides)
	}
	p.rest("less severe or smaller findings", len(s.Findings)-fullText)
}

func (p *page) detail(word, text string) {
	if text != "" {
		p.hang("       "+pad(word, 10), text)
	}
}

func (p *page) assumptions() {
	s := &p.book.Study.Survey
	p.heading("Assumptions")
	p.bullet("Between neighbouring points the surface is assumed to run straight. A low place that no spot hit is not seen.")
	if p.book.Study.Storm == nil {
		p.bullet("Every pond is shown full to its lip. How long water takes to dry is not computed.")
		p.bullet("Outlets are assumed to be clear.")
	} else {
		p.bullet("Outside the storm every pond is shown full to its lip.")
		p.bullet("Outlets are assumed to be clear, except where a case says that they are blocked.")
	}
	if s.AssumedShare > 0 {
		p.bullet("Edges without heights take theirs from the nearest spots: " + shareOfRoof(s.AssumedShare) + ".")
	}
	if s.EdgesAssumed {
		p.bullet("No file says what the edges are, so they are assumed to be walls, which water cannot pass.")
	}
	if s.InvertsAssumed > 0 {
		p.bullet("Outlets without a level are assumed to take water at the lowest surface beside them.")
	}
	if s.Ties > 0 {
		p.bullet("The surface is made of triangles between points; where four points could be joined in two ways, a fixed rule chose: " + plural(s.Ties, "place") + ".")
	}
}

func (p *page) warnings() {
	all := summary.Warnings(p.book)
	if len(all) == 0 {
		return
	}
	p.heading("Warnings")
	for _, w := range all {
		p.bullet(w)
	}
}

func (p *page) cautions() {
	p.heading("Cautions")
	for _, c := range caution.Texts(p.book.Study.Cautions) {
		p.bullet(c)
	}
}
