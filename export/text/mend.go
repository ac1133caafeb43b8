package text

import (
	"runnel/analysis/cause"
	"runnel/analysis/finding"
)

// mend says what would likely empty the worst pond, and who decides.
func (p *page) mend() {
	s := p.book.Study
	if len(s.Listed) == 0 {
		return
	}
	text := "not told by the shape alone."
	decides := finding.Roofer
	if f := p.findingOf(0); f != nil {
		decides = f.Decides
	}
	if len(s.Causes) > 0 {
		if t := p.remedies(&s.Causes[0]); t != "" {
			text = t
		}
	}
	p.entry("MEND", capital(text)+" Decides: the "+decides+".")
}

// remedies says what each mend that was tried on the surface would leave.
func (p *page) remedies(d *cause.Diagnosis) string {
	text := ""
	for i := range d.Remedies {
		r := &d.Remedies[i]
		if !r.Tried {
			continue
		}
		if text != "" {
			text += " "
		}
		text += capital(p.mending(r)) + p.leaves(r)
	}
	return text
}

func (p *page) mending(r *cause.Remedy) string {
	switch r.Mend {
	case cause.ShaveRise:
		return "cutting the rise between pond and outlet down by up to " + p.u.SayDepth(r.Cut) +
			" over " + p.u.SayLength(r.Length)
	case cause.DropOutlet:
		return "setting the outlet " + p.u.SayDepth(r.Cut) + " lower"
	case cause.ShaveAndDrop:
	}
	return "doing both"
}

func (p *page) leaves(r *cause.Remedy) string {
	if r.Depth <= 0 {
		return " would empty it."
	}
	return " would leave " + p.u.SayDepth(r.Depth) + "."
}
