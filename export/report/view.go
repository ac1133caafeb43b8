package report

import (
	"html/template"
	"strings"

	"runnel/analysis/finding"
	"runnel/analysis/standard"
	"runnel/export/caution"
	"runnel/export/record"
	"runnel/export/summary"
	"runnel/export/text"
)

// view is what the body's template shows.
type view struct {
	Name, Building, Surveyed, ID string
	Unit                         string // of plan lengths that a reader types
	First                        []entry
	Client                       []string
	Defs, Plan                   template.HTML
	Findings                     []findingView
	MoreFindings                 int
	Ponds, Outlets, Criteria     table
	Assumptions, NotMeasured     []string
	Survey                       [][2]string
	Warnings, Cautions           []string
	Inputs                       [][2]string
	Layers                       []layerView
	LeftOut                      []string
}

// entry is a word of the first screen with its paragraphs.
type entry struct {
	Word  string
	Texts []string
	Steps []string // numbered
}

type findingView struct {
	ID, Full, Severity, What string
	Facts                    [][2]string
	Thumb                    template.HTML
}

type layerView struct {
	Name, Label string
	On          bool
}

// mostFindings is how many findings the page describes; the rest are counted and stand in the summary.
const mostFindings = 200

func newView(b *record.Book, plan template.HTML) *view {
	s, u := b.Study, b.Units
	v := &view{
		Name: s.Roof.Name, Building: s.Roof.Building, Surveyed: s.Roof.Surveyed, ID: b.Names.Roof,
		Assumptions: text.Assumptions(b), NotMeasured: text.NotMeasured(b),
		Warnings: summary.Warnings(b), Cautions: caution.Texts(s.Cautions),
		Plan: plan, Ponds: pondTable(b), Outlets: outletTable(b), Criteria: criteriaTable(b),
	}
	v.Unit = "metres"
	if u == record.US {
		v.Unit = "feet"
	}
	if v.Building == v.Name {
		v.Building = ""
	}
	v.First = entries(text.First(b))
	v.Client = client(b, v.First)
	c := newCanvas(b, 1000)
	v.Defs = c.definition(b)
	for i := range s.Findings[:min(mostFindings, len(s.Findings))] {
		v.Findings = append(v.Findings, findingOf(b, c, i))
	}
	v.MoreFindings = len(s.Findings) - len(v.Findings)
	v.Survey = surveyFacts(b)
	for _, in := range s.Roof.Inputs {
		v.Inputs = append(v.Inputs, [2]string{in.Path, in.Format + ", " + in.Units + ", " + in.Frame})
	}
	v.Survey = append(v.Survey, [2]string{"Roof area", u.SayArea(b.Area)})
	names, left := inPage(b)
	v.LeftOut = left
	for _, n := range names {
		v.Layers = append(v.Layers, layerView{n, layerLabel(n), onAtFirst(n)})
	}
	return v
}

// entries gathers paragraphs under their words.
func entries(parts []text.Part) []entry {
	var all []entry
	for _, p := range parts {
		if p.Word != "" {
			all = append(all, entry{Word: p.Word})
		}
		if len(all) == 0 {
			continue
		}
		e := &all[len(all)-1]
		if p.Number > 0 {
			e.Steps = append(e.Steps, p.Text)
		} else {
			e.Texts = append(e.Texts, p.Text)
		}
	}
	return all
}

