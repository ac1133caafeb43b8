// Package content gathers what the reports of one roof say, for the page that a browser opens and for the one on paper: the same
// words, numbers and tables in both.
//
// The sentences are those of package text, the numbers those of package record.
package content

import (
	"strings"

	"runnel/analysis/finding"
	"runnel/export/caution"
	"runnel/export/record"
	"runnel/export/summary"
	"runnel/export/text"
)

// Content is a report without its drawings.
type Content struct {
	Name, Building, Surveyed, ID string   // Building is empty where it is the roof's name
	First                        []Entry  // the first screen
	Client                       []string // five lines for a message
	Findings                     []Finding
	MoreFindings                 int // that are not described
	Ponds, Outlets, Criteria     Table
	Assumptions, NotMeasured     []string
	Survey                       [][2]string // what, how much
	Warnings, Cautions           []string
	Inputs                       [][2]string // file, how it was read
	Rain                         *Rain
	Storm                        *Storm // nil where none was asked for
	Cores                        []Part // what the cores say; none on a roof without cores
}

// Entry is a word of the first screen with its paragraphs.
type Entry struct {
	Word  string
	Texts []string
	Steps []string // numbered
}

// Finding is one finding in words.
type Finding struct {
	Index              int // into Study.Findings
	ID, Full, Severity string
	What               string
	Facts              [][2]string // word, text
}

// mostFindings is how many findings are described; the rest are counted and stand in the summary.
const mostFindings = 200

// Of gathers what is said of b.
func Of(b *record.Book) *Content {
	s, u := b.Study, b.Units
	c := &Content{
		Name: s.Roof.Name, Building: s.Roof.Building, Surveyed: s.Roof.Surveyed, ID: b.Names.Roof,
		Assumptions: text.Assumptions(b), NotMeasured: text.NotMeasured(b),
		Warnings: summary.Warnings(b), Cautions: caution.Texts(s.Cautions),
		Ponds: pondTable(b), Outlets: outletTable(b), Criteria: criteriaTable(b),
	}
	c.Rain, c.Storm, c.Cores = rainOf(b), stormOf(b), coreParts(b)
	if c.Building == c.Name {
		c.Building = ""
	}
	c.First = entries(text.First(b))
	c.Client = client(b, c.First)
	for i := range s.Findings[:min(mostFindings, len(s.Findings))] {
		c.Findings = append(c.Findings, findingOf(b, i))
	}
	c.MoreFindings = len(s.Findings) - len(c.Findings)
	c.Survey = surveyFacts(b)
	for _, in := range s.Roof.Inputs {
		c.Inputs = append(c.Inputs, [2]string{in.Path, in.Format + ", " + in.Units + ", " + in.Frame})
	}
	c.Survey = append(c.Survey, [2]string{"Roof area", u.SayArea(b.Area)})
	return c
}

// entries gathers paragraphs under their words.
func entries(parts []text.Part) []Entry {
	var all []Entry
	for _, p := range parts {
		if p.Word != "" {
			all = append(all, Entry{Word: p.Word})
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
func client(b *record.Book, first []Entry) []string {
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
	return []string{oneLine(name + ": " + b.Lead().Text), oneLine(held), oneLine("Next: " + by["NEXT"]), oneLine("Survey: " + by["SURVEY"]), oneLine(by["LIMIT"])}
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

func findingOf(b *record.Book, i int) Finding {
	f, u := &b.Study.Findings[i], b.Units
	full := b.Names.Finding(i)
	v := Finding{
		Index: i, ID: strings.TrimPrefix(full, b.Names.Roof+"."), Full: full, Severity: f.Severity.String(), What: u.SayText(f.What),
	}
	for _, fact := range [][2]string{
		{"Where", u.SayText(f.Where)},
		{"Measured", b.SayMeasured(i)},
		{"Limit", b.Limit(i)},
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
	return [][2]string{
		{"Drawn through", b.Spots()},
		{"About one every", u.SayLength(s.Spacing)},
		{"How good a height is", b.SurveyError()},
		{"Edge heights taken from spots near by", record.SayShare(s.AssumedShare) + " of the roof"},
		{"Facets", u.Say(finding.Number("", b.Study.Surface.TIN.Facets()))},
	}
}
