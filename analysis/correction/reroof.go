package correction

import (
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/standard"
)

// asked says what codes ask when the roof is covered anew: of the slope, of overflows and of covering again. Which edition holds, the building official says.
func (d *designer) asked() []finding.Text {
	c := d.Study.Criteria
	found := Option{Study: d.Study}
	source, _ := standard.CiteIn(c.Practice, "min_slope")
	out := []finding.Text{finding.Say("Slope: every plane falls {0} or more as found, which is what new roofs need.", finding.Fall("new", c.MinSlopeNew))}
	if d.flatForNew(&found) {
		out[0] = finding.Say("Slope: new roofs need {0}. A roof that is covered again or replaced and drains within 48 hours is exempt in some editions: ask the building official which holds. ("+source.Text+".)",
			finding.Fall("new", c.MinSlopeNew))
	}
	a := standard.ArrangementOf(c.Practice)
	for i := range d.Study.Findings {
		if d.Study.Findings[i].Kind == finding.NoOverflow {
			out = append(out, finding.Say("Overflow: "+a.Present.What+". ("+a.Present.Source.Text+".)"))
			break
		}
	}
	again := finding.Say("Covering again: " + standard.TwoRoofsSource.Text + ".")
	if n := d.Study.Roof.Visit.Coverings; n >= standard.TwoRoofs {
		again = again.And(finding.Say("{0} coverings lie on each other here: plan to take them off.", finding.Number("coverings", n)))
	}
	return append(out, again)
}

// practice says what an option does beyond what codes ask.
func (d *designer) practice(o *Option) []finding.Text {
	c := d.Study.Criteria
	switch {
	case o.Kind == mend.Overlay || o.Kind == mend.Replace:
		return []finding.Text{finding.Say("Build {0} into every plane and at least {1} into valleys, whether the code asks for it or not: a roof is covered anew once in decades.",
			finding.Fall("planes", d.Slope), finding.Fall("valleys", c.MinValleySlope))}
	case d.flatForNew(o) && !d.flatForNew(&Option{Study: d.Study}):
		return []finding.Text{finding.Say("Lay at {0} what the mends leave flatter, when the insulation is open.", finding.Fall("new", c.MinSlopeNew))}
	case d.flatForNew(o):
		return []finding.Text{finding.Say("Nothing that was tried brings every plane to {0}. Ask at the design of the new roof whether outlets can be added, so that ways are shorter and tapers lower.", finding.Fall("new", c.MinSlopeNew))}
	}
	return []finding.Text{finding.Say("Keep the falls that the mends leave, and set outlets in sumps of whole boards when the insulation is open.")}
}