// client returns five lines to paste into a message: the roof and its ponds, what holds the worst, the first thing to
// do, how good the survey is, and what this does not say.
func client(b *record.Book, first []entry) []string {
	name := b.Study.Roof.Name
	if b.Study.Roof.Building != "" && b.Study.Roof.Building != name {
		name = b.Study.Roof.Building + ", " + name
	}
	by := map[string]string{}
	for _, e := range first {
		line := strings.Join(e.Texts, " ")
		if len(e.Steps) > 0 {
			line = e.Steps[0]
		}
		by[e.Word] = line
	}
	held := by["HELD BY"]
	if held == "" {
		held = "Under the criterion of " + b.Units.SaySlope(b.Study.Criteria.MinSlope) + ": " + record.SayShare(b.Study.Slopes.BelowMinShare) + " of the roof."
	}
	return []string{oneLine(name + ": " + by["PONDS"]), oneLine(held), oneLine("Next: " + by["NEXT"]), oneLine("Survey: " + by["SURVEY"]), oneLine(by["LIMIT"])}
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

func findingOf(b *record.Book, c *canvas, i int) findingView {
	f, u := &b.Study.Findings[i], b.Units
	full := b.Names.Finding(i)
	id := strings.TrimPrefix(full, b.Names.Roof+".")
	v := findingView{
		ID: id, Full: full, Severity: f.Severity.String(), What: u.SayText(f.What),
		Thumb: c.thumb(f, id, string(f.Kind)),
	}
	limit := u.SayAll(f.Required)
	if f.Source != "" {
		limit = strings.TrimSpace(limit + " (" + f.Source + ")")
	}
	for _, fact := range [][2]string{
		{"Where", u.SayText(f.Where)},
		{"Measured", u.SayAll(f.Measured)},
		{"Limit", limit},
		{"Why", u.SayText(f.Why)},
		{"Do", u.SayText(f.Do)},
		{"Decides", f.Decides},
		{"Shown", f.Confidence.String() + kinds(f)},
	} {
		if fact[1] != "" {
			v.Facts = append(v.Facts, fact)
		}
	}
	return v
}

// kinds names the finding's kind and the other causes that fit.
func kinds(f *finding.Finding) string {
	s := "; kind " + string(f.Kind)
	for i, k := range f.Also {
		if i == 0 {
			s += "; may also be "
		} else {
			s += ", "
		}
		s += string(k)
	}
	return s
}

func surveyFacts(b *record.Book) [][2]string {
	s, u := &b.Study.Survey, b.Units
	sigma := "not stated"
	if s.Sigma > 0 {
		sigma = u.SayDepth(s.Sigma) + ", estimated from the scatter about even planes"
		if s.SigmaStated {
			sigma = u.SayDepth(s.Sigma) + ", as stated"
		}
	}
	return [][2]string{
		{"Spots", u.Say(finding.Number("", s.Spots))},
		{"About one every", u.SayLength(s.Spacing)},
		{"Standard deviation of a height", sigma},
		{"Edge heights taken from spots near by", record.SayShare(s.AssumedShare) + " of the roof"},
		{"Facets", u.Say(finding.Number("", b.Study.Surface.TIN.Facets()))},
	}
}

// criteriaTable lists the limits in force with their sources.
func criteriaTable(b *record.Book) table {
	c, u := b.Study.Criteria, b.Units
	t := table{ID: "criteria", Heads: []string{"criterion", "limit", "source"}}
	stated := b.Study.Roof.Criteria
	add := func(name, label, value string) {
		source, _ := standard.Cite(name)
		how := source.Text
		if _, ok := stated[name]; ok {
			how = "stated on the outline; usual: " + how
		}
		t.Rows = append(t.Rows, row{Cells: []cell{{Text: label}, {Text: value}, {Text: how}}})
	}
	add("min_slope", "slope of planes, as found", u.SaySlope(c.MinSlope))
	add(standard.MinSlopeNewName, "slope of planes, new work", u.SaySlope(c.MinSlopeNew))
	add("min_valley_slope", "slope of valleys", u.SaySlope(c.MinValleySlope))
	add("pond_depth", "depth from which a pond is listed", u.SayDepth(c.PondDepth)+", or "+u.SayDepth(c.PondDepthWide)+" over "+u.SayArea(c.WideArea)+" or more")
	add("near_outlet", "near an outlet", u.SayLength(c.NearOutlet))
	if c.MaxTravel > 0 {
		add("max_travel", "longest travel", u.SayLength(c.MaxTravel))
	}
	return t
}

func layerLabel(name string) string {
	return map[string]string{
		"outline": "Outline", "plane": "Planes by slope", "catchment": "Catchments", "contour": "Contours", "pond": "Ponds",
		"stain": "Water as seen", "breakline": "Breaklines", "valley": "Valleys", "ridge": "Ridges", "curb": "Curbs", "edge": "Edges",
		"flowpath": "Longest ways of the water", "spot": "Spots", "core": "Cores", "control": "Control points", "lip": "Lips",
		"outlet": "Outlets", "finding": "Findings",
	}[name]
}

func onAtFirst(name string) bool {
	switch name {
	case "outline", "pond", "curb", "edge", "outlet", "lip", "contour", "flowpath":
		return true
	}
	return false
}
