package text

import (
	"strings"

	"runnel/analysis/assembly"
	"runnel/export/record"
)

// changes says what each maker of the slope means for whoever wants another one.
var changes = map[assembly.Verdict]string{
	assembly.StructureSlopes:  "taking the insulation out keeps the fall; another fall needs tapered insulation, or the structure.",
	assembly.InsulationTapers: "the fall can be changed in the insulation, down to the deck, and goes when it is taken out.",
	assembly.BothSlope:        "insulation can be changed; what the deck gives stays.",
	assembly.TaperFights:      "the insulation works against the deck, and can be changed.",
	assembly.NothingSlopes:    "every fall has to be built.",
}

// slopeIsIn says, where there are cores, whether structure or insulation makes the slope: that decides what can be changed.
func (p *page) slopeIsIn() {
	a := p.book.Study.Assembly
	if len(p.book.Study.Roof.Cores) == 0 {
		return
	}
	type group struct {
		verdict assembly.Verdict
		names   []string
	}
	var groups []group
	for _, v := range []assembly.Verdict{
		assembly.TaperFights, assembly.InsulationTapers, assembly.StructureSlopes, assembly.BothSlope, assembly.NothingSlopes,
	} {
		g := group{verdict: v}
		for i := range a.Regions {
			if a.Regions[i].Verdict == v {
				g.names = append(g.names, p.book.RegionName(&a.Regions[i]))
			}
		}
		if g.names != nil {
			groups = append(groups, g)
		}
	}
	var texts []string
	for _, g := range groups {
		where := " (" + some(g.names) + ")"
		if len(g.names) == 1 && g.names[0] == "the roof" {
			where = ""
		}
		texts = append(texts, record.Maker(g.verdict)+where+": "+changes[g.verdict])
	}
	if texts == nil {
		texts = []string{record.Maker(assembly.NotResolved) + ": the cores do not tell whether structure or insulation slopes."}
	}
	if n := len(p.book.NextCores); n > 0 && len(groups) == 0 {
		texts = append(texts, "where to cut next stands under "+strings.ToUpper(CoresTitle)+".")
	}
	for i := range texts {
		texts[i] = capital(texts[i])
	}
	p.entry("SLOPE IN", lower(strings.Join(texts, " ")))
}
