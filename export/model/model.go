// Package model says what a check or a storm found, once for every writer: the first screen, findings, tables, what was assumed, the survey
// and the cautions, in the reader's words and units.
//
// It is built once a run. The page of text, the report for the browser and the one on paper lay it out and decide nothing but how much of
// it there is room for, and where it stands. Numbers for programs are those of package record.
package model

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/export/caution"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/record"
)

// Model is all that is said of one roof.
type Model struct {
	Book *record.Book // the results themselves, for what is drawn and for programs

	Name, Building, Surveyed, ID string   // Building is empty where it is the roof's name
	First                        []Entry  // the first screen
	Client                       []string // five lines for a message
	Findings                     []Finding
	MoreFindings                 int // that are not described
	Ponds, Outlets, Planes       Table
	Valleys, Criteria            Table
	Assumptions, NotMeasured     []string
	Survey                       [][2]string // what, how much
	Warnings, Cautions           []string
	Inputs                       [][2]string // file, how it was read
	Rain                         *Rain
	Storm                        *Storm // nil where none was asked for
	CoresHeading                 string
	Cores                        []Part // what the cores say; none on a roof without cores

	plan func() ([]*scene.Scene, error)
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
func Of(b *record.Book) *Model {
	s, t := b.Study, newTeller(b)
	m := &Model{
		Book: b, Name: s.Roof.Name, Building: s.Roof.Building, Surveyed: s.Roof.Surveyed, ID: b.Names.Roof,
		Assumptions: t.assumptions(), NotMeasured: t.notMeasured(), Warnings: warnings(b), Cautions: caution.Texts(s.Cautions),
		Ponds: pondTable(b), Outlets: outletTable(b), Planes: planeTable(b), Valleys: valleyTable(b), Criteria: criteriaTable(b),
		Rain: t.rain(), Storm: t.storm(), CoresHeading: coresHeading, Cores: coreParts(b), Survey: surveyFacts(b), First: t.first(),
		plan: sync.OnceValues(func() ([]*scene.Scene, error) { return drawing.Plan(b, drawing.Options{}) }),
	}
	if m.Building == m.Name {
		m.Building = ""
	}
	shorten(m.First)
	m.Client = client(b, m.First)
	for i := range s.Findings[:min(mostFindings, len(s.Findings))] {
		m.Findings = append(m.Findings, findingOf(b, i))
	}
	m.MoreFindings = len(s.Findings) - len(m.Findings)
	for _, in := range s.Roof.Inputs {
		m.Inputs = append(m.Inputs, [2]string{in.Path, in.Format + ", " + in.Units + ", " + in.Frame})
	}
	return m
}

// Plan returns the plan on the usual sheet, drawn when it is first asked for.
func (m *Model) Plan() ([]*scene.Scene, error) { return m.plan() }

// Heading names the roof in one line, with its building, short id and the date of the survey.
func (m *Model) Heading() string {
	name := m.Name + " (" + m.ID + ")"
	if m.Building != "" {
		name = m.Building + ", " + name
	}
	if m.Surveyed != "" {
		name += ", surveyed " + m.Surveyed
	}
	return name
}

// warnings returns what was left out, moved or assumed, in the order of the steps, each once.
func warnings(b *record.Book) []string {
	var all []string
	for _, list := range [][]string{b.Study.Roof.Warnings, b.Study.Surface.Warnings, b.Study.Warnings} {
		for _, w := range list {
			if !slices.Contains(all, w) {
				all = append(all, w)
			}
		}
	}
	return all
}

// shorten cuts words that no line holds.
func shorten(all []Entry) {
	for _, e := range all {
		for _, list := range [][]string{e.Texts, e.Steps} {
			for i := range list {
				list[i] = record.Short(list[i])
			}
		}
	}
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
	return []string{oneLine(name + ": " + b.Lead().Text), oneLine(held), oneLine("Next: " + cmp.Or(by[FirstOfAll], by["NEXT"])), oneLine("Survey: " + by["SURVEY"]), oneLine(by["LIMIT"])}
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
		{"How sure", b.SayConfidence(i) + kinds(f)},
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
		s += choose.If(i == 0, "; may also be ", ", ")
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
		{"Roof area", u.SayArea(b.Area)},
	}
}
