package model

import (
	"fmt"
	"strings"

	"runnel/export/record"
)

// Entry is a word of the first screen, or of a section, with its paragraphs.
type Entry struct {
	Word  string
	Texts []string
	Steps []string // numbered, before the texts
	Start int      // the number of the first step; 0 is 1
}

// Number returns the number of step i.
func (e *Entry) Number(i int) int { return max(1, e.Start) + i }

// FirstOfAll is the word of the entry that begins the first screen where people are to keep off the roof.
const FirstOfAll = "FIRST"

// teller says in sentences what was found, in the reader's units.
type teller struct {
	b *record.Book
	u record.Units
}

func newTeller(b *record.Book) *teller { return &teller{b, b.Units} }

// mostSteps is how many things to do next the first screen names.
const mostSteps = 4

// limit says what none of this says.
const limit = "This does not say that the roof can carry the water. That is for a structural engineer."

// first returns the first screen, in its order: to keep off, where that applies; the worst thing known, what holds it, what to do next, the
// likely mend, how good the survey is, and what none of this says. An entry that has nothing to say is left out.
func (t *teller) first() []Entry {
	lead, ponds := t.b.Lead(), t.b.Ponds()
	var all []Entry
	next := t.next()
	if _, off := t.b.KeepOff(); off {
		all = append(all, Entry{Word: FirstOfAll, Steps: next.Steps[:1]})
		next.Steps, next.Start = next.Steps[1:], 2
	}
	all = append(all, Entry{Word: "STORM", Texts: []string{t.worstStorm()}})
	if lead.Text != ponds {
		all = append(all, Entry{Word: lead.Word, Texts: []string{lead.Text}})
	}
	all = append(all,
		Entry{Word: "PONDS", Texts: []string{strings.TrimSpace(ponds + " " + t.b.Unresolved())}},
		Entry{Word: "HELD BY", Texts: []string{t.heldBy()}},
		Entry{Word: "BLOCKED", Texts: []string{t.blocked(lead)}},
		next,
		Entry{Word: "MEND", Texts: []string{t.mend()}},
		Entry{Word: "SLOPE IN", Texts: []string{t.slopeIsIn()}},
		Entry{Word: "SURVEY", Texts: []string{t.survey()}},
		Entry{Word: "LIMIT", Texts: []string{limit}},
	)
	told := all[:0]
	for _, e := range all {
		if len(e.Steps) > 0 || len(e.Texts) > 0 && e.Texts[0] != "" {
			told = append(told, e)
		}
	}
	return told
}

// blocked says how deep the water stands with every primary outlet blocked under the rain stated, unless the page began with that.
func (t *teller) blocked(lead record.Lead) string {
	if text := t.b.Blocked(); !strings.HasPrefix(lead.Text, text) {
		return text
	}
	return ""
}

// next lists what to do, most urgent first, each thing once.
func (t *teller) next() Entry {
	tasks := t.b.Steps()
	e := Entry{Word: "NEXT"}
	if len(tasks) == 0 {
		e.Texts = []string{record.NoStep}
		return e
	}
	for i := range tasks[:min(mostSteps, len(tasks))] {
		e.Steps = append(e.Steps, tasks[i].Say())
	}
	if more := len(tasks) - mostSteps; more > 0 {
		e.Texts = []string{fmt.Sprintf("and %d more under FINDINGS.", more)}
	}
	return e
}

// assumptions returns what is taken for granted on this roof, one sentence or two each.
func (t *teller) assumptions() []string {
	s := &t.b.Study.Survey
	all := []string{"Between neighbouring points the surface is assumed to run straight. A low place that no spot hit is not seen."}
	if t.b.Study.Storm == nil {
		all = append(all, "Every pond is shown full to its lip. How long water takes to dry is not computed.", "Outlets are assumed to be clear.")
	} else {
		all = append(all, "Outside the storm every pond is shown full to its lip.",
			"Outlets are assumed to be clear, except where a case says that they are blocked.")
	}
	if s.AssumedShare > 0 {
		all = append(all, "Edges without heights take theirs from the nearest spots: "+shareOfRoof(s.AssumedShare)+".")
	}
	if s.EdgesAssumed {
		all = append(all, "No file says what the edges are, so they are assumed to be walls, which water cannot pass.")
	}
	if s.InvertsAssumed > 0 {
		all = append(all, "Outlets without a level are assumed to take water at the lowest surface beside them.")
	}
	if s.Ties > 0 {
		all = append(all, "The surface is made of triangles between points; where four points could be joined in two ways, a fixed rule chose: "+
			record.Plural(s.Ties, "place")+".")
	}
	return all
}

func shareOfRoof(share float64) string { return record.SayShare(share) + " of the roof" }
