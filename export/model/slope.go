package model

import (
	"strings"

	"runnel/analysis/assembly"
	"runnel/analysis/choose"
	"runnel/export/record"
)

// changes says what each maker of the slope means for whoever wants another one.
var changes = map[assembly.Verdict]string{
	assembly.StructureSlopes:  "the slope stays when the insulation is taken out. To change it, use tapered insulation or change the structure.",
	assembly.InsulationTapers: "the slope can be changed in the insulation, down to the deck. Take the insulation out and the slope is gone.",
	assembly.BothSlope:        "the insulation can be changed; the deck's share of the slope stays.",
	assembly.TaperFights:      "the insulation works against the deck, as a cricket does on purpose, and can be changed.",
	assembly.NothingSlopes:    "all slope has to be built.",
}

// slopeIsIn says, where there are cores, whether structure or insulation makes the slope: that decides what can be changed.
func (t *teller) slopeIsIn() string {
	if len(t.b.Study.Roof.Cores) == 0 {
		return ""
	}
	var texts []string
	for _, v := range []assembly.Verdict{
		assembly.TaperFights, assembly.InsulationTapers, assembly.StructureSlopes, assembly.BothSlope, assembly.NothingSlopes,
	} {
		if names := t.regionsOf(v); names != nil {
			where := choose.If(len(names) == 1 && names[0] == "the roof", "", " ("+record.Some(names)+")")
			texts = append(texts, record.Maker(v)+where+": "+changes[v])
		}
	}
	if open := t.regionsOf(assembly.NotResolved); texts == nil {
		texts = []string{record.Maker(assembly.NotResolved) + ": the cores do not tell whether structure or insulation slopes."}
		if len(t.b.NextCores) > 0 {
			texts = append(texts, "where to cut next stands under "+strings.ToUpper(coresHeading)+".")
		}
	} else if open != nil {
		texts = append(texts, record.Maker(assembly.NotResolved)+": "+record.Some(open)+".")
	}
	for i := range texts {
		texts[i] = record.Capital(texts[i])
	}
	return record.Small(strings.Join(texts, " "))
}

func (t *teller) regionsOf(v assembly.Verdict) []string {
	var names []string
	a := t.b.Study.Assembly
	for i := range a.Regions {
		if a.Regions[i].Verdict == v {
			names = append(names, t.b.RegionName(&a.Regions[i]))
		}
	}
	return names
}
