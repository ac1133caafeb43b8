package correction

import (
	"slices"
	"strings"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/export/record"
)

// Said says what option i does, for people: never the names that programs read.
func (p *Proposal) Said(i int) string { return Said(&p.Result.Options[i]) }

// Said says what an option does in a few words: each kind of its changes once, in their order; of a taper over the whole roof how it falls.
func Said(o *correction.Option) string {
	if o.Gauge != "" {
		text := o.Kind.Phrase() + ", " + o.Gauge
		for i := range o.Changes { // an opening in the deck is told with the boards
			if c := &o.Changes[i]; c.Kind == mend.AddOutlet && !strings.Contains(text, c.Phrase()) {
				text += "; " + c.Phrase()
			}
		}
		return text
	}
	var words []string
	for i := range o.Changes {
		if c := &o.Changes[i]; c.Kind != mend.Clear && !slices.Contains(words, c.Phrase()) {
			words = append(words, c.Phrase())
		}
	}
	if words == nil {
		return o.Kind.Phrase()
	}
	return strings.Join(words, ", ")
}

// drawn names what is drawn: the answer, else what the option does.
func (p *Proposal) drawn() string {
	for i := range p.Result.Answers {
		if a := &p.Result.Answers[i]; a.Option == p.Chosen {
			return record.Small(Title(p.Book, a.Name))
		}
	}
	return p.Said(p.Chosen)
}

// NothingDone says why an answer changes nothing.
func NothingDone(b *record.Book) string {
	if b.Study.LowPlaces != nil {
		return "Nothing is designed before the outlets are surveyed."
	}
	if len(b.Study.Listed) == 0 && (len(b.Study.Findings) == 0 || b.Study.Findings[0].Severity < finding.Repair) {
		return "No pond is listed and nothing calls for repair: nothing is done."
	}
	return "Nothing here mends what was found."
}
