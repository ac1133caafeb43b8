package model

import (
	"strings"

	"runnel/analysis/cause"
	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/inspection"
	"runnel/export/record"
)

// heldBy says what holds the worst pond, with the evidence, and which other causes fit as well.
func (t *teller) heldBy() string {
	if len(t.b.Study.Listed) == 0 {
		return ""
	}
	f := t.b.PondFinding(0)
	if f == nil {
		return "Only its lip; the shape does not show the cause."
	}
	text := t.u.SayText(f.What) + " " + t.u.SayText(f.Why)
	if f.Confidence != finding.Shown {
		text += " (" + record.Capital(f.Confidence.String()) + ".)"
	}
	if len(f.Also) > 0 && f.Kind != finding.NoWayOut {
		names := gather.Each(f.Also, func(k finding.Kind) string { return cause.Say(k).Name })
		text += " It may also be " + strings.Join(names, ", or ") + "."
	}
	return text
}

// mend says what would likely mend the worst pond, what a trial on the surveyed surface gives, and who
// decides.
func (t *teller) mend() string {
	s := t.b.Study
	f := (*finding.Finding)(nil)
	if len(s.Listed) > 0 {
		f = t.b.PondFinding(0)
	}
	if f == nil {
		return ""
	}
	text := inspection.Mend(f.Kind, &s.Causes[0])
	if f.Kind == finding.Dish && f.Decides == finding.Roofer { // the deck is sound
		text = inspection.SoundDish
	}
	if text == "" {
		text = "Make a way out for the water."
	}
	if tried := t.trials(&s.Causes[0]); tried != "" {
		text += " Tried on the surveyed surface: " + tried + "."
	}
	likely := "Likely: "
	if t.b.Lead().Word != "PONDS" {
		likely = "Of " + s.Listed[0].ID + ", likely: "
	}
	return likely + record.Small(text) + " " + record.Decides(f.Decides)
}

// trials says what each mend that was tried on the surface would leave.
func (t *teller) trials(d *cause.Diagnosis) string {
	var all []string
	for i := range d.Mends {
		if r := &d.Mends[i]; r.Tried {
			all = append(all, t.mending(r)+t.leaves(r))
		}
	}
	return strings.Join(all, "; ")
}

func (t *teller) mending(r *cause.Mended) string {
	switch r.Mend {
	case cause.ShaveRise:
		return "lowering the roof on the water's way out by up to " + t.u.SayDepth(r.Cut) + " over " + t.u.SayLength(r.Length)
	case cause.DropOutlet:
		return "setting the outlet " + t.u.SayDepth(r.Cut) + " lower"
	case cause.ShaveAndDrop:
	}
	return "doing both"
}

func (t *teller) leaves(r *cause.Mended) string {
	return choose.If(r.Depth <= 0, " empties it", " leaves "+t.u.SayDepth(r.Depth)+" of water")
}
